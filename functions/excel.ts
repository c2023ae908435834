// The only file that speaks to CustomFunctions, the part of Excel that runs functions in cells.
import { type Answer, isRows, type Result } from "./answer.ts";
import type { Definition } from "./define.ts";
import { type FunctionId, IDS } from "./ids.ts";

/** A value Excel takes for a cell. */
type ExcelCell = number | string | boolean | CustomFunctions.Error;
type ExcelCells = ExcelCell[][];

/** What may be missing where Excel is older, or is not there at all. */
interface Offered {
  readonly Error?: typeof CustomFunctions.Error;
  readonly ErrorCode?: typeof CustomFunctions.ErrorCode;
}

/** Gives the functions: at once where they are there, else when they have come; fails where they cannot be had. */
type Source = () => readonly Definition[] | Promise<readonly Definition[]>;

/** What a cell shows that was calculated while the functions could not be had. */
const NOT_HERE: Answer = {
  error: "#N/A",
  message: "the functions could not be loaded; check the connection, then calculate again",
};

/**
 * Hands the functions to Excel. `shift` is the days by which the workbook's count of days lags behind
 * that of the 1900 system, asked at each call because it may become known later.
 */
export function register(source: Source, shift: () => number): void {
  for (const id of IDS) {
    CustomFunctions.associate(id, (...given: unknown[]): ExcelCells | Promise<ExcelCells> => {
      const answered = (all: readonly Definition[]): ExcelCells =>
        excelCells(calledIn(all, id, given, shift()));
      const all = source();
      return all instanceof Promise
        ? all.then(answered, () => excelCells(NOT_HERE))
        : answered(all);
    });
  }
}

function calledIn(
  all: readonly Definition[],
  id: FunctionId,
  given: readonly unknown[],
  shift: number,
): Result {
  const called = all.find((one) => one.id === id);
  if (called === undefined) return NOT_HERE;
  const cells = isCall(given.at(-1)) ? given.slice(0, -1) : given;
  return called.call(cells.slice(0, called.args.length), shift);
}

/**
 * Whether what comes last is Excel's description of the call: it stands behind the arguments, and no argument
 * is one where a host leaves out those that were omitted.
 */
function isCall(last: unknown): boolean {
  return typeof last === "object" && last !== null && !Array.isArray(last);
}

function excelCells(result: Result): ExcelCells {
  return isRows(result) ? result.map((row) => row.map(excelCell)) : [[excelCell(result)]];
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
