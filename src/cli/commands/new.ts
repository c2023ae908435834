import { basename, extname } from "node:path";
import { TextDecoder } from "node:util";
import { listBook, LIST_ENDINGS } from "../../book/lists/list-book.ts";
import { SEPARATORS, type SeparatorName } from "../../book/lists/separated.ts";
import { newRegisterPlan } from "../../book/sheets/new-register.ts";
import { describePlan } from "../../book/workbook/describe.ts";
import { newWorkbook } from "../../xlsx/index.ts";
import { type Asked, command, oneWord } from "../command.ts";
import { BOOK_ENDINGS, NODE_CODEC, NODE_DECODE, readFile, writeFile } from "../files.ts";
import { type ExitCode, UsageError } from "../io.ts";
import { tellFaults, writeNew } from "../job.ts";
import { convertedByOffice, FOREIGN_ENDINGS, saveByHand } from "../office.ts";
import { type MadeBook, madeByRows } from "../made-by-rows.ts";
import { madeUpright } from "../made-upright.ts";
import { bookOf } from "../open.ts";
import { choice, flag, one, texts } from "../option.ts";
import { matchLines } from "../report.ts";
import { jobResult } from "../result.ts";

const OPTIONS = {
  from: texts(
    "FILE",
    "make it of this list (.csv, .tsv) or workbook (.ods, .xls); several lists, several sheets",
  ),
  separator: choice(
    Object.keys(SEPARATORS) as SeparatorName[],
    "what stands between the cells of a list, where the file does not show it",
  ),
  encoding: one("NAME", "how a list's letters are stored, such as windows-1250", encodingOf),
  convert: flag("have LibreOffice read a workbook in another format"),
  dates: one(
    "HEADING",
    "where rows are parts: the column of their last replacements",
    (said) => said,
  ),
  ticks: flag("where months are ticked (x): each tick a replacement on the first of its month"),
  log: flag("where each row is a replacement: read them as your log, in which the latest counts"),
};

type Given = Asked<string, typeof OPTIONS, { written?: string; edits?: string[] }>;

/** An empty register with headings, choices and date limits, for a programme that has no sheet yet. */
export const fresh = command({
  name: "new",
  moment: "The book",
  brief: "an empty register, or a workbook made of a list (.csv, .tsv, .ods, .xls)",
  about: `An empty register with headings, choices and date limits, and our sheets. With --from a workbook of what
you have: a list whose cells are separated by commas, semicolons, tabs or bars, a workbook in another
format, or one with a row for each part, a column or a card for each device or tables side by side, whose
sheets stay beside a new one with a row for each device.
Of several rows for a part the earliest date counts, unless --log says that each is a replacement.
With --ticks months that are ticked (x) are replacements, each on the first day of its month.
Text that can be read in two ways stays text, and check tells it.`,
  words: oneWord("OUT", "file name"),
  writes: "",
  common: ["match", "day-order", "dry-run"],
  examples: [
    "new equipment.xlsx",
    "new equipment.xlsx --from register.csv --from sessions.csv",
    "new equipment.xlsx --from register.ods --convert",
    "new equipment.xlsx --from parts-by-row.xlsx",
    "new equipment.xlsx --from replacements.xlsx --log",
    "new equipment.xlsx --from ticked-months.xlsx --ticks",
  ],
  options: OPTIONS,
  result: jobResult({}),
  run(asked) {
    return asked.given.from.length > 0 ? fromFiles(asked) : emptyRegister(asked);
  },
});

function emptyRegister({ words: path, given, request, io, say }: Given): ExitCode {
  if (howRead(given).length > 0 || given.dates !== null || given.ticks || given.log) {
    throw new UsageError(
      "--separator, --encoding, --convert, --dates, --ticks and --log say how --from is read; give --from",
    );
  }
  const plan = newRegisterPlan(request.reportDate ?? io.today(), io.today());
  const edits = describePlan(plan);
  if (!request.dryRun) writeNew(path, plan, request);
  say(
    () => (request.dryRun ? edits : [`${path}: ${plan.summary}`]),
    () => ({ ...(request.dryRun ? { edits } : { written: path }) }),
  );
  return 0;
}

