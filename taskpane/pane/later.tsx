import type { FunctionComponent, JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { Button } from "./form.tsx";
import type { SectionGiven } from "./section.ts";
import type * as YearPages from "./year-pages.ts";
import { WORDS } from "./words.ts";

type Pages = typeof YearPages;

let pages: Pages | null = null;

/** Fetches the sections that are not needed at once; called ahead, so that they are there when asked for. */
export async function fetchLater(): Promise<Pages> {
  pages ??= await import(/* webpackChunkName: "year" */ "./year-pages.ts");
  return pages;
}

/** A section that is shown as soon as it was fetched. */
export function later(name: keyof Pages): FunctionComponent<SectionGiven> {
  return (given) => <Later name={name} given={given} />;
}

function Later({
  name,
  given,
}: {
  readonly name: keyof Pages;
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
