import type { JSX } from "preact";
import type { Day } from "../../src/core/day.ts";
import type { Show } from "./show.ts";
import { WORDS } from "./words.ts";

/** A month of a chart; limits where there are some. */
export interface Point {
  readonly month: Day;
  readonly amount: number;
  readonly low: number | null;
  readonly high: number | null;
}

interface Given {
  readonly title: string;
  readonly description: string;
  readonly history: readonly Point[];
  readonly ahead: readonly Point[];
  /** The report date. */
  readonly mark: Day;
  /** Chance that a month lies in the band, in words. */
  readonly level: string;
  readonly show: Show;
}

const WIDTH = 320;
const HEIGHT = 200;
const LEFT = 44;
const RIGHT = 8;
const TOP = 12;
const BOTTOM = 24;
const STEPS = 4;

/** Months as a line: counted ones solid, expected ones dashed with their band, zero on the axis. */
export function Chart(given: Given): JSX.Element | null {
  const { title, description, history, ahead, mark, level, show } = given;
  const all = [...history, ...ahead];
  const [first, last] = [all[0], all.at(-1)];
  if (first === undefined || last === undefined || first === last) return null;
  const most = roundUp(Math.max(...all.map(({ amount, high }) => Math.max(amount, high ?? 0)), 1));
  const x = (month: number): number =>
    LEFT + ((month - first.month) / (last.month - first.month)) * (WIDTH - LEFT - RIGHT);
  const y = (amount: number): number => HEIGHT - BOTTOM - (amount / most) * (HEIGHT - TOP - BOTTOM);
  const line = (points: readonly (readonly [number, number])[]): string =>
    points.map(([month, amount]) => `${x(month).toFixed(1)},${y(amount).toFixed(1)}`).join(" ");
  const amounts = (points: readonly Point[]): string =>
    line(points.map(({ month, amount }) => [month, amount]));
  const banded = ahead.filter(({ low, high }) => low !== null && high !== null);
  const band = line([
    ...banded.map(({ month, high }) => [month, high ?? 0] as const),
    ...[...banded].reverse().map(({ month, low }) => [month, low ?? 0] as const),
  ]);
  const grid = Array.from({ length: STEPS + 1 }, (_, at) => (most / STEPS) * at);
  const bridge = history.at(-1);
  return (
    <figure>
      <figcaption>{title}</figcaption>
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={`${title}. ${description}`}>
        {grid.map((amount) => (
          <g key={amount}>
            <line class="grid" x1={LEFT} x2={WIDTH - RIGHT} y1={y(amount)} y2={y(amount)} />
            <text x={LEFT - 4} y={y(amount) + 4} text-anchor="end">
              {show.number(amount)}
            </text>
          </g>
        ))}
        <text x={LEFT} y={HEIGHT - 6}>
          {show.month(first.month)}
        </text>
        <text x={WIDTH - RIGHT} y={HEIGHT - 6} text-anchor="end">
          {show.month(last.month)}
        </text>
        {banded.length > 1 && <polygon class="band" points={band} />}
        <line class="mark" x1={x(mark)} x2={x(mark)} y1={TOP} y2={HEIGHT - BOTTOM} />
        <polyline class="history" points={amounts(history)} />
        <polyline
          class="ahead"
          points={amounts(bridge === undefined ? ahead : [bridge, ...ahead])}
        />
      </svg>
      <ul class="legend">
        <Key name="history" text={WORDS.chart.history} />
        <Key name="ahead" text={WORDS.chart.ahead} />
        {banded.length > 1 && <Key name="band" text={WORDS.chart.band(level)} />}
        <Key name="mark" text={`${WORDS.chart.mark} ${show.day(mark)}`} />
      </ul>
    </figure>
  );
}

function Key({ name, text }: { readonly name: string; readonly text: string }): JSX.Element {
  return (
    <li>
      <svg class="key" viewBox="0 0 24 12" aria-hidden="true">
        {name === "band" ? (
          <rect class="band" x="1" y="1" width="22" height="10" />
        ) : (
          <line class={name} x1="1" x2="23" y1="6" y2="6" />
        )}
      </svg>
      {text}
    </li>
  );
}

/** The next of 1, 2, 4, 5 or 8 times a power of ten: a scale that parts into four. */
function roundUp(amount: number): number {
  const power = 10 ** Math.floor(Math.log10(amount));
  return ([1, 2, 4, 5, 8, 10].find((step) => step * power >= amount) ?? 10) * power;
}
