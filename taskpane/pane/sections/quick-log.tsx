import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Entry } from "../../../src/book/day/entry-meant.ts";
import type { DueItem } from "../../../src/book/day/today.ts";
import { unitNamed } from "../../../src/book/records/positions.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import { FINDINGS } from "../../../src/book/sheets/job-log.ts";
import { oneStep } from "../../../src/book/workbook/steps.ts";
import { useAnswer } from "../state/answer.ts";
import { severalLogged } from "../state/entries-request.ts";
import { Button, Input } from "../pieces/form.tsx";
import { Radios, Tick } from "../pieces/ticks.tsx";
import { focusOn } from "../pieces/keep-focus.ts";
import { logRequest } from "../state/log-request.ts";
import type { SectionGiven } from "../pieces/section.ts";
import { Shown } from "../pieces/shown.tsx";
import { dayTyped, typedDay } from "../state/show.ts";
import type { Request } from "../state/state.ts";
import { LATER_WORDS } from "../words/later-words.ts";
import { WORDS } from "../words/words.ts";

const words = LATER_WORDS.log;
/** A finding that was said not to be stated; it is nothing until somebody chooses. */
const NOT_STATED = "not stated";

interface Given extends SectionGiven {
  readonly job: "replaced" | "inspected";
  readonly lines: readonly Pick<DueItem, "device" | "part" | "unit" | "sheet" | "row">[];
  /** Whether the job was written down. */
  readonly close: (isDone: boolean) => void;
}

/** A job for the lines of a list, all of it filled in but what only the person knows. */
export function QuickLog(given: Given): JSX.Element {
  const { state, book, desk, show, job, lines, close } = given;
  const [asked, setAsked] = useState(() => usual(book.reading));
  const [finding, setFinding] = useState("");
  const [byAtFirst] = useState(asked.by);
  const change = (part: Partial<Asked>): void => {
    setAsked((before) => ({ ...before, again: false, ...part }));
  };
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    focusOn(heading.current, heading.current?.parentElement);
  }, []);
  const isReady = job === "replaced" || finding !== "";
  const shown = useAnswer(() => {
    if (!isReady) return oneStep(() => null);
    const said = { ...asked, finding: finding === NOT_STATED ? "" : finding };
    return desk.workOut("today", requestOf(said, given));
  }, [asked, finding, book]);
  const { value } = shown;
  return (
    <form
      class="box"
      aria-labelledby="quick"
      onSubmit={(event) => {
        event.preventDefault();
      }}
    >
      <h3 id="quick" ref={heading} tabIndex={-1}>
        {titleOf(job, lines)}
      </h3>
      {job === "inspected" && <FindingField finding={finding} put={setFinding} />}
      {byAtFirst === "" && <By asked={asked} change={change} />}
      <More {...{ asked, change, job, show }} by={byAtFirst !== ""} />
      {isReady && (
        <Shown proposal={value} trouble={shown.trouble} working={shown.working} show={show} />
      )}
      {state.refusal !== null && state.busy === null && (
        <p class="refused">{show.said(state.refusal)}</p>
      )}
      <Ends
        off={!isReady || state.busy !== null || shown.working || value === null}
        write={() => {
          if (value === null) return;
          void desk.apply(value).then((done) => {
            if (done) close(true);
          });
        }}
        drop={() => {
          close(false);
        }}
      />
    </form>
  );
}

function Ends({
  off,
  write,
  drop,
}: {
  readonly off: boolean;
  readonly write: () => void;
  readonly drop: () => void;
}): JSX.Element {
  return (
    <p class="buttons">
      <Button main off={off} press={write}>
        {words.write}
      </Button>
      <Button press={drop}>{LATER_WORDS.proposal.drop}</Button>
    </p>
  );
}

function FindingField({
  finding,
  put,
}: {
  readonly finding: string;
  readonly put: (finding: string) => void;
}): JSX.Element {
  return (
    <Radios
      flow
      label={words.finding}
      value={finding}
      put={put}
      among={[...FINDINGS, NOT_STATED].map((one): [string, string] => [one, one])}
    />
  );
}

/** One job as Log has it, several together or not at all. */
function requestOf(
  { again, ...said }: Asked & Pick<Entry, "finding">,
  { lines, job, book: { reading }, desk, show }: Given,
): Request {
  const today = desk.host()?.today() ?? reading.ours.settings.reportDate;
  const entries = lines.map((line): Entry => ({ ...said, ...entryOf(line, job, reading) }));
  const [only] = entries;
  return entries.length === 1 && only !== undefined
    ? logRequest(only, { again, today, show })
    : severalLogged(entries, today);
}

type Asked = Pick<Entry, "date" | "by" | "lot" | "note" | "complete"> & { readonly again: boolean };

/** As the last line of the log has it: who works through a list is mostly the same. */
function usual({ ours }: Reading): Asked {
  const by = ours.jobs.at(-1)?.by ?? "";
  return { date: ours.settings.reportDate, by, lot: "", note: "", complete: true, again: false };
}

function titleOf(job: Given["job"], lines: Given["lines"]): string {
  const [only] = lines;
  const what =
    lines.length === 1 && only !== undefined
      ? words.oneLine(only.part, only.device)
      : words.lines(lines.length);
  return `${WORDS.today[job]}: ${what}`;
}

/** What a line says of its job: the row where the device stands in several, and a task is calibrated. */
function entryOf(
  { device, unit, sheet, row }: Given["lines"][number],
  job: Given["job"],
  { ours, devices }: Reading,
): Pick<Entry, "device" | "part" | "job" | "row" | "sheet"> {
  const isTask = unitNamed(ours.parts, unit)?.part.task === true;
  const own = devices.find((one) => one.sheet === sheet && one.row === row);
  const isOne = devices.filter(({ key }) => key === own?.key).length === 1;
  return {
    device,
    part: unit,
    job: job === "replaced" && isTask ? "calibrated" : job,
    ...(isOne ? {} : { row: row + 1, sheet }),
  };
}

interface FieldsGiven {
  readonly asked: Asked;
  readonly change: (part: Partial<Asked>) => void;
}

function By({ asked, change }: FieldsGiven): JSX.Element {
  return (
    <Input
      label={words.by}
      value={asked.by}
      put={(by) => {
        change({ by });
      }}
    />
  );
}

/** What is mostly as it is filled in. */
function More({
  asked,
  change,
  job,
  by,
  show,
}: FieldsGiven & Pick<Given, "job" | "show"> & { readonly by: boolean }): JSX.Element {
  return (
    <details>
      <summary>{words.more(show.day(asked.date), asked.by)}</summary>
      <Input
        type="date"
        label={words.date}
        value={typedDay(asked.date)}
        put={(text) => {
          const date = dayTyped(text);
          if (date !== null) change({ date });
        }}
      />
      {by && <By asked={asked} change={change} />}
      {job === "replaced" && (
        <>
          <Tick
            label={words.complete}
            on={asked.complete}
            put={(complete) => {
              change({ complete });
            }}
          />
          <Input
            label={words.lot}
            value={asked.lot}
            put={(lot) => {
              change({ lot });
            }}
          />
        </>
      )}
      <Input
        label={words.note}
        value={asked.note}
        put={(note) => {
          change({ note });
        }}
      />
      <Tick
        label={words.again}
        on={asked.again}
        put={(again) => {
          change({ again });
        }}
      />
    </details>
  );
}
