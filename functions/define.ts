import { InputError, NoAnswerError } from "../src/core/errors.ts";
import { type Answer, type CellError, isRows, type Result } from "./answer.ts";
import type { FunctionId } from "./ids.ts";
import { type Arg, type Args, type Read, readCell, requirement } from "./kind.ts";

/** What stands before the name of every function in a worksheet. */
export const NAMESPACE = "SPARE";

/** A call with what it must give; tests run every one of them. */
export interface Example {
  /** One entry an argument: a value, null when left out, a list for a column. */
  readonly cells: readonly unknown[];
  readonly gives: Result;
}

/** What a number in an answer is; a date is a serial number. */
type AnswerKind = "number" | "date" | "share" | "text";

/** What a function gives: one answer, or rows of answers that spill over the cells beside it. */
type Gives =
  | { readonly kind: AnswerKind; readonly about: string }
  | {
      readonly kind: "rows";
      readonly about: string;
      readonly columns: readonly { readonly name: string; readonly kind: AnswerKind }[];
    };

interface Said {
  /** Name in the worksheet, without the namespace. */
  readonly id: FunctionId;
  /** One line of at most 255 characters, the most important words first. */
  readonly about: string;
  readonly gives: Gives;
  /** Where the rule comes from. */
  readonly see: string;
  readonly examples: readonly Example[];
}

/** A worksheet function as everything outside sees it. */
export interface Definition extends Said {
  readonly args: readonly (Arg & { readonly name: string })[];
  /** Runs it on cells as a host hands them over; `shift` as in readCell. Never throws. */
  readonly call: (cells: readonly unknown[], shift?: number) => Result;
}

type Given<A extends Args> = { readonly [K in keyof A]: Read<A[K]> };
type RowGiven<A extends Args> = {
  readonly [K in keyof A as A[K] extends { takes: "row" } ? K : never]: Read<A[K]>;
};
type OnceGiven<A extends Args> = {
  readonly [K in keyof A as A[K] extends { takes: "row" } ? never : K]: Read<A[K]>;
};

type Named = Definition["args"];
type Values = Readonly<Record<string, unknown>>;

/** A worksheet function that takes its arguments together. */
export function define<const A extends Args>(
  spec: Said & { readonly args: A; readonly run: (given: Given<A>) => Result },
): Definition {
  return finish(spec, (args, cells, shift) => spec.run(readOnce(args, cells, shift) as Given<A>));
}

/**
 * A worksheet function of a row: it answers in the shape it is asked, one cell or a column. `run` is
 * given the arguments that hold for all rows once, and gives what is then done with each row.
 */
export function defineRow<const A extends Args>(
  spec: Said & {
    readonly args: A;
    readonly run: (once: OnceGiven<A>) => (row: RowGiven<A>) => Answer;
  },
): Definition {
  return finish(spec, (args, cells, shift) => {
    const each = spec.run(readOnce(args, cells, shift) as OnceGiven<A>);
    return overRows(args, cells, shift, (row) => each(row as RowGiven<A>));
  });
}

function finish(
  { args, id, about, gives, see, examples }: Said & { readonly args: Args },
  run: (args: Named, cells: readonly unknown[], shift: number) => Result,
): Definition {
  const named = Object.entries(args).map(([name, arg]) => ({ ...arg, name }));
  const call = (cells: readonly unknown[], shift = 0): Result => {
    const result = answerOr(() => run(named, cells, shift));
    return shift === 0 ? result : withDates(gives, result, (serial) => serial - shift);
  };
  return { id, about, gives, see, examples, args: named, call };
}

/** Errors become data here and nowhere else. */
function answerOr<R>(run: () => R): R | CellError {
  try {
    return run();
  } catch (error) {
    if (error instanceof InputError) return { error: "#VALUE!", message: error.message };
    if (error instanceof NoAnswerError) return { error: "#N/A", message: error.message };
    return { error: "#N/A", message: `internal fault, please report it: ${String(error)}` };
  }
}

/** A result with every date in it put otherwise, as ISO text or counted from another day. */
export function withDates(
  gives: Gives,
  result: Result,
  put: (serial: number) => number | string,
): Result {
  const one = (answer: Answer, kind: AnswerKind | undefined): Answer =>
    kind === "date" && typeof answer === "number" ? put(answer) : answer;
  if (gives.kind === "rows") {
    const kinds = gives.columns.map(({ kind }) => kind);
    if (!kinds.includes("date") || !isRows(result)) return result;
    return result.map((row) => row.map((answer, column) => one(answer, kinds[column])));
  }
  if (gives.kind !== "date") return result;
  return isRows(result)
    ? result.map((row) => row.map((answer) => one(answer, "date")))
    : one(result, "date");
}

/** The cells of a range as rows; null for a single cell. A plain list is a column. */
function rowsOf(cell: unknown): readonly (readonly unknown[])[] | null {
  if (!Array.isArray(cell)) return null;
  const rows = cell.map((row: unknown): unknown[] => (Array.isArray(row) ? row : [row]));
  return rows.length <= 1 && (rows[0]?.length ?? 0) <= 1 ? null : rows;
}

/** A range of one cell is that cell, an empty one a blank. */
function single(cell: unknown): unknown {
  if (!Array.isArray(cell)) return cell;
  const inner: unknown = cell.length > 1 ? cell : (cell[0] ?? null);
  return Array.isArray(inner) && inner.length <= 1 ? (inner[0] ?? null) : inner;
}

function readOnce(args: Named, cells: readonly unknown[], shift: number): Values {
  if (cells.length > args.length) {
    throw new InputError("arguments", `at most ${args.length}`, cells.length);
  }
  const values: Record<string, unknown> = {};
  args.forEach((arg, index) => {
    const cell = cells[index];
    if (arg.takes === "range") values[arg.name] = readRange(cell, arg, shift);
    if (arg.takes === undefined) {
      const value = readCell(single(cell), arg, arg.name, shift);
      if (value === null && !arg.optional) throw new InputError(arg.name, requirement(arg), null);
      values[arg.name] = value;
    }
  });
  return values;
}

function readRange(cell: unknown, arg: Named[number], shift: number): unknown[] {
  const rows = rowsOf(cell) ?? [[single(cell)]];
  const values = rows.flatMap((row) => row.map((one) => readCell(one, arg, arg.name, shift)));
  return arg.blank === "kept" ? values : values.filter((value) => value !== null);
}

function overRows(
  args: Named,
  cells: readonly unknown[],
  shift: number,
  each: (row: Values) => Answer,
): Result {
  const columns = args.flatMap((arg, index) =>
    arg.takes === "row" ? [{ arg, rows: rowsOf(cells[index]), cell: single(cells[index]) }] : [],
  );
  const one = (row: number, column: number): Answer => {
    const values: Record<string, unknown> = {};
    for (const { arg, rows, cell } of columns) {
      const value = readCell(rows === null ? cell : rows[row]?.[column], arg, arg.name, shift);
      if (value === null && !(arg.optional ?? arg.blank ?? arg.raw)) return "";
      values[arg.name] = value;
    }
    return each(values);
  };
  const shape = columns.find(({ rows }) => rows !== null)?.rows;
  if (!shape) return one(0, 0);
  const width = shape[0]?.length ?? 0;
  for (const { arg, rows } of columns) {
    if (rows !== null && (rows.length !== shape.length || rows[0]?.length !== width)) {
      const wanted = `a single cell or as many cells as the others (${shape.length})`;
      throw new InputError(arg.name, wanted, rows.length);
    }
  }
  return shape.map((line, row) => line.map((_, column) => answerOr(() => one(row, column))));
}
