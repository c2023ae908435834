// Only later sections show these: they are fetched with them.
import type { JSX } from "preact";
import { useId } from "preact/hooks";
import type { Named, Typed } from "./form.tsx";

/** One of several, all in sight. */
export function Radios({
  label,
  value,
  put,
  among,
  flow = false,
}: Typed & {
  /** Side by side where there is room. */
  readonly flow?: boolean;
  readonly among: readonly (readonly [value: string, text: string, hint?: string])[];
}): JSX.Element {
  const name = useId();
  return (
    <fieldset class={flow ? "flow" : undefined}>
      <legend>{label}</legend>
      {among.map(([one, text, hint]) => (
        <label key={one} class="tick">
          <input
            type="radio"
            name={name}
            value={one}
            checked={one === value}
            onChange={() => {
              put(one);
            }}
          />
          <span>
            {text}
            {hint !== undefined && <small class="hint">{hint}</small>}
          </span>
        </label>
      ))}
    </fieldset>
  );
}

/** Yes or no. */
export function Tick({
  label,
  on,
  put,
}: Named & { readonly on: boolean; readonly put: (on: boolean) => void }): JSX.Element {
  return (
    <label class="tick">
      <input
        type="checkbox"
        checked={on}
        onChange={(event) => {
          put(event.currentTarget.checked);
        }}
      />
      <span>{label}</span>
    </label>
  );
}
