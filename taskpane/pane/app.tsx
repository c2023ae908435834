import type { FunctionComponent, JSX } from "preact";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { BeginSection } from "./sections/begin.tsx";
import type { Desk } from "./state/desk.ts";
import { Foot } from "./foot.tsx";
import { fetchLater, later } from "./sections/later.tsx";
import { focusOn } from "./pieces/keep-focus.ts";
import type { SectionGiven } from "./pieces/section.ts";
import { type Show, showIn } from "./state/show.ts";
import { type Section, SECTIONS, type State, type Store } from "./state/state.ts";
import { TodaySection } from "./sections/today.tsx";
import { TITLES } from "./state/titles.ts";
import { WORDS } from "./words/words.ts";

const PAGES: Readonly<Record<Exclude<Section, "functions">, FunctionComponent<SectionGiven>>> = {
  today: TodaySection,
  columns: later((pages) => pages.ColumnsSection),
  log: later((pages) => pages.LogSection),
  ahead: later((pages) => pages.AheadSection),
  budget: later((pages) => pages.BudgetSection),
  order: later((pages) => pages.OrderSection),
  share: later((pages) => pages.ShareSection),
  check: later((pages) => pages.CheckSection),
};

const FunctionsSection = later((pages) => pages.FunctionsSection);
const ProposalBox = later((pages) => pages.ProposalBox);
const FaultReport = later((pages) => pages.FaultReport);
const StartupSwitch = later((pages) => pages.StartupSwitch);

/** The pane. */
export function App({ store, desk }: { readonly store: Store; readonly desk: Desk }): JSX.Element {
  const [state, setState] = useState(store.state());
  useEffect(() => {
    setState(store.state());
    return store.subscribe(() => {
      setState(store.state());
    });
  }, [store]);
  const isRead = state.book !== null;
  useEffect(() => {
    // While the person looks at the list the rest is fetched; where that fails, the section itself says so.
    if (isRead) void fetchLater().catch(() => undefined);
  }, [isRead]);
  const locale = desk.host()?.locale ?? "en-GB";
  const show = useMemo(() => showIn(locale), [locale]);
  const { section } = state;
  const opened = useRef(section);
  useEffect(() => {
    if (opened.current !== section) focusOn(document.querySelector<HTMLElement>("#section h2"));
    opened.current = section;
  }, [section]);
  return (
    <>
      <a class="skip" href="#section">
        {WORDS.skip}
      </a>
      <header>
        <h1 class="unseen">{WORDS.name}</h1>
        <Nav state={state} desk={desk} />
      </header>
      <main id="section" tabIndex={-1} aria-busy={state.busy !== null}>
        <Page {...{ state, desk, show }} />
        {state.proposal !== null && (
          <ProposalBox {...{ state, desk, show }} proposal={state.proposal} />
        )}
        {section === "check" && <StartupSwitch desk={desk} />}
        {section === "check" && <FaultReport desk={desk} />}
      </main>
      <Foot {...{ state, desk, show }} />
    </>
  );
}

function Nav({ state, desk }: { readonly state: State; readonly desk: Desk }): JSX.Element {
  return (
    <nav aria-label={WORDS.sections}>
      <ul>
        {SECTIONS.map((section) => (
          <li key={section}>
            <button
              type="button"
              aria-current={state.section === section ? "page" : undefined}
              onClick={() => {
                desk.go(section);
              }}
            >
              {TITLES[section]}
            </button>
          </li>
        ))}
      </ul>
    </nav>
  );
}

function Page({
  state,
  desk,
  show,
}: {
  readonly state: State;
  readonly desk: Desk;
  readonly show: Show;
}): JSX.Element | null {
  const { section, book, trouble } = state;
  if (section === "functions") {
    return (
      <>
        <h2 tabIndex={-1}>{TITLES.functions}</h2>
        <FunctionsSection {...{ state, desk, show }} />
      </>
    );
  }
  if (state.place === "alone") return <p>{WORDS.noWorkbook}</p>;
  if (trouble !== null) return <BeginSection {...{ state, desk, trouble }} />;
  if (book === null) return null;
  const Section = PAGES[section];
  return (
    <>
      <h2 tabIndex={-1}>{TITLES[section]}</h2>
      <Section key={section} {...{ state, book, desk, show }} />
    </>
  );
}
