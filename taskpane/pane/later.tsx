import type { FunctionComponent, JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Desk } from "./desk.ts";
import { Button } from "./form.tsx";
import type { SectionGiven } from "./section.ts";
import type * as LaterPages from "./later-pages.ts";
import { WORDS } from "./words.ts";

type Pages = typeof LaterPages;
/** Those of them that are sections. */
type LaterSection = Extract<keyof Pages, `${string}Section`>;

let pages: Pages | null = null;

/** Fetches the sections that are not needed at once; called ahead, so that they are there when asked for. */
export async function fetchLater(): Promise<Pages> {
  pages ??= await import(/* webpackChunkName: "later" */ "./later-pages.ts");
  return pages;
}

/** Goes on once the rest was fetched; says so where it cannot be had. */
export function onceFetched(desk: Desk, next: (pages: Pages) => void): void {
  fetchLater().then(next, () => {
    desk.say(WORDS.offline);
  });
}

/** A section that is shown as soon as it was fetched. */
export function later(name: LaterSection): FunctionComponent<SectionGiven> {
  return (given) => <Later name={name} given={given} />;
}

function Later({
  name,
  given,
}: {
  readonly name: LaterSection;
  readonly given: SectionGiven;
}): JSX.Element {
  const [here, setHere] = useState(pages);
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
    const Section = here[name];
    return <Section {...given} />;
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
