// The only file that speaks to CustomFunctions, the part of Excel that runs functions in cells.
import { type Answer, type Definition, isRows } from "./define.ts";

/** A value Excel takes for a cell. */
type ExcelCell = number | string | boolean | CustomFunctions.Error;

/** What may be missing where Excel is older, or is not there at all. */
interface Offered {
  readonly Error?: typeof CustomFunctions.Error;
  readonly ErrorCode?: typeof CustomFunctions.ErrorCode;
}

/**
 * Hands the functions to Excel. `shift` is the days by which the workbook's count of days lags behind
 * that of the 1900 system, asked at each call because it may become known later.
 */
export function register(functions: readonly Definition[], shift: () => number): void {
  for (const { id, args, call } of functions) {
    CustomFunctions.associate(id, (...given: unknown[]): ExcelCell[][] => {
      const cells = isCall(given.at(-1)) ? given.slice(0, -1) : given;
      const result = call(cells.slice(0, args.length), shift());
      return isRows(result) ? result.map((row) => row.map(excelCell)) : [[excelCell(result)]];
    });
  }
}

/**
 * Whether what comes last is Excel's description of the call: it stands behind the arguments, and no argument
 * is one where a host leaves out those that were omitted.
 */
function isCall(last: unknown): boolean {
  return typeof last === "object" && last !== null && !Array.isArray(last);
}

/** An error with its sentence; as plain text where Excel offers no error to carry one. */
function excelCell(answer: Answer): ExcelCell {
  if (typeof answer !== "object") return answer;
  const { Error: CellFault, ErrorCode: codes } = offered();
  if (!CellFault || !codes) return `${answer.error} ${answer.message}`;
  const code = answer.error === "#N/A" ? codes.notAvailable : codes.invalidValue;
  return new CellFault(code, answer.message);
}

function offered(): Offered {
  return CustomFunctions;
}
