import { NOTE_LINES } from "./layout.ts";
import type { CellValue } from "../workbook/snapshot.ts";

/** What a column's size follows from. */
interface Sized {
  readonly heading: string;
  readonly width: number;
  readonly wraps?: true;
  readonly format?: unknown;
  readonly upright?: true;
  readonly helper?: true;
}

/** Characters that the button of a table's filter covers in its heading. */
const BUTTON = 3;
/** What a column is wider than its characters: five pixels of seven (ECMA-376 part 1, 18.3.1.13). */
const PADDING = 5 / 7;
/** Letters of a sentence in the width of a digit, in which widths are counted: measured 1.2 in Carlito and DejaVu Sans. */
const LETTERS_A_DIGIT = 1.1;
/** Height in points of a line of the usual font. */
const LINE = 15;
/** Letters of a line of notes: it may be longer than a narrow table, up to what a sheet of paper holds upright. */
const NOTE_WIDTH = 120;

/** Characters of a date and of its distance from the right edge: in less, programs show ### instead. */
const DATE_WIDTH = 12;

/** A column is wide enough for the longest word of its heading and the button beside it, and for a whole date. */
export function widthOf({ width, heading, format, upright }: Sized): number {
  if (upright) return width;
  const least = format === "yyyy-mm-dd" ? DATE_WIDTH : 0;
  return Math.max(width, least, ...heading.split(" ").map((word) => word.length + BUTTON));
}

/** Width of what is seen of a table, in characters. */
export function tableWidth(columns: readonly Sized[]): number {
  return columns
    .filter(({ helper }) => !helper)
    .reduce((sum, column) => sum + widthOf(column) + PADDING, 0);
}

/** Lines that a text takes in a column so wide; a word longer than that has a line of its own. */
function linesIn(text: string, characters: number): number {
  let [lines, used] = [1, 0];
  for (const word of text.split(/\s+/)) {
    if (used > 0 && used + 1 + word.length > characters) [lines, used] = [lines + 1, 0];
    used += word.length + (used > 0 ? 1 : 0);
  }
  return lines;
}

/** A row that is higher than one line. */
interface HighRow {
  readonly row: number;
  readonly points: number;
}

/**
 * The rows of a table that need more than a line: its headings, and what holds long texts. Said for each row, since
 * programs do not agree on growing rows by themselves.
 *
 * @param least Height in points that each row has at least, where people write into it by hand.
 */
export function highRows(
  columns: readonly Sized[],
  rows: readonly (readonly CellValue[])[],
  { head, least = LINE }: { readonly head: number; readonly least?: number | undefined },
): HighRow[] {
  const headings = columns.map((column) => headingPoints(column));
  const points = rows.map((values) => Math.max(least, LINE * linesOf(columns, values)));
  return [Math.max(...headings), ...points].flatMap((height, at) =>
    height > LINE ? [{ row: head + at, points: height }] : [],
  );
}

/** Points of a letter in a heading that runs upwards, and of what stands before and behind its word. */
const [UPRIGHT_LETTER, UPRIGHT_ENDS] = [6.5, 8];

function headingPoints(column: Sized): number {
  return column.upright
    ? Math.ceil(column.heading.length * UPRIGHT_LETTER + UPRIGHT_ENDS)
    : LINE * linesIn(column.heading, widthOf(column) - BUTTON);
}

/** The height of one row that needs more than a line, as a list. */
export function highRow(
  columns: readonly Sized[],
  values: readonly CellValue[],
  row: number,
): HighRow[] {
  const lines = linesOf(columns, values);
  return lines > 1 ? [{ row, points: LINE * lines }] : [];
}

function linesOf(columns: readonly Sized[], values: readonly CellValue[]): number {
  const lines = columns.map((column, at) => {
    const value = values[at];
    const isLong = column.wraps && typeof value === "string";
    return isLong ? linesIn(value, widthOf(column) * LETTERS_A_DIGIT) : 1;
  });
  return Math.max(...lines);
}

/** What stands between the title of a sheet of results and its table. */
export interface Head {
  /** What the sheet answers, in one line; "" where it answers nothing. */
  readonly answer: string;
  /** What the reader must know of it, one sentence each. */
  readonly notes: readonly string[];
}

/** The lines of a head: the answer first, and on its own. */
export function headLines(
  { answer, notes }: Head,
  columns: readonly Sized[],
  most = Infinity,
): string[] {
  if (answer === "") return noteLines(notes, columns, most);
  return [answer, ...noteLines(notes, columns, most - 1)];
}

/**
 * Sentences in lines, none longer than the table is wide: a longer line would shrink the whole page in print. A sentence
 * begins a line where it does not fit behind the one before.
 *
 * @param most Lines there are, where the table below stays in its place: the last one then takes the rest.
 */
export function noteLines(
  notes: readonly string[],
  columns: readonly Sized[],
  most = Infinity,
): string[] {
  const widest = Math.max(tableWidth(columns) * LETTERS_A_DIGIT, NOTE_WIDTH);
  const lines: string[] = [];
  const add = (text: string): void => {
    const last = lines.at(-1);
    const joined = last === undefined ? text : `${last} ${text}`;
    if (last !== undefined && (joined.length <= widest || lines.length === most)) {
      lines[lines.length - 1] = joined;
    } else lines.push(text);
  };
  for (const note of notes) for (const piece of piecesOf(note, widest)) add(piece);
  while (lines.length < Math.min(NOTE_LINES, most)) lines.push("");
  return lines;
}

/** A sentence in pieces no longer than a line, parted between words. */
function piecesOf(sentence: string, widest: number): string[] {
  const pieces: string[] = [];
  for (const word of sentence.split(" ")) {
    const last = pieces.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= widest) {
      pieces[pieces.length - 1] = `${last} ${word}`;
    } else pieces.push(word);
  }
  return pieces;
}
