import type { JSX } from "preact";
import type { Desk } from "./state/desk.ts";
import { Button } from "./pieces/form.tsx";
import { ACTS } from "./pieces/in-foot.tsx";
import { SAID } from "./pieces/keep-focus.ts";
import type { Show } from "./state/show.ts";
import type { State } from "./state/state.ts";
import { WORDS } from "./words/words.ts";

/** The bar that is always in view: what runs, what just happened, Undo, refusals, and the section's main button. */
export function Foot({
  state,
  desk,
  show,
}: {
  readonly state: State;
  readonly desk: Desk;
  readonly show: Show;
}): JSX.Element {
  const { busy, refusal, stale, done, proposal } = state;
  const refused = refusal !== null && busy === null;
  const canUndo = done.length > 0 && proposal === null && busy === null;
  return (
    <footer class="foot">
      <div class="row">
        <p id={SAID} role="status" tabIndex={-1} class={refused ? "refused" : undefined}>
          {show.said(told(state))}
        </p>
        {canUndo && <Button press={() => void desk.takeBack()}>{WORDS.takeBack}</Button>}
      </div>
      {busy !== null && (
        <p class="row">
          <progress
            aria-label={busy.doing}
            max={1}
            value={busy.share > 0 ? busy.share : undefined}
          />
          {busy.stoppable && <Button press={desk.stop}>{WORDS.stop}</Button>}
        </p>
      )}
      {stale && busy === null && (
        <p class="row">
          <span class="hint">{WORDS.stale}</span>
          <Button press={() => void desk.read()}>{WORDS.readAgain}</Button>
        </p>
      )}
      <div id={ACTS} />
    </footer>
  );
}

/** The refusal, the last thing told, or the change that Undo would undo. */
function told({ place, said, refusal, busy, done }: State): string {
  if (place === "starting") return WORDS.starting;
  if (refusal !== null && busy === null) return refusal;
  const [last] = done;
  if (said === "" && busy !== null) return busy.doing;
  return said === "" && last !== undefined ? WORDS.applied(last.summary) : said;
}
