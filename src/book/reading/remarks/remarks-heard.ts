import { ownTitles } from "../../answers/titles.ts";
import { fieldOfPart, isLastDone } from "../../records/positions.ts";
import type { Part } from "../../records/records.ts";
import { isSure } from "../../headings/asked.ts";
import { saysEarlier } from "../../headings/planned.ts";
import type { RemarkReader } from "../../headings/remark-text.ts";
import { wordsOf } from "../../headings/words.ts";
import { keyOf, textOf, widest } from "../../workbook/cells.ts";
import { cellAt } from "../../workbook/snapshot.ts";
import { wordsSaid } from "../told/first-words.ts";
import type { Named } from "../devices/devices.ts";
import type { Found } from "../register/register.ts";
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
  /** Codes of the parts it is of, where they are known otherwise; null for the whole row. */
  readonly codes?: Codes | undefined;
}

type Codes = readonly string[] | null;
type Says = RemarkReader["says"];
type Reader = RemarkReader & { readonly parts: readonly Part[] };

/** Everything that is said of devices: in comments, behind their names, in columns and in rows that are no device's. */
export function allHeard(found: Found, serving: readonly Named[], reader: Reader): Heard[] {
  const { says } = reader;
  return [
    ...inComments(found, serving, says),
    ...inNames(found, serving, says),
    ...inColumns(found, serving, reader),
    ...inOthers(found, serving, reader),
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

function inColumns(found: Found, serving: readonly Named[], reader: Reader): Heard[] {
  const { page, register, columns } = found;
  const bare = unheaded(found);
  const taken = new Map(register.matches.map(({ column, field }) => [column, field]));
  const remarks = remarkColumns(found, reader.parts);
  return [...remarks, ...bare, ...askedAmong(found, reader, remarks)].flatMap((column) => {
    const isStatus = column === columns.get("status");
    const heading = register.headings[column] ?? "";
    const isAgainst = reader.asks(heading);
    const codes = isAgainst === null ? undefined : askedOf(found, column, reader);
    return serving.flatMap((device): Heard[] => {
      const { row } = device;
      const textIn = (at: number): string => textOf(page.sheet.values[row]?.[at] ?? null);
      const text = textIn(column);
      if (isAgainst?.(text) === true) {
        return [{ device, row, column, text, heard: "against", codes }];
      }
      // What a status says of leaving is told with the other statuses, and so is what is not weighed.
      const heard = reader.says(text, isStatus);
      if (heard === "nothing" || (heard === "open" && isStatus)) return [];
      const around = bare.includes(column) ? freeAround(column, taken).map(textIn) : [];
      return [{ device, row, column, text, heard, beside: [text, ...around] }];
    });
  });
}

/** Columns in which people answer whether something was done or is good, beside those of remarks. */
function askedAmong({ register }: Found, { asks }: Reader, remarks: readonly number[]): number[] {
  const taken = new Set([...register.matches.map(({ column }) => column), ...remarks]);
  return register.headings.flatMap((heading, column) =>
    heading === "" || taken.has(column) || asks(heading) === null ? [] : [column],
  );
}

/**
 * The parts that a heading asks about: those it names or, where each date has such a column beside it, that of the date
 * before it; null where it may be the whole row.
 */
function askedOf({ register }: Found, column: number, { namedIn, parts }: Reader): Codes {
  const { headings, matches } = register;
  const heading = headings[column] ?? "";
  const isOfEach = headings.filter((other) => keyOf(other) === keyOf(heading)).length > 1;
  const beside = matches.find((match) => match.column === column - 1)?.field ?? "";
  const part = parts.find(({ code }) => isOfEach && fieldOfPart(beside) === `last:${code}`);
  return namedIn(heading) ?? (part === undefined ? null : [part.code]);
}

/** Fields whose cells are read as what they say. */
const READ = /^(?:device|note|status|last:|finding:)/u;

/** What speaks of a damaged part, or of harm, under any other heading than that of an earlier time or of a replacement. */
function inOthers(found: Found, serving: readonly Named[], reader: Reader): Heard[] {
  const { page, register } = found;
  const { condemns, namedIn, parts } = reader;
  const isOurs = ownTitles(parts)(register.headings);
  const heard = new Set([
    ...register.matches.flatMap(({ field, column }) => (READ.test(field) ? [column] : [])),
    ...remarkColumns(found, parts),
  ]);
  return register.headings.flatMap((heading, column) => {
    if (heading === "" || heard.has(column) || isOurs(heading)) return [];
    if (saysEarlier(heading)) return [];
    return serving.flatMap((device): Heard[] => {
      const { row } = device;
      const text = page.sheet.values[row]?.[column] ?? null;
      if (typeof text !== "string" || !condemns(text, heading)) return [];
      const codes = namedIn(text) === null ? (namedIn(heading) ?? undefined) : undefined;
      return [{ device, row, column, text, heard: "against", codes }];
    });
  });
}

/** How far from what it says a small table has its devices. */
const NEAR = 5;

/** A few columns on either side that are taken for nothing: a small table of faults has its devices in one of them. */
function freeAround(column: number, taken: ReadonlyMap<number, string>): number[] {
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
    return isRemark || isSure(heading) ? [column] : [];
  });
}
