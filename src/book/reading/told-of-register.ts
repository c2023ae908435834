import type { Ours, Problem } from "../records/records.ts";
import { matcherFor } from "../headings/match.ts";
import { awayColumns } from "./register/away-columns.ts";
import { blankLimits } from "./limits/blank-limits.ts";
import { besideTables } from "./register/beside-tables.ts";
import { columnQuestions } from "./register/column-questions.ts";
import {
  overwrittenFormulas,
  siteFaults,
  siteless,
  usesMissing,
  valueFaults,
} from "./cell-faults.ts";
import { type Begun, type ReadRegister } from "./begin.ts";
import { datesInStep } from "./misplaced/dates-in-step.ts";
import { devicePairs } from "./devices/device-pairs.ts";
import { deviceRules } from "./remarks/device-rules.ts";
import { footnotes } from "./remarks/footnotes.ts";
import { idleIntervals } from "./limits/idle-limits.ts";
import { retirementsTold } from "./devices/in-use-told.ts";
import { emptyDevices, keyColumns } from "./unread/key-columns.ts";
import { linkedDates } from "./misplaced/linked-dates.ts";
import { namelessLimits } from "./limits/nameless-limits.ts";
import { wordedLimits } from "./limits/own-limit-words.ts";
import { toldOfRow } from "./rows/row-faults.ts";
import type { nameable } from "./devices/devices-in-text.ts";
import { remarksOfOthers } from "./remarks/remarks-of-others.ts";
import { serialsTwice } from "./misplaced/serials-twice.ts";
import { legendNotices } from "./remarks/legends.ts";
import { sharedLimits } from "./limits/shared-limits.ts";
import { shortIntervals } from "./limits/short-intervals.ts";
import { spellingNotices } from "./devices/site-spelling-notices.ts";
import { sheetStatus, statusNotices } from "./devices/status-words.ts";
import { splitDates } from "./register/split-dates.ts";
import { strayComments } from "./remarks/stray-comments.ts";
import { struckDevices } from "./remarks/struck-rows.ts";
import { summaryFaults } from "./register/summaries.ts";
import { unheadedDates } from "./misplaced/unheaded-dates.ts";
import { unusedColumns } from "./unread/unused-columns.ts";
import { strangeDues } from "./limits/strange-dues.ts";

/** Something that is told when its turn comes. */
export type Tell = () => readonly Problem[];

/** What is asked, or told, of a register's columns. */
export function ofColumns(
  { found, fleet: { named }, remarks }: ReadRegister,
  ours: Ours,
): Problem[] {
  const { parts, settings } = ours;
  const notes = footnotes(found, named, { parts, told: remarks.problems });
  // What says something of a device is no signature.
  const said = new Set([...remarks.problems, ...notes].map(({ row }) => row));
  const asking = { matcher: matcherFor(parts), which: settings.positions };
  const asked = [
    ...sharedLimits(found, named, parts),
    ...columnQuestions(found.matching, asking),
    ...found.problems,
    ...notes,
    ...besideTables(found.matching, found.register),
    ...found.notes.map(toldOfRow).filter(({ kind, row }) => kind !== "foot row" || !said.has(row)),
  ];
  const faults = columnsTold(asked.filter(({ severity }) => severity === "fault"));
  const told = columnsTold(asked);
  const heard = new Set(remarks.problems.map(({ row, column }) => `${row} ${column}`));
  const beside = { parts, settings, told: faults, asked: told, heard };
  const unused = unusedColumns(found, named, beside);
  const urgent = columnsTold(unused.filter(({ severity }) => severity === "fault"));
  const nameless = namelessLimits(found, named, { parts, told: new Set([...told, ...urgent]) });
  const spoken = columnsTold([...asked, ...unused, ...nameless]);
  const unheaded = unheadedDates(found, named, { ours, told: spoken });
  return [...asked, ...nameless, ...unheaded, ...unused];
}

/** Columns of which something is told. */
function columnsTold(problems: readonly Problem[]): ReadonlySet<number> {
  return new Set(problems.flatMap(({ column }) => column ?? []));
}

/** What is wrong in the rows of a register. */
export function ofRegister(
  { found, fleet: { named }, devices: dated, remarks, retirements, problems }: ReadRegister,
  { reading: { ours }, registers, sheets }: Begun,
  devices: () => ReturnType<typeof nameable>,
): Tell[] {
  return [
    () => wordedLimits(problems, { found, devices: dated }, ours),
    () => [...emptyDevices(found), ...keyColumns(found, named, ours.parts)],
    () => devicePairs(found, named, ours.parts),
    () => splitDates(found),
    () => awayColumns(found),
    () => linkedDates(found, named),
    () => datesInStep(found, named, ours, problems),
    () => valueFaults(found, named),
    () => (sheets.found.length > 0 ? [] : usesMissing(found, named)),
    () => siteFaults(found, named, ours),
    () => siteless(found, named),
    () => serialsTwice(found, named),
    () => struckDevices(found, named),
    () => spellingNotices(found, named),
    () => retirementsTold(retirements.notes),
    () => overwrittenFormulas(found),
    () => summaryFaults(found),
    () => shortIntervals(found, ours, named),
    () => blankLimits(found, ours, dated),
    () => idleIntervals(found, ours, dated),
    () => strangeDues(found, ours, dated),
    () => legendNotices(found),
    () => remarks.problems,
    () => deviceRules(found, named, ours.parts),
    () => remarksOfOthers(found, named, { devices, parts: ours.parts }),
    () => strayComments(found, ours.parts),
    () => statusNotices(found, named, remarks.problems),
    () => (registers.length > 1 ? sheetStatus(found, named) : []),
  ];
}
