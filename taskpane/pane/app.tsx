import type { FunctionComponent, JSX } from "preact";
import { useEffect, useMemo, useState } from "preact/hooks";
import { BeginSection } from "./begin.tsx";
import type { Desk } from "./desk.ts";
import { FaultReport } from "./fault-report.tsx";
import { Button, Tick } from "./form.tsx";
import { FunctionsSection } from "./functions.tsx";
import { fetchLater, later } from "./later.tsx";
import { DoneBox, ProposalBox } from "./proposal.tsx";
import type { SectionGiven } from "./section.ts";
import { type Show, showIn } from "./show.ts";
import { type Section, SECTIONS, type State, type Store } from "./state.ts";
import { TodaySection } from "./today.tsx";
import { TITLES } from "./titles.ts";
import { WORDS } from "./words.ts";

const PAGES: Readonly<Record<Exclude<Section, "functions">, FunctionComponent<SectionGiven>>> = {
  today: TodaySection,
  columns: later("ColumnsSection"),
  log: later("LogSection"),
  ahead: later("AheadSection"),
  budget: later("BudgetSection"),
  order: later("OrderSection"),
  share: later("ShareSection"),
  check: later("CheckSection"),
};

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
  return (
    <>
      <a class="skip" href="#section">
        {WORDS.skip}
      </a>
      <header>
        <h1>{WORDS.name}</h1>
        <Nav state={state} desk={desk} />
        <Told state={state} desk={desk} />
      </header>
      <main id="section" tabIndex={-1} aria-busy={state.busy !== null}>
        <Page {...{ state, desk, show }} />
        <ProposalBox {...{ state, desk, show }} />
        <DoneBox {...{ state, desk }} />
        {section === "check" && <StartupSwitch desk={desk} />}
        {section === "check" && <FaultReport desk={desk} />}
      </main>
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

/** What runs, what was told last, and what went wrong. */
function Told({ state, desk }: { readonly state: State; readonly desk: Desk }): JSX.Element {
  const { said, busy, refusal, stale, place } = state;
  return (
    <div class="told">
      <p role="status">{place === "starting" ? WORDS.starting : said}</p>
      {busy !== null && (
        <p class="buttons">
          <progress
            aria-label={busy.doing}
            max={1}
            value={busy.share > 0 ? busy.share : undefined}
          />
          {busy.stoppable && <Button press={desk.stop}>{WORDS.stop}</Button>}
        </p>
      )}
      {refusal !== null && refusal !== said && <p class="note">{refusal}</p>}
      {stale && busy === null && (
        <p class="buttons">
          <span>{WORDS.stale}</span>
          <Button press={() => void desk.read()}>{WORDS.readAgain}</Button>
        </p>
      )}
    </div>
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
        <h2>{TITLES.functions}</h2>
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
      <h2>{TITLES[section]}</h2>
      <Section key={section} {...{ state, book, desk, show }} />
    </>
  );
}

/** Whether the pane starts with this workbook, where the host lets that be chosen. */
function StartupSwitch({ desk }: { readonly desk: Desk }): JSX.Element | null {
  const startup = desk.host()?.startup;
  const [on, setOn] = useState<boolean | null>(null);
  useEffect(() => {
    if (startup !== undefined) void desk.ask(() => startup.get()).then(setOn);
  }, [startup]);
  if (startup === undefined || on === null) return null;
  return (
    <Tick
      label={WORDS.startup}
      on={on}
      put={(wanted) => {
        void desk
          .ask(() => startup.set(wanted))
          .then(() => {
            setOn(wanted);
          });
      }}
    />
  );
}
