import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Entry } from "../../../src/book/day/entry-meant.ts";
import { eachPosition, partKey, unitNamed } from "../../../src/book/records/positions.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import { FINDINGS, JOBS } from "../../../src/book/sheets/job-log.ts";
import { oneStep } from "../../../src/book/workbook/steps.ts";
import { useAnswer } from "../state/answer.ts";
import { Button, Choice, Input } from "../pieces/form.tsx";
import { Tick } from "../pieces/ticks.tsx";
import { InFoot } from "../pieces/in-foot.tsx";
import { logRequest } from "../state/log-request.ts";
import type { SectionGiven } from "../pieces/section.ts";
import { useSelectedRow } from "../state/selected-row.ts";
import { dayTyped, typedDay } from "../state/show.ts";
import { Shown } from "../pieces/shown.tsx";
import type { Proposal } from "../state/state.ts";
import { LATER_WORDS } from "../words/later-words.ts";

const words = LATER_WORDS.log;
const FORM = "job";

/** One job written down: what would be written stands above the button that writes it. */
export function LogSection({ state, book, desk, show }: SectionGiven): JSX.Element {
  const { reading } = book;
  const { reportDate } = reading.ours.settings;
  const [entry, setEntry] = useState<Entry>(() => usualEntry(reading));
  const [again, setAgain] = useState(false);
  const change = (part: Partial<Entry>): void => {
    setEntry((before) => ({ ...before, ...part }));
    setAgain(false);
  };
  const { asking, take } = useSelectedRow(desk, change);
  const write = async (proposal: Proposal): Promise<void> => {
    if (await desk.apply(proposal))
      change({ device: "", row: null, sheet: null, lot: "", note: "" });
  };
  const today = desk.host()?.today() ?? reportDate;
  const shown = useAnswer(
    () =>
      entry.device === ""
        ? oneStep(() => null)
        : desk.workOut("log", logRequest(entry, { again, today, show })),
    [entry, again, book],
  );
  return (
    <form
      id={FORM}
      onSubmit={(event) => {
        event.preventDefault();
      }}
    >
      <p>{words.lead}</p>
      <EntryFields {...{ entry, change, reading }} take={take} />
      <Tick label={words.again} on={again} put={setAgain} />
      <Shown proposal={shown.value} trouble={shown.trouble} working={shown.working} show={show} />
      <InFoot>
        <Button
          main
          submits={FORM}
          off={state.busy !== null || asking || shown.working || shown.value === null}
          press={() => {
            if (shown.value !== null) void write(shown.value);
          }}
        >
          {words.write}
        </Button>
      </InFoot>
    </form>
  );
}

interface FieldsGiven {
  readonly entry: Entry;
  readonly change: (part: Partial<Entry>) => void;
  readonly reading: Reading;
}

/** More devices than anybody looks through in a list are typed. */
const MOST_LISTED = 300;

function DeviceField({ entry, change, reading }: FieldsGiven): JSX.Element {
  const { devices } = reading;
  const given = {
    label: words.device,
    value: entry.device,
    put: (device: string) => {
      change({ device, row: null, sheet: null });
    },
  };
  return devices.length > MOST_LISTED ? (
    <Input {...given} />
  ) : (
    <Choice {...given} among={[["", words.none], ...plain(devices.map(({ id }) => id))]} />
  );
}

function EntryFields({
  entry,
  change,
  reading,
  take,
}: FieldsGiven & { readonly take: () => void }): JSX.Element {
  return (
    <>
      <div class="row">
        <DeviceField {...{ entry, change, reading }} />
        <Button press={take}>{words.selected}</Button>
      </div>
      <WhatFields {...{ entry, change, reading }} />
      <Input
        type="date"
        label={words.date}
        value={typedDay(entry.date)}
        put={(text) => {
          const date = dayTyped(text);
          if (date !== null) change({ date });
        }}
      />
      <Input
        label={words.by}
        value={entry.by}
        put={(by) => {
          change({ by });
        }}
      />
      <Input
        label={words.note}
        value={entry.note}
        put={(note) => {
          change({ note });
        }}
      />
    </>
  );
}

function WhatFields({ entry, change, reading }: FieldsGiven): JSX.Element {
  const { ours } = reading;
  const isTask = (code: string): boolean => unitNamed(ours.parts, code)?.part.task ?? false;
  const jobs = JOBS.filter((job) => job !== (isTask(entry.part) ? "replaced" : "calibrated"));
  return (
    <>
      <Choice
        label={words.part}
        value={entry.part}
        put={(part) => {
          change({ part, ...jobOf(isTask(part) ? "calibrated" : "inspected") });
        }}
        among={ours.parts
          .flatMap((part) => [...new Set([part, ...eachPosition(part)])])
          .map((part) => [partKey(part), part.name])}
      />
      <Choice
        label={words.job}
        value={entry.job}
        put={(job) => {
          change(jobOf(job));
        }}
        among={plain(jobs)}
      />
      <JobFields {...{ entry, change, reading }} />
    </>
  );
}

/** What belongs to the job alone. */
function JobFields({ entry, change, reading }: FieldsGiven): JSX.Element | null {
  if (entry.job === "inspected") {
    return (
      <Choice
        label={words.finding}
        value={entry.finding}
        put={(finding) => {
          change({ finding });
        }}
        among={[["", words.noFinding], ...plain(FINDINGS)]}
      />
    );
  }
  if (entry.job !== "replaced") return null;
  const isPosition = unitNamed(reading.ours.parts, entry.part)?.part.position !== undefined;
  return (
    <>
      {!isPosition && (
        <Tick
          label={words.complete}
          on={entry.complete}
          put={(complete) => {
            change({ complete });
          }}
        />
      )}
      <Input
        label={words.lot}
        value={entry.lot}
        put={(lot) => {
          change({ lot });
        }}
      />
    </>
  );
}

function plain(list: readonly string[]): [string, string][] {
  return list.map((one) => [one, one]);
}

/** A job with what it usually goes with. */
function jobOf(job: string): Pick<Entry, "job" | "finding" | "complete" | "lot"> {
  return { job, finding: "", complete: job === "replaced", lot: "" };
}

/** The usual inspection, by whoever wrote the last line of the log. */
function usualEntry({ ours, devices }: Reading): Entry {
  const part = ours.parts.find(({ perWeek }) => perWeek > 0) ?? ours.parts[0];
  return {
    date: ours.settings.reportDate,
    device: devices.length === 1 ? (devices[0]?.id ?? "") : "",
    part: part?.code ?? "",
    job: "inspected",
    finding: "",
    complete: false,
    lot: "",
    by: ours.jobs.at(-1)?.by ?? "",
    note: "",
  };
}
