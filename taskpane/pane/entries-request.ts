import {
  type Entries,
  type LineRefused,
  logEntries,
  type PlacedEntry,
  placedText,
} from "../../src/book/day/entries.ts";
import type { Entry } from "../../src/book/day/entry-meant.ts";
import { resultPlan } from "../../src/book/sheets/result-plan.ts";
import { BookError } from "../../src/book/workbook/errors.ts";
import { oneStep } from "../../src/book/workbook/steps.ts";
import type { Day } from "../../src/core/day.ts";
import { logSheetStep, refreshStep } from "./requests.ts";
import type { Opened, Request, Step } from "./state.ts";
import { WORDS } from "./words.ts";

/** Lines to log, and those that could not be read. */
interface LinesRead {
  readonly lines: readonly PlacedEntry[];
  readonly refused: readonly LineRefused[];
}

/** Several jobs logged together; nothing where one is refused, with all reasons. */
export function entriesRequest(read: (opened: Opened) => LinesRead, today: Day): Request {
  let found: Entries | null = null;
  const write: Step = (opened) =>
    oneStep(() => {
      found = judged(opened, read(opened));
      return found.logged.length === 0
        ? { summary: WORDS.nothing, edits: [] }
        : resultPlan(opened.snapshot, opened.reading, { ...found.change, today });
    });
  return {
    steps: [logSheetStep(today), write, refreshStep(today)],
    notes: () => (found === null ? [] : notesOf(found)),
  };
}

/** Jobs of the lines of a list. */
export function severalLogged(entries: readonly Entry[], today: Day): Request {
  const lines = entries.map((entry) => ({
    where: WORDS.log.oneLine(entry.part, entry.device),
    entry,
  }));
  return entriesRequest(() => ({ lines, refused: [] }), today);
}

function judged({ snapshot, reading }: Opened, read: LinesRead): Entries {
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