/** The options given that say how a list is read. */
function howRead({ separator, encoding, convert }: Given["given"]): string[] {
  return [
    ...(separator === null ? [] : ["--separator"]),
    ...(encoding === null ? [] : ["--encoding"]),
    ...(convert ? ["--convert"] : []),
  ];
}

/** Writes a book of what is there already, once it is known to hold a register and nothing of patients. */
function fromFiles(asked: Given): ExitCode {
  const { words: path, request, io, say } = asked;
  const { book, lines } = isBook(asked.given.from) ? byDeviceOf(asked) : listed(asked);
  const { bytes } = book;
  if (!request.dryRun) {
    // A workbook with macros stays one.
    const ending = isBook(asked.given.from) ? endingOf(asked.given.from[0] ?? "") : ".xlsx";
    writeFile(bytes, { path, ending, force: request.force, inPlace: null });
  }
  const done = request.dryRun
    ? []
    : ["", `${path} is written. Next: npx sparespan columns "${path}" --in-place`];
  say(
    () => [...lines, ...matchLines(book.reading), ...done],
    () => ({ ...(request.dryRun ? { edits: [...lines] } : { written: path }) }),
  );
  // The faults of a book that is not written cannot be looked up.
  return request.dryRun ? 0 : tellFaults(book, io);
}

function isBook(from: readonly string[]): boolean {
  return from.length === 1 && BOOK_ENDINGS.includes(endingOf(from[0] ?? ""));
}

function byDeviceOf({ words: path, given, request, io }: Given): MadeBook {
  const [from = ""] = given.from;
  const [wrong] = howRead(given);
  if (wrong !== undefined) {
    throw new UsageError(
      `${wrong} says how a list is read, and ${from} is a workbook: leave it out`,
    );
  }
  const isPlain = given.dates === null && !given.ticks && !given.log;
  const made = isPlain ? madeUpright({ from, path }, request, io) : null;
  return made ?? madeByRows({ from, path }, given, { request, io, refusal: notAList(from) });
}

function listed(asked: Given): MadeBook {
  const { words: path, given, request, io } = asked;
  if (given.dates !== null || given.ticks || given.log) {
    const option = given.log ? "--log" : given.ticks ? "--ticks" : "--dates";
    throw new UsageError(
      `${option} goes with a workbook (${BOOK_ENDINGS.join(", ")}) that has a row for each part: leave it out`,
    );
  }
  const { bytes, lines } = made(asked);
  return { book: bookOf(path, bytes, request, io), lines };
}

function made({ given }: Given): { readonly bytes: Uint8Array; readonly lines: readonly string[] } {
  const { from, convert, separator, encoding } = given;
  const [first = ""] = from;
  const isForeign = (path: string): boolean => FOREIGN_ENDINGS.includes(endingOf(path));
  if (!from.some(isForeign)) {
    if (convert) throw new UsageError(`${first} needs no --convert: it is a list`);
    const files = from.map((path) => ({
      name: basename(path),
      bytes: readFile(path, LIST_ENDINGS, notAList),
    }));
    const { plan, lines } = listBook(files, { separator, encoding }, NODE_DECODE);
    return { bytes: newWorkbook(plan, { codec: NODE_CODEC }), lines };
  }
  if (from.length > 1) throw new UsageError(`${first} is a workbook: give one --from only`);
  if (!convert) {
    throw new UsageError(
      `${first} is a workbook in another format: give --convert to have LibreOffice read it, or ${saveByHand(first)}`,
    );
  }
  readFile(first, FOREIGN_ENDINGS, notAList);
  const bytes = convertedByOffice(first);
  return { bytes, lines: [`${first} was read by LibreOffice.`] };
}

function notAList(path: string): string {
  return BOOK_ENDINGS.includes(endingOf(path))
    ? `${path} is a workbook already: npx sparespan check "${path}"`
    : `${path} must be a list (${LIST_ENDINGS.join(", ")}) or a workbook (${FOREIGN_ENDINGS.join(", ")})`;
}

function endingOf(path: string): string {
  return extname(path).toLowerCase();
}

function encodingOf(said: string): string {
  try {
    return new TextDecoder(said).encoding;
  } catch {
    throw new UsageError(
      `--encoding must be the name of an encoding, such as utf-8 or windows-1250, got "${said}"`,
    );
  }
}
