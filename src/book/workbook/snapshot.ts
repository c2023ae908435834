/**
 * A workbook as plain data: what any host (a file, Excel, the workbench grid) hands over for reading.
 * Rows and columns count from zero here; people see row + 1 and a letter.
 */

/** A cell that shows an error, such as #N/A. */
export interface CellError {
  readonly error: string;
}

/** What a cell holds; null is a blank cell. Dates are numbers with a date format. */
export type CellValue = string | number | boolean | CellError | null;

/** A block of cells, first and last row and column included. */
export interface Area {
  readonly firstRow: number;
  readonly firstColumn: number;
  readonly lastRow: number;
  readonly lastColumn: number;
}

/** A native table. */
export interface Table {
  readonly name: string;
  readonly area: Area;
  readonly headings: readonly string[];
  readonly totalsRow: boolean;
}

/** A sheet's filter; active when it hides rows by a criterion. */
export interface Filter {
  readonly area: Area;
  readonly active: boolean;
}

/** One worksheet. */
export interface Sheet {
  readonly name: string;
  readonly visibility: "visible" | "hidden" | "veryHidden";
  readonly protected: boolean;
  /** values[row][column]; rows and cells after the last used one are simply absent. */
  readonly values: readonly (readonly CellValue[])[];
  /** formats[row][column] is an index into the book's formats; absent means General. */
  readonly formats: readonly (readonly number[])[];
  /** Formula text without "=", in English A1 form, by cellKey; our functions read SPARE.NAME(. */
  readonly formulas: ReadonlyMap<number, string>;
  readonly hiddenRows: ReadonlySet<number>;
  readonly hiddenColumns: ReadonlySet<number>;
  readonly merges: readonly Area[];
  readonly filter: Filter | null;
  readonly tables: readonly Table[];
  /** Cells whose text is struck through in whole or in part, by cellKey; absent where there are none. */
  readonly struck?: ReadonlySet<number>;
  /** Formulas that call us but that the program no longer leads to the add-in, by cellKey; absent where there are none. */
  readonly lost?: ReadonlySet<number>;
  /** What people wrote to cells as notes and comments, by cellKey; absent where there are none or the host tells none. */
  readonly comments?: ReadonlyMap<number, string>;
  /** What people wrote in shapes and text boxes over the cells; absent where there are none or the host tells none. */
  readonly shapes?: readonly string[];
}

/** A defined name; sheet is null when it belongs to the whole book. */
export interface DefinedName {
  readonly name: string;
  readonly sheet: string | null;
  readonly refersTo: string;
}

/** A whole workbook. */
export interface Snapshot {
  readonly dateSystem: 1900 | 1904;
  /** Number format codes; index 0 is General. */
  readonly formats: readonly string[];
  readonly sheets: readonly Sheet[];
  readonly names: readonly DefinedName[];
  /** Somebody protected the structure: no sheet may be added. */
  readonly fixedSheets?: boolean;
  /** Absent where formulas are calculated by themselves. */
  readonly calculation?: "manual";
}

const MOST_COLUMNS = 16384;
const LETTERS = 26;

/** One number for a cell, the key of a sheet's formulas. */
export function cellKey(row: number, column: number): number {
  return row * MOST_COLUMNS + column;
}

/** The cell of a key. */
export function cellAt(key: number): { readonly row: number; readonly column: number } {
  return { row: Math.floor(key / MOST_COLUMNS), column: key % MOST_COLUMNS };
}

/** The value at a cell, null where the sheet has none. */
export function valueAt(sheet: Sheet, row: number, column: number): CellValue {
  return sheet.values[row]?.[column] ?? null;
}

/** Letters of a column: 0 is A, 26 is AA. */
export function columnLetters(column: number): string {
  const letter = String.fromCharCode(65 + (column % LETTERS));
  return column < LETTERS ? letter : columnLetters(Math.floor(column / LETTERS) - 1) + letter;
}

/** Column of letters: "A" is 0, "AA" is 26. */
export function columnOf(letters: string): number {
  let column = 0;
  for (const letter of letters.toUpperCase()) column = column * LETTERS + letter.charCodeAt(0) - 64;
  return column - 1;
}

/** A cell as people write it: address(0, 0) is A1. */
export function address(row: number, column: number): string {
  return `${columnLetters(column)}${row + 1}`;
}

/** An area as people write it, a single cell without the colon. */
export function areaText(area: Area): string {
  const first = address(area.firstRow, area.firstColumn);
  const last = address(area.lastRow, area.lastColumn);
  return first === last ? first : `${first}:${last}`;
}

/** A sheet's name as it stands in a formula, quoted where a formula needs it. */
export function sheetInFormula(name: string): string {
  return /^[A-Za-z_][A-Za-z0-9_]*$/.test(name) && !/^[A-Za-z]{1,3}[0-9]+$/.test(name)
    ? name
    : `'${name.replaceAll("'", "''")}'`;
}

/** The sheet of that name, case ignored as spreadsheets do, or null. */
export function sheetNamed(snapshot: Snapshot, name: string): Sheet | null {
  const wanted = name.toLowerCase();
  return snapshot.sheets.find((sheet) => sheet.name.toLowerCase() === wanted) ?? null;
}

/** Whether a value is a cell error. */
export function isCellError(value: CellValue): value is CellError {
  return typeof value === "object" && value !== null;
}

/** Whether two cells hold the same. */
export function sameValue(one: CellValue, other: CellValue): boolean {
  if (one === other) return true;
  return isCellError(one) && isCellError(other) && one.error === other.error;
}
