import { NO_DEVICE } from "./rows.ts";
import { evidenceOf, type Evidence } from "../../headings/column-profile.ts";
import {
  ACCEPTED,
  type Matcher,
  matcherFor,
  saysLastReplaced,
  showsDates,
} from "../../headings/match.ts";
import { saysPlanned } from "../../headings/planned.ts";
import { deviceKey } from "../../records/device-key.ts";
import { isPositionName, positionOf } from "../../records/position-words.ts";
import { partKey, pieceOf, wholeOf } from "../../records/positions.ts";
import type { Part } from "../../records/records.ts";
import type { RegisterReading } from "../../records/registers.ts";
import { identifierAt, isBlankRow, type Page, pageNamed, textOf } from "../../workbook/cells.ts";
import { type Snapshot, valueAt } from "../../workbook/snapshot.ts";

/** A row that is one part of a device. */
export interface PartRow {
  readonly row: number;
  /** The device as it is written there, or in the row above where a block of parts names it once. */
  readonly device: string;
  /** The part, or a position of it; null where the text names no part of ours. */
  readonly part: Part | null;
  /** The part as it is written; "" where a device stands alone. */
  readonly said: string;
  /** The row names its device itself. */
  readonly isNamed: boolean;
}

/** A register whose rows each tell of one part of a device: all of them in turn, or the last that was replaced. */
export interface PartRows {
  /** Heading of the column that names the parts. */
  readonly heading: string;
  /** Its column, and the one that names their sides. */
  readonly naming: readonly number[];
  readonly rows: readonly PartRow[];
  /** Headings that say when each part was replaced last, whichever it is. */
  readonly dates: readonly string[];
}

/** Cells as a column of dates has them: under a date a part's name alone is its last replacement. */
const AS_DATES: Evidence = { filled: 9, dates: 1, numbers: 0, texts: 0, distinct: 1, bare: 0 };
const MOSTLY = 0.8;
/** A list of pieces names cables and chargers beside the parts. */
const HALF = 0.5;

/**
 * The parts by row, where a register has a row for each of them; null where its rows are devices. Each device may have
 * one row where it is known that rows are parts.
 */
export function partRowsIn(
  snapshot: Snapshot,
  reading: RegisterReading,
  isKnown = false,
): PartRows | null {
  const { register, ours } = reading;
  const page = pageNamed(snapshot, register.sheet);
  const device = register.matches.find(({ field }) => field === "device")?.column;
  if (page === null || device === undefined) return null;
  const matcher = matcherFor(ours.parts);
  const used = new Set(register.matches.map(({ column }) => column));
  const unused = [...register.headings.entries()].filter(
    ([column, heading]) => heading !== "" && !used.has(column),
  );
  const partNamed = namesParts(matcher, ours.parts);
  const sides = unused
    .map(([column]) => column)
    .filter((at) => namesSides(page, register.headerRow, at));
  for (const [column, heading] of unused) {
    const rows = rowsNaming(page, reading, { device, column, partNamed, side: sides[0] ?? null });
    const told = rows.filter(({ said }) => said !== "");
    if (told.length < register.rows.length * MOSTLY) continue;
    if (told.filter(({ part }) => part !== null).length < told.length * HALF) continue;
    if (!isKnown && !isOfParts(told)) continue;
    const last = rows.at(-1)?.row ?? register.headerRow;
    const dates = unused.flatMap(([at, text]) => {
      const evidence = evidenceOf(page, at, register.headerRow + 1, last);
      const says = saysLastReplaced(matcher, { column: at, heading: text, evidence });
      return says && showsDates(evidence) && !saysPlanned(text) ? text : [];
    });
    return { heading, naming: [column, ...sides.slice(0, 1)], rows, dates };
  }
  return null;
}

/** The rows of a log whose lines say in other words which part it was: each names its device alone. */
export function bareRows(snapshot: Snapshot, { register }: RegisterReading): PartRows | null {
  const page = pageNamed(snapshot, register.sheet);
  const column = register.matches.find(({ field }) => field === "device")?.column;
  if (page === null || column === undefined) return null;
  const rows = register.rows.map((row): PartRow => {
    const device = identifierAt(page, row, column);
    return { row, device, part: null, said: "", isNamed: device !== "" };
  });
  return { heading: "", naming: [], rows, dates: [] };
}

/** Devices stand in several rows, or rows name different parts: a device's last job, whichever part it was. */
function isOfParts(rows: readonly PartRow[]): boolean {
  const devices = new Set(rows.map(({ device }) => deviceKey(device)));
  const parts = new Set(rows.flatMap(({ part }) => part?.code ?? []));
  return devices.size < rows.length || parts.size > 1;
}

/** Whether a part of a device stands in several rows, as in a list of its replacements. */
export function isOfEvents(rows: readonly PartRow[]): boolean {
  const keys = rows.flatMap(({ device, part }) =>
    part === null ? [] : `${deviceKey(device)}\n${partKey(part)}`,
  );
  return new Set(keys).size < keys.length;
}

type PartNamed = (text: string) => Part | null;

/** Which part a text names, or which position of one, by the words that head its dates. */
export function namesParts(matcher: Matcher, parts: readonly Part[]): PartNamed {
  const known = new Map<string, Part | null>();
  return (text) => {
    const before = known.get(text);
    if (before !== undefined) return before;
    const piece = positionOf(text);
    const whole = wholeNamed(matcher, parts, piece?.rest ?? text);
    const part = whole === null || piece === null ? whole : pieceOf(whole, piece.position);
    known.set(text, part);
    return part;
  };
}

function wholeNamed(matcher: Matcher, parts: readonly Part[], text: string): Part | null {
  const [best] = parts
    .flatMap((part) => {
      const field = matcher.fields.find(({ key }) => key === `last:${part.code}`);
      const like = field === undefined ? 0 : matcher.likeness(text, field, AS_DATES);
      return like >= ACCEPTED ? { part, like } : [];
    })
    .sort((one, other) => other.like - one.like);
  return best === undefined ? null : wholeOf(best.part);
}

/** Whether a column beside the parts says no more than which side each row is of. */
function namesSides({ sheet }: Page, headerRow: number, column: number): boolean {
  const cells = sheet.values.slice(headerRow + 1).map((row) => textOf(row[column] ?? null));
  const filled = cells.filter((cell) => cell !== "");
  return filled.length > 0 && filled.every(isPositionName);
}

interface Naming {
  readonly device: number;
  readonly column: number;
  readonly partNamed: PartNamed;
  /** The column that names the sides of parts; null without one. */
  readonly side: number | null;
}

/** The rows that name a device or a part, each with its device; a blank row ends a block that names it once. */
function rowsNaming(
  page: Page,
  { register }: RegisterReading,
  { device, column, partNamed, side }: Naming,
): PartRow[] {
  const { sheet } = page;
  const passed = new Set(
    register.leftOut.flatMap(({ row, reason }) => (reason === NO_DEVICE ? [] : row)),
  );
  const rows: PartRow[] = [];
  let named = "";
  for (let row = register.headerRow + 1; row < sheet.values.length; row += 1) {
    if (isBlankRow(sheet.values[row]) || passed.has(row)) {
      named = "";
      continue;
    }
    const own = identifierAt(page, row, device);
    if (own !== "") named = own;
    const text = textOf(valueAt(sheet, row, column));
    const which = side === null ? "" : textOf(valueAt(sheet, row, side));
    const said = text === "" || which === "" ? text : `${text} ${which}`;
    if (named === "" || (said === "" && own === "")) continue;
    rows.push({ row, device: named, part: partNamed(said), said, isNamed: own !== "" });
  }
  return rows;
}
