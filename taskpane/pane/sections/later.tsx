import type { FunctionComponent, JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { onDemand } from "../../on-demand.ts";
import type { Desk } from "../state/desk.ts";
import { Button } from "../pieces/form.tsx";
import type * as LaterPages from "./later-pages.ts";
import { second } from "../state/second.ts";
import { WORDS } from "../words/words.ts";

type Pages = typeof LaterPages;
/** Takes one of them. */
type Pick<P> = (pages: Pages) => FunctionComponent<P>;

const pages = onDemand<Pages>(() => import("./later-pages.ts"));

/** Fetches the sections that are not needed at once; called ahead, so that they are there when asked for. */
export async function fetchLater(): Promise<Pages> {
  const [fetched] = await Promise.all([pages.fetched(), second.fetched()]);
  return fetched;
}

/** Goes on once the rest was fetched; says so where it cannot be had. */
export function onceFetched(desk: Desk, next: (pages: Pages) => void): void {
  fetchLater().then(next, () => {
    desk.say(WORDS.offline);
  });
}

/** A section, or a piece of one, that is shown as soon as it was fetched. */
export function later<P extends object>(pick: Pick<P>): FunctionComponent<P> {
  return (given) => <Later pick={pick as Pick<object>} given={given} />;
}

function Later({
  pick,
  given,
}: {
  readonly pick: Pick<object>;
  readonly given: object;
}): JSX.Element {
  const [here, setHere] = useState(() => (second.there() === null ? null : pages.there()));
  const [failed, setFailed] = useState(false);
  const fetched = (): void => {
    setFailed(false);
    fetchLater().then(setHere, () => {
      setFailed(true);
    });
  };
  useEffect(() => {
    if (here === null) fetched();
  }, []);
  if (here !== null) {
    const Piece = pick(here);
    return <Piece {...given} />;
  }
  if (!failed) return <p class="hint">{WORDS.working}</p>;
  return (
    <>
      <p class="note" role="alert">
        {WORDS.offline}
      </p>
      <Button press={fetched}>{WORDS.again}</Button>
    </>
  );
}
