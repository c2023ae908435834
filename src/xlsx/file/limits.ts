/** How large a workbook may be; beyond it a file is refused before it fills the memory. */
export interface Limits {
  /** Bytes of the file. */
  readonly file: number;
  /** Bytes of one part, unpacked. */
  readonly part: number;
  /** Bytes of all parts, unpacked. */
  readonly total: number;
  /** Times a part of more than a megabyte may grow when unpacked; honest sheets stay under 100. */
  readonly ratio: number;
  readonly parts: number;
  /** Cells of all sheets, blank ones between filled ones included. */
  readonly cells: number;
  /** What to do about a book beyond them. */
  readonly remedy: string;
}

const MEGABYTE = 1 << 20;

/** Room for a million rows; a part must be one text, and the engine has none longer than 536,870,888 characters. */
export const LIMITS: Limits = {
  file: 200 * MEGABYTE,
  part: 500 * MEGABYTE,
  total: 1000 * MEGABYTE,
  ratio: 300,
  parts: 20_000,
  cells: 50_000_000,
  remedy: "split it into smaller workbooks",
};

/** Rows and columns of the grid. */
export const MOST_ROWS = 1_048_576;
export const MOST_COLUMNS = 16_384;

/** Characters a cell's text and a formula may have. */
export const MOST_TEXT = 32_767;
export const MOST_FORMULA = 8_192;

/** Cell formats of a workbook; with more of them Excel offers a repair. Source: Excel specifications and limits. */
export const MOST_CELL_FORMATS = 65_490;
