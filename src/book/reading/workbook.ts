import type { Day } from "../../core/day.ts";
import { type Overrides, readOurs } from "../sheets/ours.ts";
import { bookSteps } from "./read.ts";
import { type Undated, undatedParts } from "./missing-columns.ts";
import { priceOffers } from "./price-list.ts";
import type { ProblemKind } from "../records/problem-kinds.ts";
import { oneForACell } from "../records/problems.ts";
import type { Problem, Reading, Register } from "../records/records.ts";
import { countsUses, speaksOfBabies } from "./count-units.ts";
import { withSwappedJobs } from "./swapped-jobs.ts";
import { sheetNamed, type Snapshot } from "../workbook/snapshot.ts";
import { finished, type Steps } from "../workbook/steps.ts";

/** A whole workbook read, our own sheets first; the way every command and the pane begins. */
export function readWorkbook(snapshot: Snapshot, today: Day, overrides: Overrides = {}): Reading {
  return finished(readingSteps(snapshot, today, overrides));
}

/** The same in steps. */
export function* readingSteps(
  snapshot: Snapshot,
  today: Day,
  overrides: Overrides = {},
): Steps<Reading> {
  const { ours, problems } = withSwappedJobs(snapshot, readOurs(snapshot, today, overrides));
  yield;
  const reading = yield* bookSteps(snapshot, ours);
  const counted = countsAre(snapshot, reading);
  const undated = undatedParts(snapshot, reading);
  return {
    ...reading,
    ours: { ...reading.ours, settings: { ...ours.settings, countsBabies: counted.babies } },
    problems: oneForACell([
      ...problems,
      ...undated.map(({ problem }) => problem),
      ...babyUses(reading),
      ...counted.problems,
      ...priceOffers(snapshot, reading),
      ...oldValues(snapshot),
      ...reading.problems.filter((problem) => !undated.some((one) => isToldBy(one, problem))),
    ]),
  };
}

/**
 * What the counts count. Babies taken for sessions would lengthen every interval, so a sheet that speaks
 * of babies is read as babies until Setup says otherwise.
 */
function countsAre(
  snapshot: Snapshot,
  { ours, counts }: Reading,
): { readonly babies: boolean; readonly problems: readonly Problem[] } {
  const { countsAre: said } = ours.settings;
  if (said !== null) return { babies: said === "babies", problems: [] };
  const sheets = [...new Set(counts.map(({ sheet }) => sheet))];
  const speaking = sheets.filter((name) => {
    const sheet = sheetNamed(snapshot, name);
    return sheet !== null && speaksOfBabies(sheet);
  });
  const problems = speaking.map((sheet) =>
    told("counts are babies", sheet, "notice", [
      `The sheet mentions babies, so its counts are taken as babies, each with ${ours.settings.rescreenFactor} sessions.`,
      "State in Setup, under Counts are, whether they are babies or sessions.",
    ]),
  );
  return { babies: speaking.length > 0, problems };
}

/** Where nothing is calculated by itself, what a formula shows may be that of other inputs. */
function oldValues({ calculation, sheets }: Snapshot): Problem[] {
  const holder = sheets.find(({ formulas }) => formulas.size > 0);
  if (calculation !== "manual" || holder === undefined) return [];
  const problem = told("manual calculation", holder.name, "fault", [
    "This workbook calculates its formulas only when asked, so what they show may be old.",
    "Calculate it (F9), or set it to calculate by itself; then read it again.",
  ]);
  return [problem];
}

function babyUses(reading: Reading): Problem[] {
  return reading.registers.flatMap(babyUsesIn);
}

function babyUsesIn(register: Register): Problem[] {
  const uses = register.matches.find(({ field }) => field === "uses");
  if (uses === undefined || countsUses(uses.heading)) return [];
  const problem = told("no uses a month", register.sheet, "fault", [
    `"${uses.heading}" does not clearly hold uses a month; it is not used, and the shortest interval applies.`,
    "Provide uses a month, or monthly counts on a separate sheet.",
  ]);
  return [{ ...problem, column: uses.column, heading: uses.heading }];
}

/** A column of ours that is empty is reported once, not at every device. */
function isToldBy({ column, problem }: Undated, { kind, ...at }: Problem): boolean {
  return (
    kind === "no date" && column !== null && at.sheet === problem.sheet && at.column === column
  );
}

function told(
  kind: ProblemKind,
  sheet: string,
  severity: Problem["severity"],
  [cause, fix]: readonly [string, string],
): Problem {
  return { kind, sheet, row: null, column: null, heading: "", cause, fix, severity };
}
