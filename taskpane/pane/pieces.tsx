import type { ComponentChildren, JSX } from "preact";
import { useState } from "preact/hooks";
import { Button } from "./form.tsx";
import type { Show } from "./show.ts";
import { WORDS } from "./words.ts";

/** A table; one wider than the pane scrolls in itself, also by keyboard. */
export function Table({
  caption,
  head,
  rows,
  numbers = false,
}: {
  readonly caption: string;
  /** All columns but the first are numbers: right-aligned, their headings with them; the last row is their sum. */
  readonly numbers?: boolean;
  readonly head: readonly string[];
  readonly rows: readonly (readonly ComponentChildren[])[];
}): JSX.Element {
  return (
    <div class="scroll" role="region" aria-label={caption} tabIndex={0}>
      <table class={numbers ? "numbers" : undefined}>
        <caption>{caption}</caption>
        <thead>
          <tr>
            {head.map((text) => (
              <th key={text} scope="col">
                {text}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((cells, row) => (
            <tr key={row}>
              {cells.map((cell, column) =>
                column === 0 ? (
                  <th key={column} scope="row">
                    {cell}
                  </th>
                ) : (
                  <td key={column}>{cell}</td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** Numbers that decide, each with its name. */
export function Figures({
  all,
}: {
  readonly all: readonly (readonly [name: string, value: string, loud?: boolean])[];
}): JSX.Element {
  return (
    <dl class="figures">
      {all.map(([name, value, loud]) => (
        <div key={name} class={loud === true ? "loud" : undefined}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

const AT_ONCE = 50;

/** A list of which the first ones are shown until more are asked for. */
export function Long<T>({
  all,
  one,
  label,
  style = "",
}: {
  readonly all: readonly T[];
  readonly one: (item: T, at: number) => ComponentChildren;
  readonly label: string;
  readonly style?: string;
}): JSX.Element {
  const [most, setMost] = useState(AT_ONCE);
  return (
    <>
      <ol class={`list ${style}`.trim()} aria-label={label}>
        {all.slice(0, most).map((item, at) => (
          <li key={at}>{one(item, at)}</li>
        ))}
      </ol>
      {all.length > most && (
        <Button
          press={() => {
            setMost(most + 4 * AT_ONCE);
          }}
        >
          {WORDS.more(all.length - most)}
        </Button>
      )}
    </>
  );
}

/** Sentences, one a line; blank ones fall away. */
export function Lines({
  all,
  show,
}: {
  readonly all: readonly string[];
  readonly show: Show;
}): JSX.Element {
  return (
    <>
      {all
        .filter((text) => text !== "")
        .map((text) => (
          <p key={text}>{show.said(text)}</p>
        ))}
    </>
  );
}
