import type { JSX } from "preact";
import type { Day } from "../../../src/core/day.ts";
import { Legend } from "./legend.tsx";
import { roundUp, Ruled } from "./scale.tsx";
import type { Show } from "../state/show.ts";
import { LATER_WORDS } from "../words/later-words.ts";

/** A month of a chart; limits where there are some. */
export interface Point {
  readonly month: Day;
  readonly amount: number;
  readonly low: number | null;
  readonly high: number | null;
}

interface Given {
  readonly title: string;
  readonly unit: string;
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
const TOP = 20;
const BOTTOM = 30;

/** Months as a line: counted ones solid, expected ones dashed with their band, zero on the axis. */
export function Chart(given: Given): JSX.Element | null {
  const { title, unit, description, history, ahead, mark, level, show } = given;
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
  const bridge = history.at(-1);
  return (
    <figure>
      <figcaption>{title}</figcaption>
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={`${title}. ${description}`}>
        <text x="0" y="9">
          {unit}
        </text>
        <Ruled most={most} left={LEFT} right={WIDTH - RIGHT} y={y} show={show} />
        {all.map(({ month }, at) => (
          <MonthMark key={month} {...{ month, at, show }} x={x(month)} last={all.length - 1} />
        ))}
        {banded.length > 1 && <polygon class="band" points={band} />}
        <line class="mark" x1={x(mark)} x2={x(mark)} y1={TOP} y2={HEIGHT - BOTTOM} />
        <polyline class="history" points={amounts(history)} />
        <polyline
          class="ahead"
          points={amounts(bridge === undefined ? ahead : [bridge, ...ahead])}
        />
      </svg>
      <Legend
        all={[
          ["history", LATER_WORDS.chart.history],
          ["ahead", LATER_WORDS.chart.ahead],
          ...(banded.length > 1 ? [["band", LATER_WORDS.chart.band(level)] as const] : []),
          ["mark", `${LATER_WORDS.chart.mark} ${show.day(mark)}`],
        ]}
      />
    </figure>
  );
}

/** A tick a month; every twelfth, the first among them, says which. */
function MonthMark({
  month,
  at,
  x,
  last,
  show,
}: {
  readonly month: Day;
  readonly at: number;
  readonly x: number;
  readonly last: number;
  readonly show: Show;
}): JSX.Element {
  const isNamed = at % 12 === 0;
  const anchor = at === 0 ? "start" : at > last - 3 ? "end" : "middle";
  return (
    <>
      <line
        class="axis"
        x1={x}
        x2={x}
        y1={HEIGHT - BOTTOM}
        y2={HEIGHT - BOTTOM + (isNamed ? 5 : 3)}
      />
      {isNamed && (
        <text x={x} y={HEIGHT - BOTTOM + 16} text-anchor={anchor}>
          {show.month(month)}
        </text>
      )}
    </>
  );
}
