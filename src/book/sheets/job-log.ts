import { answered } from "../languages/answers.ts";
import { findingText } from "../records/finding-words.ts";
import { deviceKey } from "../records/device-key.ts";
import { saysInspected } from "../records/inspection-words.ts";
import { movingJob } from "../records/problems.ts";
import type { Job, Problem } from "../records/records.ts";
import { keyOf } from "../workbook/cells.ts";
import { cellKey, type CellValue, type Sheet, type Snapshot } from "../workbook/snapshot.ts";
import {
  cellsOf,
  columnsIn,
  date,
  type InputColumn,
  type InputColumns,
  meant,
  text,
  UNHEARD,
  word,
} from "./column.ts";
import { inputRows, toldOf } from "./input-rows.ts";
import { headingColumn, type Layout, textOf, YES_NO } from "./layout.ts";

/** Jobs a log row can be. */
export const JOBS = ["inspected", "replaced", "calibrated", "withdrawn", "returned"] as const;

/** Findings of an inspection; all but clean and other end the part's life that day. */
export const FINDINGS = ["clean", "residue", "corrosion", "crack", "hardened", "other"] as const;

/** What a row says, without its place. */
type Entry = Omit<Job, "sheet" | "row" | "deviceKey">;

const JOB_COLUMNS: InputColumns<Entry> = {
  date: date({
    readsText: false,
    heading: "Date",
    width: 12,
    choices: { kind: "date", from: "DATE(2000,1,1)", to: "TODAY()" },
    carefully: "the job is not counted",
  }),
  device: text({ heading: "Device", width: 16, inPlace: true }),
  part: text({ heading: "Part", width: 24, inPlace: true }),
  job: jobWord(
    word({
      heading: "Job",
      width: 12,
      inPlace: true,
      choices: { kind: "list", values: JOBS },
    }),
  ),
  finding: {
    ...word({
      heading: "Finding",
      width: 12,
      choices: { kind: "list", values: FINDINGS },
    }),
    inPlace: true,
    // A cell that shows an error is no clean part.
    hear: (value) => meant(keyOf(findingText(value))),
  },
  complete: {
    heading: "Complete set",
    width: 12,
    choices: YES_NO,
    must: "yes or no",
    hear: (value) => {
      const complete = completeness(textOf(value).toLowerCase());
      return complete === undefined || (typeof value === "object" && value !== null)
        ? UNHEARD
        : meant(complete);
    },
    careful: () => false,
    carefully: "the job does not count as complete",
    cell: (complete) => (complete === null ? null : complete ? "yes" : "no"),
  },
  lot: text({ heading: "Lot", width: 14 }),
  by: text({ heading: "By", width: 10 }),
  note: text({ heading: "Note", width: 30 }),
};

/** "Inspection" and its like are inspections. */
function jobWord(column: InputColumn<string>): InputColumn<string> {
  return {
    ...column,
    hear: (value, system) => {
      const heard = column.hear(value, system);
      return heard.as === "meant" && saysInspected(heard.value) ? meant("inspected") : heard;
    },
  };
}

/** The Job log sheet: one row a job done. */
export const JOB_LOG: Layout = {
  name: "Job log",
  title: "Job log",
  table: "SpareJobLog",
  room: 20000,
  columns: columnsIn(JOB_COLUMNS),
};

/** The cells of a job, in the order of the columns. */
export function jobCells(entry: Entry, dateSystem: Snapshot["dateSystem"]): CellValue[] {
  return cellsOf(JOB_COLUMNS, entry, dateSystem);
}

/** The jobs of a Job log; a date that a formula moves on by itself is no day of a job. */
export function readJobs(
  sheet: Sheet,
  dateSystem: Snapshot["dateSystem"],
  isMoving: (key: number) => boolean = () => false,
): { readonly jobs: readonly Job[]; readonly problems: readonly Problem[] } {
  const rows = inputRows(sheet, JOB_LOG, JOB_COLUMNS, dateSystem);
  const { heading } = JOB_COLUMNS.date;
  const column = headingColumn(sheet, heading);
  const moving = new Set(
    rows.flatMap(({ row }) => (column !== null && isMoving(cellKey(row, column)) ? row : [])),
  );
  const jobs = rows.map(({ row, record, doubts }) => {
    // Text is never used as the day of a job, even where its meaning is certain: a job that is not counted
    // shortens.
    const date = doubts.has("date") || moving.has(row) ? null : record.date;
    return { sheet: sheet.name, row, ...record, date, deviceKey: deviceKey(record.device) };
  });
  const moved = [...moving].map((row) => movingJob({ sheet: sheet.name, row, column, heading }));
  return { jobs, problems: [...moved, ...toldOf(rows)] };
}

/** Whether the set was complete; undefined for a word that says neither. */
function completeness(said: string): boolean | null | undefined {
  if (said === "") return null;
  if (["true", "1"].includes(said)) return true;
  return ["false", "0"].includes(said) ? false : (answered(said) ?? undefined);
}
