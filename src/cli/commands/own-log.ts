import { z } from "zod";
import { wordingKey } from "../../book/languages/words-of.ts";
import { LOG_WORD, OWN_LOG, type OwnLog, type Wording } from "../../book/records/own-log.ts";
import { counted } from "../../book/records/problems.ts";
import type { Reading } from "../../book/records/records.ts";
import { WORK_WORDS, workSaid } from "../../book/records/work.ts";
import { workText } from "../../book/records/work-told.ts";
import { resultPlan } from "../../book/sheets/result-plan.ts";
import { describePlan } from "../../book/workbook/describe.ts";
import type { Request } from "../arguments.ts";
import { type Asked, BOOK, command } from "../command.ts";
import { type ExitCode, UsageError } from "../io.ts";
import { inputOf, targetOf, tellFaults, writeBytes } from "../job.ts";
import { applied, type OpenBook, openBook } from "../open.ts";
import { each, flag, type Given, text } from "../option.ts";
import { progressOn } from "../progress.ts";
import { refreshed } from "../refreshed.ts";
import { aligned } from "../report.ts";
import { jobResult, list } from "../result.ts";

const RESULT = {
  logs: list(
    z.strictObject({
      sheet: z.string(),
      confirmed: z.boolean(),
      date: z.string(),
      device: z.string(),
      work: z.string(),
      lines: z.int(),
      wordings: list(
        z.strictObject({
          text: z.string(),
          lines: z.int(),
          says: z.enum(["said", "clear", "unclear", "unknown"]),
          means: z.string(),
        }),
      ),
    }),
  ),
};

/** What --json prints. */
type Result = z.infer<ReturnType<typeof jobResult<typeof RESULT>>>;

const OPTIONS = {
  confirm: flag("it is our log: from now on what is clear in it counts"),
  none: flag("there is no such log; no sheet is taken for one again"),
  sheet: text("SHEET", "the sheet that is confirmed, where several may be"),
  word: each("WORDS=MEANING", "what words of the log mean, such as new tips=SET replaced", wordOf),
};

/** The log a programme keeps itself: how it is understood, confirmed once and remembered. */
export const ownLog = command({
  name: "own-log",
  moment: "The day",
  brief: "your own log of work, in your own words: what of it counts",
  about: `Shows how a log that you keep beside the register was understood: its sheet, and every wording with the
number of its lines and what it means. Until you confirm the sheet nothing in it counts as a replacement.
--confirm and --word are remembered in Setup, so that you are asked once. A meaning is a part and one of
${WORK_WORDS.join(", ")}, or nothing;
several are joined with a semicolon.`,
  words: BOOK,
  writes: "[-o OUT]",
  common: ["in-place", "json"],
  examples: [
    "own-log equipment.xlsx",
    "own-log equipment.xlsx --confirm --in-place",
    'own-log equipment.xlsx --word "new tips=SET replaced" --word "at night=nothing" -n',
  ],
  options: OPTIONS,
  result: jobResult(RESULT),
  run: sayOwnLog,
});

function wordOf(said: string): readonly [string, string] {
  const at = said.lastIndexOf("=");
  const key = wordingKey(said.slice(0, Math.max(at, 0)));
  if (key === "") {
    throw new UsageError(
      `--word must be words=meaning, such as "new tips=SET replaced", got "${said}"`,
    );
  }
  return [key, said.slice(at + 1).trim()];
}

