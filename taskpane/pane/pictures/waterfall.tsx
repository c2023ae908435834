import type { JSX } from "preact";
import type { BridgeStep } from "../../../src/book/budget/bridge.ts";
import type { Show } from "../state/show.ts";

const WIDTH = 320;
const ROW = 30;
const BAR = 10;
const ROOM = 8;

interface Fall {
  readonly step: string;
  readonly amount: number;
  readonly from: number;
  readonly to: number;
  /** The first and the last stand on zero. */
  readonly whole: boolean;
}

/** From one sum to another, a step a line: each begins where the one before it ended, and the last reaches the total. */
export function Waterfall({
  title,
  description,
  steps,
  total,
  show,
}: {
  readonly title: string;
  readonly description: string;
  /** The first is a sum, the others changes of it. */
  readonly steps: readonly BridgeStep[];
  readonly total: Pick<BridgeStep, "step" | "amount">;
  readonly show: Show;
}): JSX.Element {
  const falls = fallsOf(steps, total);
  const ends = falls.flatMap(({ from, to }) => [from, to]);
  const [least, most] = [Math.min(0, ...ends), Math.max(1, ...ends)];
  const x = (amount: number): number =>
    ROOM + ((amount - least) / (most - least)) * (WIDTH - 2 * ROOM);
  return (
    <figure>
      <figcaption>{title}</figcaption>
      <svg
        viewBox={`0 0 ${WIDTH} ${falls.length * ROW + 4}`}
        role="img"
        aria-label={`${title}. ${description}`}
      >
        <line class="axis" x1={x(0)} x2={x(0)} y1="0" y2={falls.length * ROW} />
        {falls.map(({ step, amount, from, to, whole }, at) => {
          const y = at * ROW + 14;
          const name = whole ? "bar" : amount < 0 ? "low" : "past";
          return (
            <g key={step}>
              <text x={ROOM + 4} y={y - 3} class={whole ? "value" : undefined}>
                {step}
              </text>
              <text
                x={WIDTH - ROOM}
                y={y - 3}
                text-anchor="end"
                class={whole ? "value" : undefined}
              >
                {whole ? show.money(amount) : signed(amount, show)}
              </text>
              <rect
                class={name}
                x={x(Math.min(from, to))}
                y={y}
                width={Math.max(1, Math.abs(x(to) - x(from)))}
                height={BAR}
              />
              {at < falls.length - 1 && (
                <line class="join" x1={x(to)} x2={x(to)} y1={y + BAR} y2={y + ROW} />
              )}
            </g>
          );
        })}
      </svg>
    </figure>
  );
}

/** Steps that change nothing are left out of the picture. */
function fallsOf(
  [first, ...rest]: readonly BridgeStep[],
  total: Pick<BridgeStep, "step" | "amount">,
): Fall[] {
  let at = first?.amount ?? 0;
  const falls = rest.map(({ step, amount }): Fall => {
    const from = at;
    at += amount;
    return { step, amount, from, to: at, whole: false };
  });
  const whole = ({ step, amount }: Pick<BridgeStep, "step" | "amount">): Fall => ({
    step,
    amount,
    from: 0,
    to: amount,
    whole: true,
  });
  return [
    ...(first === undefined ? [] : [whole(first)]),
    ...falls.filter(({ amount }) => amount !== 0),
    whole(total),
  ];
}

function signed(amount: number, show: Show): string {
  return `${amount < 0 ? "−" : "+"}${show.money(Math.abs(amount))}`;
}
