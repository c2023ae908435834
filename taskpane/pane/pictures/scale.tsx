import type { JSX } from "preact";
import type { Show } from "../state/show.ts";

const STEPS = 4;

/** The next of 1, 2, 4, 5 or 8 times a power of ten: a scale that parts into four. */
export function roundUp(amount: number): number {
  const power = 10 ** Math.floor(Math.log10(amount));
  return ([1, 2, 4, 5, 8, 10].find((step) => step * power >= amount) ?? 10) * power;
}

/** The lines of a scale from zero, each with its amount. */
export function Ruled({
  most,
  left,
  right,
  y,
  show,
}: {
  readonly most: number;
  readonly left: number;
  readonly right: number;
  readonly y: (amount: number) => number;
  readonly show: Show;
}): JSX.Element {
  const digits = most < STEPS ? 1 : 0;
  return (
    <>
      {Array.from({ length: STEPS + 1 }, (_, at) => (most / STEPS) * at).map((amount) => (
        <g key={amount}>
          <line
            class={amount === 0 ? "axis" : "grid"}
            x1={left}
            x2={right}
            y1={y(amount)}
            y2={y(amount)}
          />
          {(amount % 1 === 0 || digits > 0) && (
            <text x={left - 4} y={y(amount) + 4} text-anchor="end">
              {show.number(amount, amount % 1 === 0 ? 0 : digits)}
            </text>
          )}
        </g>
      ))}
    </>
  );
}
