import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Answer } from "../state/answer.ts";
import { Button } from "./form.tsx";
import { WORDS } from "../words/words.ts";

/** Milliseconds after which somebody may want to stop what is being worked out. */
const LONG = 1000;

/** That something is being worked out, or why it cannot be. */
export function Waiting({ answer }: { readonly answer: Answer<unknown> }): JSX.Element | null {
  const { working, trouble, stop, again } = answer;
  if (working) return <Working stop={stop} />;
  if (trouble === null) return null;
  return (
    <>
      <p class="note" role="alert">
        {trouble}
      </p>
      {again !== null && <Button press={again}>{WORDS.again}</Button>}
    </>
  );
}

/** What takes longer than a moment says that it goes on, and can be stopped. */
function Working({ stop }: { readonly stop: () => void }): JSX.Element {
  const [isLong, setLong] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => {
      setLong(true);
    }, LONG);
    return () => {
      clearTimeout(timer);
    };
  }, []);
  return (
    <p class="buttons">
      <span class="hint">{WORDS.working}</span>
      {isLong && (
        <>
          <progress aria-label={WORDS.working} />
          <Button press={stop}>{WORDS.stop}</Button>
        </>
      )}
    </p>
  );
}
