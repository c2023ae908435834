/** What may stand between the cells of a line, the surest first. */
export const SEPARATORS = { tab: "\t", semicolon: ";", bar: "|", comma: "," } as const;

export type SeparatorName = keyof typeof SEPARATORS;

/** One row of a list. */
export interface ListRow {
  /** Line of the file it begins in, counted from 1. */
  readonly line: number;
  readonly cells: readonly string[];
}

/** A text cut into cells, and what is wrong with its quotation marks. */
export interface Separated {
  readonly rows: readonly ListRow[];
  readonly faults: readonly string[];
}

const LINE_END = /\r\n?|\n/g;

/**
 * Cuts a text into rows of cells. Source: RFC 4180, with line ends of every kind; a quotation mark
 * inside a cell that does not begin with one is a sign like any other.
 */
export function separated(text: string, separator: string): Separated {
  const rows: ListRow[] = [];
  const faults: string[] = [];
  // None of the separators is special in a class.
  const plain = new RegExp(`[^${separator}\\r\\n]*`, "y");
  let line = 1;
  let at = 0;
  while (at < text.length) {
    const begun = line;
    const cells: string[] = [];
    do {
      const cell = cellAt(text, cells.length === 0 ? at : at + 1, plain);
      cells.push(cell.text);
      if (cell.fault !== null) faults.push(cell.fault(line));
      line += cell.breaks;
      at = cell.end;
    } while (text[at] === separator);
    rows.push({ line: begun, cells });
    at += text.startsWith("\r\n", at) ? 2 : 1;
    line += 1;
  }
  return { rows, faults };
}

interface Cell {
  readonly text: string;
  /** Where the separator or line end behind it stands. */
  readonly end: number;
  /** Line breaks inside it. */
  readonly breaks: number;
  readonly fault: ((line: number) => string) | null;
}

function cellAt(text: string, start: number, plain: RegExp): Cell {
  const quoted = text[start] === '"' ? quotedCell(text, start) : null;
  plain.lastIndex = quoted?.end ?? start;
  const rest = plain.exec(text)?.[0] ?? "";
  const end = (quoted?.end ?? start) + rest.length;
  if (quoted === null) return { text: rest, end, breaks: 0, fault: null };
  const breaks = quoted.text.match(LINE_END)?.length ?? 0;
  return { text: quoted.text + rest, end, breaks, fault: faultOf(quoted.closed, rest) };
}

function faultOf(closed: boolean, rest: string): Cell["fault"] {
  if (!closed) {
    return (line) => `the quotation mark that opens in line ${line} is never closed`;
  }
  return rest.trim() === ""
    ? null
    : (line) => `line ${line} has text behind a closing quotation mark`;
}

/** A cell in quotation marks; two of them inside it are one. */
function quotedCell(
  text: string,
  start: number,
): { readonly text: string; readonly end: number; readonly closed: boolean } {
  let at = start + 1;
  for (;;) {
    const mark = text.indexOf('"', at);
    if (mark < 0) return { text: text.slice(start + 1), end: text.length, closed: false };
    if (text[mark + 1] !== '"') {
      const inside = text.slice(start + 1, mark).replaceAll('""', '"');
      return { text: inside, end: mark + 1, closed: true };
    }
    at = mark + 2;
  }
}

/** Rows that show something, and how many cells most of them have. */
export interface Width {
  readonly cells: number;
  /** Share of the rows that have so many. */
  readonly share: number;
}

/** How many cells most rows have. */
export function widthOf(rows: readonly ListRow[]): Width {
  const seen = new Map<number, number>();
  let filled = 0;
  for (const { cells } of rows) {
    if (isEmpty(cells)) continue;
    filled += 1;
    seen.set(cells.length, (seen.get(cells.length) ?? 0) + 1);
  }
  let most: Width = { cells: 0, share: 0 };
  for (const [cells, count] of seen) {
    const share = count / filled;
    if (share > most.share || (share === most.share && cells > most.cells)) most = { cells, share };
  }
  return most;
}

/** Whether nothing stands in any cell. */
export function isEmpty(cells: readonly string[]): boolean {
  return cells.every((cell) => cell.trim() === "");
}

/** Rows that must agree for their separator to be believed at once. */
const AGREED = 0.8;
/** Lines by which the separator is told. */
const SAMPLE_LINES = 500;

/** The line some programs begin a list with. */
const SAYS_SEPARATOR = /^sep=(.)(?:\r\n?|\n|$)/i;

/** The separator a text says itself, and the text below that line. */
export function saidInText(
  text: string,
): { readonly separator: string; readonly below: string } | null {
  const [line, separator] = SAYS_SEPARATOR.exec(text) ?? [];
  if (line === undefined || separator === undefined) return null;
  return { separator, below: text.slice(line.length) };
}

/**
 * What separates the cells of a text: of those by which most rows are equally wide the one that cuts
 * finest, since a decimal comma cuts no finer than the separator does. Null where nothing separates.
 */
export function separatorOf(text: string): SeparatorName | null {
  let end = 0;
  for (let lines = 0; lines < SAMPLE_LINES && end >= 0; lines += 1)
    end = text.indexOf("\n", end + 1);
  const sample = end < 0 ? text : text.slice(0, end);
  let best: { readonly name: SeparatorName; readonly width: Width } | null = null;
  for (const [name, separator] of Object.entries(SEPARATORS) as [SeparatorName, string][]) {
    const width = widthOf(separated(sample, separator).rows);
    if (width.cells < 2) continue;
    if (best === null || isBetter(width, best.width)) best = { name, width };
  }
  return best?.name ?? null;
}

function isBetter(one: Width, other: Width): boolean {
  const [agreed, otherAgreed] = [one.share >= AGREED, other.share >= AGREED];
  if (agreed !== otherAgreed) return agreed;
  return agreed ? one.cells > other.cells : one.share > other.share;
}
