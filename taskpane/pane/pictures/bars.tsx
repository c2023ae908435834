import type { JSX } from "preact";
import { roundUp, Ruled } from "./scale.tsx";
import type { Show } from "../state/show.ts";

/** A column of a chart of columns. */
export interface Bar {
  readonly label: string;
  /** A second line below the label. */
  readonly under?: string;
  readonly amount: number;
  /** The value beside it, "" where it does not matter. */
  readonly text: string;
  readonly low?: number;
  readonly high?: number;
  /** What it was a year before. */
  readonly past?: number | null;
  /** What it would be without what is assumed. */
  readonly before?: number | null;
}

const WIDTH = 320;
const HEIGHT = 168;
const LEFT = 34;
const TOP = 24;
const BOTTOM = 30;

/** Columns from zero: last year's behind, limits as a line, what was before as a dashed edge. */
export function Bars({
  title,
  unit,
  description,
  bars,
  show,
}: {
  readonly title: string;
  readonly unit: string;
  /** The picture in a sentence. */
  readonly description: string;
  readonly bars: readonly Bar[];
  readonly show: Show;
}): JSX.Element {
  const most = roundUp(
    Math.max(
      1,
      ...bars.flatMap((one) => [one.amount, one.high ?? 0, one.past ?? 0, one.before ?? 0]),
    ),
  );
  const y = (amount: number): number => HEIGHT - BOTTOM - (amount / most) * (HEIGHT - TOP - BOTTOM);
  const step = (WIDTH - LEFT - 4) / bars.length;
  return (
    <figure>
      <figcaption>{title}</figcaption>
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={`${title}. ${description}`}>
        <text x="0" y="11">
          {unit}
        </text>
        <Ruled most={most} left={LEFT} right={WIDTH - 4} y={y} show={show} />
        {bars.map((bar, at) => (
          <Column key={at} bar={bar} x={LEFT + step * at} step={step} y={y} />
        ))}
      </svg>
    </figure>
  );
}

function Column({
  bar,
  x,
  step,
  y,
}: {
  readonly bar: Bar;
  readonly x: number;
  readonly step: number;
  readonly y: (amount: number) => number;
}): JSX.Element {
  const { label, under, amount, text, low, high, past = null, before = null } = bar;
  const middle = x + step / 2;
  const wide = Math.min(step * 0.84, 40);
  const narrow = wide * 0.6;
  const block = (name: string, value: number, width: number): JSX.Element => (
    <rect class={name} x={middle - width / 2} y={y(value)} width={width} height={y(0) - y(value)} />
  );
  return (
    <g>
      {past !== null && past > 0 && block("past", past, wide)}
      {amount > 0 && block("bar", amount, narrow)}
      {high !== undefined && low !== undefined && high > low && (
        <line class="limits" x1={middle} x2={middle} y1={y(low)} y2={y(high)} />
      )}
      {before !== null && (
        <line
          class="before"
          x1={middle - wide / 2}
          x2={middle + wide / 2}
          y1={y(before)}
          y2={y(before)}
        />
      )}
      {text !== "" && (
        <text
          class="value"
          x={middle}
          y={y(Math.max(amount, high ?? 0, past ?? 0, before ?? 0)) - 3}
          text-anchor="middle"
        >
          {text}
        </text>
      )}
      <text x={middle} y={y(0) + 13} text-anchor="middle">
        {label}
      </text>
      {under !== undefined && (
        <text x={middle} y={y(0) + 25} text-anchor="middle">
          {under}
        </text>
      )}
    </g>
  );
}
