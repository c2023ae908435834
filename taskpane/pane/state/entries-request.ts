import {
  type Entries,
  type LineRefused,
  logEntries,
  type PlacedEntry,
  placedText,
} from "../../../src/book/day/entries.ts";
import type { Entry } from "../../../src/book/day/entry-meant.ts";
import { resultPlan } from "../../../src/book/sheets/result-plan.ts";
import { BookError } from "../../../src/book/workbook/errors.ts";
import { oneStep } from "../../../src/book/workbook/steps.ts";
import type { Day } from "../../../src/core/day.ts";
import { logSheetStep, refreshStep } from "./requests.ts";
import type { Opened, Request, Step } from "./state.ts";
import { LATER_WORDS } from "../words/later-words.ts";
import { WORDS } from "../words/words.ts";

/** Lines to log, and those that could not be read. */
interface LinesRead {
  readonly lines: readonly PlacedEntry[];
  readonly refused: readonly LineRefused[];
}

/** What is told of the jobs that will be logged. */
type Told = (logged: Entries["logged"]) => readonly string[];

/** Several jobs logged together; nothing where one is refused, with all reasons. */
export function entriesRequest(
  read: (opened: Opened) => LinesRead,
  today: Day,
  told: Told = eachTold,
): Request {
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
    notes: () => (found === null ? [] : notesOf(found, told)),
  };
}

/** Jobs of the lines of a list, which stand ticked before the person: their number is told. */
export function severalLogged(entries: readonly Entry[], today: Day): Request {
  const lines = entries.map((entry) => ({
    where: LATER_WORDS.log.oneLine(entry.part, entry.device),
    entry,
  }));
  return entriesRequest(
    () => ({ lines, refused: [] }),
    today,
    (logged) => [LATER_WORDS.log.jobs(logged.length)],
  );
}

function judged({ snapshot, reading }: Opened, read: LinesRead): Entries {
  const entries = logEntries(snapshot, reading, read.lines);
  const refused = [...read.refused, ...entries.refused];
  if (refused.length === 0) return entries;
  throw new BookError(refused.map(({ where, why }) => `${where}: ${why}`).join("\n"));
}

function eachTold(logged: Entries["logged"]): string[] {
  return logged.map(placedText);
}

function notesOf({ logged, there }: Entries, told: Told): string[] {
  return [
    ...told(logged),
    ...there.map((one) => LATER_WORDS.share.alreadyLogged(placedText(one))),
    ...logged.flatMap(({ judged: { notes } }) => notes),
  ];
}
