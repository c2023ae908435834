import type { ComponentChildren, JSX } from "preact";
import { useId } from "preact/hooks";

/** A field with its name. */
export interface Named {
  readonly label: string;
  readonly hint?: string;
}

/** A field with what is typed into it. */
export interface Typed extends Named {
  readonly value: string;
  readonly put: (value: string) => void;
}

/** Each kind by itself, as the types of the page's elements want it. */
const KINDS = {
  text: { type: "text" },
  number: { type: "number", step: "any" },
  date: { type: "date" },
  month: { type: "month" },
  search: { type: "search" },
} as const;

/** A field of one line: text, number or date. */
export function Input({
  label,
  hint,
  value,
  put,
  type = "text",
}: Typed & { readonly type?: keyof typeof KINDS }): JSX.Element {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        {...KINDS[type]}
        value={value}
        autocomplete="off"
        aria-describedby={hint === undefined ? undefined : `${id}-hint`}
        onInput={(event) => {
          put(event.currentTarget.value);
        }}
      />
      <Hint id={id} text={hint} />
    </div>
  );
}

/** One of several. */
export function Choice({
  label,
  hint,
  value,
  put,
  among,
}: Typed & { readonly among: readonly (readonly [value: string, text: string])[] }): JSX.Element {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <select
        id={id}
        aria-describedby={hint === undefined ? undefined : `${id}-hint`}
        onChange={(event) => {
          put(event.currentTarget.value);
        }}
      >
        {among.map(([one, text]) => (
          <option key={one} value={one} selected={one === value}>
            {text}
          </option>
        ))}
      </select>
      <Hint id={id} text={hint} />
    </div>
  );
}

function Hint({ id, text }: { readonly id: string; readonly text: string | undefined }) {
  return text === undefined ? null : (
    <small id={`${id}-hint`} class="hint">
      {text}
    </small>
  );
}

/** A button; `main` is the one a section ends with. Off, it stays where the keyboard can find it. */
export function Button({
  press,
  main = false,
  off = false,
  submits,
  children,
}: {
  readonly press: () => void;
  /** The form it belongs to: Enter in any of its fields presses it. */
  readonly submits?: string;
  readonly main?: boolean;
  readonly off?: boolean;
  readonly children: ComponentChildren;
}): JSX.Element {
  return (
    <button
      type={submits === undefined ? "button" : "submit"}
      form={submits}
      class={main ? "main" : undefined}
      aria-disabled={off ? "true" : undefined}
      onClick={(event) => {
        event.preventDefault();
        if (!off) press();
      }}
    >
      {children}
    </button>
  );
}
