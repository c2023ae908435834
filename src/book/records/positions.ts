import { keyOf } from "../workbook/cells.ts";
import { partNamed } from "./parts.ts";
import { besideIt, positionOf } from "./position-words.ts";
import type { ColumnMatch, Part, Register } from "./records.ts";
import type { Settings } from "./settings.ts";

/**
 * Positions: a register may have a column of dates for each piece of one part, such as left and right. Each is
 * a match of its own, its field the part's and the position's: "last:CUSHION left". As Setup has it, each is a
 * part of its own, with the part's limits and its own dates, or the earliest of a row's dates counts for the
 * part, and none while one is missing.
 */
export function positionField(field: string, position: string): string {
  return `${field} ${position}`;
}

/** The position of a column of the whole part that stands beside those of its positions. */
export const WHOLE = "whole";

/** The field of the part that a position's field belongs to; any other field itself. */
export function fieldOfPart(field: string): string {
  return field.split(" ", 1)[0] ?? field;
}

/** Whether a field is the last replacement of a part, or the day a task was last done. */
export function isLastDone(field: string): boolean {
  return field.startsWith("last:");
}

/** Whether a field is a position's. */
export function isPosition(field: string): boolean {
  return fieldOfPart(field) !== field;
}

/** What a part or a position of it is told from all others by: "CUSHION", "CUSHION left". */
export function partKey({ code, position }: Part): string {
  return position === undefined ? code : positionField(code, position.name);
}

/** A part and its position as one text, as the Job log has it; the part alone where the position is blank. */
export function partText(part: string, position: string): string {
  return position.trim() === "" ? part : positionField(part, position.trim());
}

/** The part itself, also of one of its positions. */
export function wholeOf(part: Part): Part {
  return part.position?.of ?? part;
}

const parted = new WeakMap<Part, readonly Part[]>();

/** A part's positions as parts of their own; the part itself where it has none. */
export function eachPosition(part: Part): readonly Part[] {
  const known = parted.get(part);
  if (known !== undefined) return known;
  const { positions, ...rest } = part;
  const pieces = positions?.names.map((name) => pieceOf(part, name, rest)) ?? [part];
  parted.set(part, pieces);
  return pieces;
}

/** One position of a part as a part of its own; `own` is what it has of the part. */
export function pieceOf(part: Part, name: string, own: Omit<Part, "positions"> = part): Part {
  return { ...own, name: `${part.name}, ${name}`, position: { name, of: part } };
}

/** Units that one replacement takes: of a position, of a part, or of all positions of a part. */
export function unitsTaken(part: Part): number {
  if (part.position !== undefined) return unitsEach(part.position.of);
  return unitsEach(part) * eachPosition(part).length;
}

/** Units that one of the dates of a part takes, be it the only one or a position's. */
export function unitsEach({ positions, supply }: Part): number {
  return positions?.units ?? supply.perReplacement;
}

type Matches = Pick<Register, "matches">;

/** Every column that says when a part was last done: one, or those of its positions. */
export function allLastColumns({ matches }: Matches, { code }: Part): readonly ColumnMatch[] {
  return matches.filter(({ field }) => fieldOfPart(field) === `last:${code}`);
}

/** The columns an interval is counted from: one, or several of which the earliest counts. */
export function lastColumns(register: Matches, part: Part): readonly ColumnMatch[] {
  const all = allLastColumns(register, part);
  if (part.position === undefined && part.positions === undefined) return all;
  const name = part.position?.name ?? WHOLE;
  return all.filter(({ field }) =>
    isPosition(field) ? field === positionField(`last:${part.code}`, name) : name === WHOLE,
  );
}

/** The positions of which a register has columns, and what is missing beside one that stands alone. */
function positionsIn(register: Matches, part: Part): readonly string[] {
  const names = allLastColumns(register, part).flatMap(({ field }) => {
    const name = isPosition(field) ? field.slice(fieldOfPart(field).length + 1) : WHOLE;
    return name === WHOLE ? [] : [name];
  });
  const [only] = names;
  return names.length === 1 && only !== undefined ? besideIt(only) : names;
}

/** How many positions have no column although the earliest of all is what counts. */
export function positionsMissing(register: Matches, part: Part): number {
  if (part.position !== undefined || part.positions !== undefined) return 0;
  const named = allLastColumns(register, part).filter(({ field }) => isPosition(field)).length;
  return named === 1 ? positionsIn(register, part).length - named : 0;
}

/**
 * What of a part each device of a register has an interval for: the part, or its positions, and the part
 * besides where a column of it stands beside theirs. Without a column, as on the other registers.
 */
export function unitsIn(register: Matches, part: Part): readonly Part[] {
  if (part.positions === undefined) return [part];
  const whole = lastColumns(register, part).length > 0 ? [part] : [];
  const own = positionsIn(register, part);
  if (own.length === 0 && whole.length > 0) return whole;
  const pieces = eachPosition(part).filter(
    ({ position }) => own.length === 0 || own.includes(position?.name ?? ""),
  );
  return [...whole, ...pieces];
}

/** The parts with the positions that the registers have of them, where each is to have its own interval. */
export function withPositions(
  parts: readonly Part[],
  registers: readonly Matches[],
  { positions }: Pick<Settings, "positions">,
): readonly Part[] {
  if (positions === "earliest") return parts;
  const positioned = parts.map((part) => positionedPart(part, registers));
  return positioned.every((part, at) => part === parts[at]) ? parts : positioned;
}

function positionedPart(part: Part, registers: readonly Matches[]): Part {
  const found = registers.map((register) => positionsIn(register, part));
  const names = [...new Set(found.flat())];
  if (names.length === 0) return part;
  const isEverywhere = registers.every(
    (register, at) => (found[at] ?? []).length > 0 || allLastColumns(register, part).length === 0,
  );
  const { perReplacement } = part.supply;
  // What a complete set takes is shared among its positions, where that leaves whole units.
  const isShared = isEverywhere && perReplacement % names.length === 0;
  const units = isShared ? perReplacement / names.length : perReplacement;
  return { ...part, positions: { names, units } };
}

/** A part as a job names it. */
export interface PartMeant {
  /** The part, or the position of it. */
  readonly part: Part;
  /** A position that the part does not have; null where none is named, or one that it has. */
  readonly stray: string | null;
}

/** The part or the position meant by a text, such as "CUSHION left" or "Left cushion"; null where there is none. */
export function unitNamed(parts: readonly Part[], text: string): PartMeant | null {
  const part = partNamed(parts, text);
  if (part !== null) return { part, stray: null };
  const found = positionOf(text);
  const rest = found?.rest.replaceAll(/[^\p{L}\p{N}]+/gu, " ") ?? "";
  const whole = keyOf(rest) === "" ? null : partNamed(parts, rest);
  if (found === null || whole === null) return null;
  const piece = eachPosition(whole).find(({ position }) => position?.name === found.position);
  return piece === undefined
    ? { part: whole, stray: found.position }
    : { part: piece, stray: null };
}

/** The earliest of a row's dates; null while one of them is missing. */
export function earliest<T extends number>(dates: readonly (T | null)[]): T | null {
  const [first = null, ...others] = dates;
  return others.reduce<T | null>(
    (least, date) => (least === null || date === null ? null : date < least ? date : least),
    first,
  );
}
