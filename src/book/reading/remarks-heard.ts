import { answered } from "../languages/answers.ts";
import { isQuestion } from "../languages/words-of.ts";
import { ownTitles } from "../answers/titles.ts";
import { isLastDone } from "../records/positions.ts";
import type { Part } from "../records/records.ts";
import type { RemarkReader } from "../headings/remark-text.ts";
import { wordsOf } from "../headings/words.ts";
import { textOf, widest } from "../workbook/cells.ts";
import { cellAt } from "../workbook/snapshot.ts";
import { wordsSaid } from "./first-words.ts";
import type { Named } from "./devices.ts";
import type { Found } from "./register.ts";
import { asides } from "./spoken-of.ts";

/** What is said of a device in a cell of its row, or in the comment to one; or in a row that is no device's. */
export interface Heard {
  readonly device: Named | null;
  readonly row: number;
  readonly column: number;
  readonly text: string;
  /** The texts that may name devices, where there are more than this one. */
  readonly beside?: readonly string[];
  /** The text without whoever wrote it, where that stands before it. */
  readonly said?: string;
  readonly heard: "against" | "open" | "comment";
}

type Says = RemarkReader["says"];

/** Everything that is said of devices: in comments, behind their names, in columns and in rows that are no device's. */
export function allHeard(
  found: Found,
  serving: readonly Named[],
  { says, parts }: { readonly says: Says; readonly parts: readonly Part[] },
): Heard[] {
  return [
    ...inComments(found, serving, says),
    ...inNames(found, serving, says),
    ...inColumns(found, serving, { says, parts }),
    ...inAsides(found, says),
  ];
}

/** Comments to the cells of a device's row; those to its dates are heard with the dates. */
function inComments({ page, register }: Found, serving: readonly Named[], says: Says): Heard[] {
  const { comments } = page.sheet;
  if (comments === undefined) return [];
  const dated = new Set(
    register.matches.flatMap(({ field, column }) => (isLastDone(field) ? [column] : [])),
  );
  const byRow = new Map(serving.map((device) => [device.row, device]));
  return [...comments].flatMap(([key, text]): Heard[] => {
    const { row, column } = cellAt(key);
    const device = byRow.get(row);
    if (device === undefined || dated.has(column)) return [];
    const said = wordsSaid(text);
    const heard = says(said) === "against" ? "against" : "comment";
    return [{ device, row, column, text, said, heard }];
  });
}

/** What stands behind a device's name in its own cell: "Screener 3 (retired 1/9/26)". */
const BEHIND = /(?<=[([]).*(?=[)\]])|(?<=\s[–—-]\s).*$|(?<=[,;]).*$/u;

function inNames({ columns }: Found, serving: readonly Named[], says: Says): Heard[] {
  const column = columns.get("device") ?? 0;
  return serving.flatMap((device): Heard[] => {
    const text = BEHIND.exec(device.id)?.[0] ?? "";
    if (says(text) !== "against") return [];
    return [{ device, row: device.row, column, text, heard: "against" }];
  });
}

function inColumns(
  found: Found,
  serving: readonly Named[],
  { says, parts }: { readonly says: Says; readonly parts: readonly Part[] },
): Heard[] {
  const { page, register, columns } = found;
  const bare = unheaded(found);
  const taken = new Set(register.matches.map((one) => one.column));
  const remarks = remarkColumns(found, parts);
  const asking = register.headings.flatMap((heading, column) =>
    asks(heading) === null || taken.has(column) || remarks.includes(column) ? [] : [column],
  );
  return [...remarks, ...bare, ...asking].flatMap((column) => {
    const isStatus = column === columns.get("status");
    const isAgainst = asks(register.headings[column] ?? "");
    return serving.flatMap((device): Heard[] => {
      const { row } = device;
      const textIn = (at: number): string => textOf(page.sheet.values[row]?.[at] ?? null);
      const text = textIn(column);
      // What a status says of leaving is told with the other statuses, and so is what is not weighed.
      const heard = isAgainst?.(text) === true ? "against" : says(text, isStatus);
      if (heard === "nothing" || (heard === "open" && isStatus)) return [];
      const around = bare.includes(column) ? freeAround(column, taken).map(textIn) : [];
      return [{ device, row, column, text, heard, beside: [text, ...around] }];
    });
  });
}

