import type { JSX } from "preact";

/** What a chart's signs stand for. */
export function Legend({
  all,
}: {
  readonly all: readonly (readonly [sign: string, text: string])[];
}): JSX.Element {
  return (
    <ul class="legend">
      {all.map(([sign, text]) => (
        <li key={sign}>
          <svg class="key" viewBox="0 0 24 12" aria-hidden="true">
            {BLOCKS.has(sign) ? (
              <rect class={sign} x="1" y="1" width="22" height="10" />
            ) : (
              <line class={sign} x1="1" x2="23" y1="6" y2="6" />
            )}
          </svg>
          {text}
        </li>
      ))}
    </ul>
  );
}

/** Signs that are areas; all others are lines. */
const BLOCKS: ReadonlySet<string> = new Set(["band", "bar", "past", "low"]);
