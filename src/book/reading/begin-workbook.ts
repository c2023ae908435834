import type { Day } from "../../core/day.ts";
import { wholeSheet } from "../records/problems.ts";
import type { Problem, Reading } from "../records/records.ts";
import { type Overrides, readOurs } from "../sheets/ours.ts";
import { type Sheet, sheetNamed, type Snapshot } from "../workbook/snapshot.ts";
import type { Steps } from "../workbook/steps.ts";
import { type Asked, type Begun, beginBook } from "./begin.ts";
import { speaksOfBabies } from "./counts/count-units.ts";
import { faultLater } from "./told/told-later.ts";
import type { Written } from "./jobs/swapped-jobs.ts";

/** A whole workbook whose records are read, our own sheets first. */
export interface BegunWorkbook extends Begun {
  /** What is told of our own sheets. */
  readonly oursProblems: readonly Problem[];
  /** What is told of the workbook as a whole. */
  readonly wholeProblems: readonly Problem[];
  /** Sheets whose counts are taken for babies by what they say. */
  readonly ofBabies: readonly string[];
}

/** What a reading of a whole workbook asks besides. */
export interface AskedOfWorkbook extends Asked {
  /** Hears what is wrong with the days of jobs in the Job log, and what is written beside them, where there are some. */
  readonly jobNotes: (snapshot: Snapshot, written: Written) => Written;
}

/** Reads the records of a workbook, in steps; of what cannot be trusted that which touches every figure. */
export function* beginWorkbook(
  snapshot: Snapshot,
  today: Day,
  overrides: Overrides,
  asked: AskedOfWorkbook,
): Steps<BegunWorkbook> {
  const plain = readOurs(snapshot, today, overrides);
  const written = plain.ours.jobs.length > 0 ? asked.jobNotes(snapshot, plain) : plain;
  const { ours, problems: oursProblems } = written;
  yield;
  const begun = yield* beginBook(snapshot, ours, asked);
  const { reading } = begun;
  const { countsAre } = ours.settings;
  const ofBabies = countsAre === null ? sheetsOfBabies(snapshot, reading) : [];
  const countsBabies = countsAre === "babies" || ofBabies.length > 0;
  const settings = { ...ours.settings, countsBabies };
  const old = oldValues(snapshot);
  return {
    ...begun,
    reading: {
      ...reading,
      ours: { ...reading.ours, settings },
      problems: [...old, ...reading.problems],
    },
    oursProblems,
    wholeProblems: old,
    ofBabies,
  };
}

/**
 * What the counts count. Babies taken for sessions would lengthen every interval, so a sheet that speaks
 * of babies is read as babies until Setup says otherwise.
 */
function sheetsOfBabies(snapshot: Snapshot, { counts }: Reading): string[] {
  const sheets = [...new Set(counts.map(({ sheet }) => sheet))];
  return sheets.filter((name) => {
    const sheet = sheetNamed(snapshot, name);
    return sheet !== null && speaksOfBabies(titlesIn(sheet));
  });
}

/** Rows in which a counts sheet says what it counts. */
const TITLE_ROWS = 8;

function titlesIn({ name, values }: Sheet): string[] {
  const cells = values.slice(0, TITLE_ROWS).flat();
  return [name, ...cells.filter((value) => typeof value === "string")];
}

/** Where nothing is calculated by itself, what a formula shows may be that of other inputs. */
function oldValues({ calculation, sheets }: Snapshot): Problem[] {
  const holder = sheets.find(({ formulas }) => formulas.size > 0);
  if (calculation !== "manual" || holder === undefined) return [];
  return [faultLater("manual calculation", wholeSheet(holder.name), "oldFormulas")];
}