/** How far from what it says a small table has its devices. */
const NEAR = 5;

/** A few columns on either side that are taken for nothing: a small table of faults has its devices in one of them. */
function freeAround(column: number, taken: ReadonlySet<number>): number[] {
  const free: number[] = [];
  for (let at = column - 1; at > column - NEAR && !taken.has(at); at -= 1) free.push(at);
  for (let at = column + 1; at < column + NEAR && !taken.has(at); at += 1) free.push(at);
  return free;
}

/** Rows below the list or between its devices, which may name some of them. */
function inAsides(found: Found, says: Says): Heard[] {
  return asides(found).flatMap(({ row, column, texts, said }): Heard[] => {
    if (says(said) !== "against") return [];
    return [{ device: null, row, column, text: said, beside: texts, heard: "against" }];
  });
}

/** Columns without a heading beside the devices: what stands there is a note. */
export function unheaded({ page, register: { rows, headings } }: Found): number[] {
  const width = widest(rows.map((row) => page.sheet.values[row]));
  return Array.from({ length: width }, (_, at) => at).filter((at) => (headings[at] ?? "") === "");
}

/** Headings under which people say how a device is. */
const OF_STATE = new Set([
  "condition",
  "state",
  "status",
  "problem",
  "problems",
  "issue",
  "issues",
]);
const SURE = /^(?:sure|certain|are you sure|date sure|date certain|reliable)\b/iu;
/** Headings under which people answer whether all was done, in eight languages; "no" speaks against the row. */
const WHOLE =
  /(?<!\p{L})(?:complet[ao]?|complete|full set|whole set|all changed|komplett\p{L}*|vollst[äa]ndig\p{L}*|compleet|volledig|komplet\p{L}*|pe[łl]n[ya]|confirmed|verified|best[äa]tigt|confirm[ée]e?|confirmad[ao]|confermat[ao]|bevestigd|potwierdzon\p{L}*)(?!\p{L})|^(?:done|changed|replaced|erledigt|fait|hecho|feito|fatto|gedaan|wykonano)\s*\??$/iu;
/** Headings under which a mark says that it was not. */
const PARTLY =
  /(?<!\p{L})(?:partial|partly|teilweise|partiel|parcial|parziale|gedeeltelijk|cz[ęe][śs]ciow)/iu;
const MARK = /^[xy✓✔]$/iu;
const DENIED = /^n$/iu;

/** What an answer under a heading says against its row; null of a heading that asks nothing. */
function asks(heading: string): ((text: string) => boolean) | null {
  if (PARTLY.test(heading))
    return (text) => isQuestion(text) || answered(text) === true || MARK.test(text);
  return SURE.test(heading) || WHOLE.test(heading) ? isDenied : null;
}

function isDenied(text: string): boolean {
  return isQuestion(text) || answered(text) === false || DENIED.test(text);
}

/** Columns of notes, of states and of "sure?"; those that are taken for something else are not among them. */
export function remarkColumns(
  { register }: Pick<Found, "register">,
  parts: readonly Part[],
): number[] {
  const isOurs = ownTitles(parts)(register.headings);
  const taken = new Map(register.matches.map(({ column, field }) => [column, field]));
  return register.headings.flatMap((heading, column) => {
    const field = taken.get(column);
    if (field !== undefined) return field === "note" || field === "status" ? [column] : [];
    if (isOurs(heading)) return [];
    const words = wordsOf(heading, null).map(({ text }) => text);
    const isRemark = words.some((word) => word === "note" || OF_STATE.has(word));
    return isRemark || SURE.test(heading) ? [column] : [];
  });
}
