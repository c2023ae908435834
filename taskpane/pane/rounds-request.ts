import { type Entries, logEntries, placedText } from "../../src/book/day/entries.ts";
import { roundLines } from "../../src/book/day/round-lines.ts";
import { resultPlan } from "../../src/book/sheets/result-plan.ts";
import { BookError } from "../../src/book/workbook/errors.ts";
import { oneStep } from "../../src/book/workbook/steps.ts";
import type { Day } from "../../src/core/day.ts";
import { logSheetStep, refreshStep } from "./requests.ts";
import type { Opened, Request, Step } from "./state.ts";
import { WORDS } from "./words.ts";

/** What was typed into the workbook's round sheets, logged; nothing where a line is refused, with all reasons. */
export function roundsLogged(today: Day): Request {
  let found: Entries | null = null;
  const write: Step = ({ snapshot, reading }) =>
    oneStep(() => {
      found = judged({ snapshot, reading });
      return found.logged.length === 0
        ? { summary: WORDS.nothing, edits: [] }
        : resultPlan(snapshot, reading, { ...found.change, today });
    });
  return {
    steps: [logSheetStep(today), write, refreshStep(today)],
    notes: () => (found === null ? [] : notesOf(found)),
  };
}

function judged({ snapshot, reading }: Opened): Entries {
  const read = roundLines(snapshot, reading.ours.parts);
  const entries = logEntries(snapshot, reading, read.lines);
  const refused = [...read.refused, ...entries.refused];
  if (refused.length === 0) return entries;
  throw new BookError(refused.map(({ where, why }) => `${where}: ${why}`).join("\n"));
}

function notesOf({ logged, there }: Entries): string[] {
  return [
    ...logged.map(placedText),
    ...there.map((one) => WORDS.share.alreadyLogged(placedText(one))),
    ...logged.flatMap(({ judged: { notes } }) => notes),
  ];
}
