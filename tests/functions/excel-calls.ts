import { register } from "../../functions/excel.ts";
import { functions } from "../../functions/index.ts";
import type { CellValue } from "../../src/book/workbook/snapshot.ts";

/** What a formula hands over: a cell, or the cells of a range. */
export type Held = CellValue | readonly (readonly CellValue[])[];

/** A function of ours as Excel calls it: cells in, rows of cells out. */
export type Rows = (id: string, cells: readonly Held[]) => CellValue[][];

type Handler = (...cells: unknown[]) => unknown[][];

class CellFault {
  readonly error: string;
  constructor(code: string) {
    this.error = code;
  }
}

/** Days that a workbook of the 1904 system lags behind. */
const LAG = 1462;
/** What a blank cell may reach a function as. */
const BLANKS = [null, "", 0] as const;

/** Our functions through the door by which they are registered with Excel. */
export function excelCalls(system: 1900 | 1904): Rows {
  const handlers = new Map<string, Handler>();
  const offered = {
    associate: (id: string, handler: Handler) => handlers.set(id, handler),
    Error: CellFault,
    ErrorCode: { notAvailable: "#N/A", invalidValue: "#VALUE!" },
  };
  Object.assign(globalThis, { CustomFunctions: offered });
  register(
    () => functions,
    () => (system === 1904 ? LAG : 0),
  );
  let calls = 0;
  return (id, cells) => {
    const handler = handlers.get(id);
    if (handler === undefined) return [[{ error: "#NAME?" }]];
    calls += 1;
    const blank = BLANKS[calls % BLANKS.length] ?? null;
    const handed = cells.map((held) =>
      (Array.isArray(held) ? (held as readonly CellValue[][]) : [[held]]).map((row) =>
        row.map((cell) => cell ?? blank),
      ),
    );
    // What Excel tells of the call comes behind the arguments; those left out it hands over as null, or not at all.
    while (calls % 2 === 0 && handed.length < argumentsOf(id)) handed.push(null as never);
    return handler(...handed, { address: "Sheet1!A1" }).map((row) => row.map(cellOf));
  };
}

function argumentsOf(id: string): number {
  return functions.find((one) => one.id === id)?.args.length ?? 0;
}

function cellOf(cell: unknown): CellValue {
  if (cell instanceof CellFault) return { error: cell.error };
  return typeof cell === "number" || typeof cell === "string" || typeof cell === "boolean"
    ? cell
    : null;
}
