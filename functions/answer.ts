/** An error of a cell: the worksheet's word for it and the sentence that goes with it. */
export interface CellError {
  readonly error: "#VALUE!" | "#N/A";
  readonly message: string;
}

/** What one cell shows. */
export type Answer = number | string | boolean | CellError;

/** What a call gives: one cell, or rows of cells. */
export type Result = Answer | readonly (readonly Answer[])[];

/** Whether a result is rows of cells. */
export function isRows(result: Result): result is readonly (readonly Answer[])[] {
  return Array.isArray(result);
}
