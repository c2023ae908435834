// Only later sections show these: they are fetched with them.
import type { ComponentChildren, JSX } from "preact";

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
