import type { ComponentChildren, JSX } from "preact";
import { useState } from "preact/hooks";
import { Button } from "./form.tsx";
import type { Show } from "../state/show.ts";
import { WORDS } from "../words/words.ts";

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