function sayOwnLog(asked: Asked<string, typeof OPTIONS, Result>): ExitCode {
  const { words: path, given, request, io, say } = asked;
  const progress = progressOn(io);
  const says = given.confirm || given.none || given.word.length > 0;
  const writes = request.output !== null || request.inPlace;
  const target = says || writes ? targetOf(request, path) : path;
  const before = openBook(path, request, io, progress);
  if (!says) {
    say(
      () => linesFor(before.reading),
      () => resultFor(before.reading),
    );
    return tellFaults(before, io);
  }
  const told: Request = { ...request, matches: matchesOf(before, given, request) };
  const book = openBook(path, told, io, progress);
  const { snapshot } = book.workbook;
  const summary = summaryOf(given, book.reading);
  const plan = resultPlan(snapshot, book.reading, { summary, today: io.today() });
  const after = refreshed(applied(book, plan, told, io), told, io);
  const written = request.dryRun
    ? describePlan(plan)
    : writeBytes(after.bytes, { ...inputOf(before), summary, target, request, io });
  say(
    () => [...linesFor(after.reading), "", ...written],
    () => ({
      ...resultFor(after.reading),
      ...(request.dryRun ? { edits: written } : { written: target }),
    }),
  );
  return tellFaults(request.dryRun ? after : { ...after, path: target }, io);
}

/** What was said, as Setup remembers it. */
function matchesOf(
  { reading }: OpenBook,
  { confirm, none, sheet, word }: Given<typeof OPTIONS>,
  request: Request,
): ReadonlyMap<string, string> {
  if (confirm && none) throw new UsageError("give either --confirm or --none, not both");
  const { parts } = reading.ours;
  for (const [words, meaning] of word) {
    if (workSaid(meaning, parts) !== null) continue;
    const codes = parts.map(({ code }) => code).join(", ");
    throw new UsageError(
      `--word ${words}: the meaning must be a part (${codes}) and one of ${WORK_WORDS.join(", ")}, or nothing, got "${meaning}"`,
    );
  }
  return new Map([
    ...request.matches,
    ...(none ? [[OWN_LOG, "none"] as const] : []),
    ...(confirm ? [[OWN_LOG, sheet ?? onlyLog(reading)] as const] : []),
    ...word.map(([words, meaning]) => [`${LOG_WORD}${words}`, meaning] as const),
  ]);
}

function onlyLog({ ownLogs }: Reading): string {
  const [first, ...others] = ownLogs;
  if (first === undefined) {
    throw new UsageError("no sheet looks like a log; say which one it is with --sheet");
  }
  if (others.length === 0) return first.sheet;
  const names = ownLogs.map(({ sheet }) => sheet).join(", ");
  throw new UsageError(`several sheets may be a log (${names}); say which one with --sheet`);
}

function summaryOf({ confirm, none, word }: Given<typeof OPTIONS>, { ownLogs }: Reading): string {
  const said = [
    ...(none ? ["no log of their own"] : []),
    ...(confirm
      ? ownLogs.filter((log) => log.confirmed).map(({ sheet }) => `own log ${sheet}`)
      : []),
    ...(word.length === 0 ? [] : [`${counted(word.length, "wording")} of the own log`]),
  ];
  return `remembered: ${said.join(", ")}`;
}

function linesFor({ ownLogs }: Reading): string[] {
  if (ownLogs.length === 0) return ["No sheet looks like a log of your own."];
  return ownLogs.flatMap((log, at) => [...(at === 0 ? [] : [""]), ...logLines(log)]);
}

const SAYS: Readonly<Record<Wording["says"], string>> = {
  said: "as you said",
  clear: "clear",
  unclear: "not counted: may be",
  unknown: "not counted: unknown",
};

function logLines({ sheet, confirmed, columns, lines, wordings }: OwnLog): string[] {
  const { date, device, work } = columns;
  const open = confirmed ? "confirmed" : "not confirmed: nothing in it counts as a replacement yet";
  return [
    `${sheet} (${open}): dates in "${date}", devices in "${device}", work in "${work}"; ${counted(lines, "line")}.`,
    ...aligned([
      ["  Lines", "Words", "", "Meaning"],
      ...wordings.map((one) => [`  ${one.lines}`, one.text, SAYS[one.says], workText(one.work)]),
    ]),
  ];
}

function resultFor({ ownLogs }: Reading): Result {
  return {
    logs: ownLogs.map(({ sheet, confirmed, columns, lines, wordings }) => ({
      sheet,
      confirmed,
      ...columns,
      lines,
      wordings: wordings.map((one) => ({
        text: one.text,
        lines: one.lines,
        says: one.says,
        means: workText(one.work),
      })),
    })),
  };
}
