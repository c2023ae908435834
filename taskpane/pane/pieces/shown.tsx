import type { JSX } from "preact";
import { Lines } from "./pieces.tsx";
import type { Show } from "../state/show.ts";
import type { Proposal } from "../state/state.ts";
import { LATER_WORDS } from "../words/later-words.ts";

/** What recording a job would do, or why it cannot be recorded. */
export function Shown({
  proposal,
  trouble,
  working,
  show,
}: {
  readonly proposal: Proposal | null;
  readonly trouble: string | null;
  readonly working: boolean;
  readonly show: Show;
}): JSX.Element {
  return (
    <section
      class="box"
      aria-live="polite"
      aria-busy={working}
      aria-label={LATER_WORDS.proposal.title}
    >
      {trouble !== null && <p class="refused">{show.said(trouble)}</p>}
      {proposal !== null && (
        <>
          <Lines all={proposal.notes} show={show} />
          <details>
            <summary>{LATER_WORDS.proposal.title}</summary>
            <ul>
              {proposal.lines.map((line, at) => (
                <li key={at}>{line}</li>
              ))}
            </ul>
          </details>
        </>
      )}
      {trouble === null && proposal === null && <p>{LATER_WORDS.log.none}</p>}
    </section>
  );
}
