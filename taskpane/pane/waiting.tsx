import type { JSX } from "preact";
import type { Answer } from "./answer.ts";
import { WORDS } from "./words.ts";

/** That something is being worked out, or why it cannot be. */
export function Waiting({ answer }: { readonly answer: Answer<unknown> }): JSX.Element | null {
  if (answer.working) return <p class="hint">{WORDS.working}</p>;
  return answer.trouble === null ? null : (
    <p class="note" role="alert">
      {answer.trouble}
    </p>
  );
}
