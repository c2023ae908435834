import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Plan } from "../../src/book/workbook/plan.ts";
import {
  type Sheet,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../../src/book/workbook/snapshot.ts";
import type { CellValue } from "../../src/book/workbook/snapshot.ts";
import { textOf } from "../../src/book/sheets/layout.ts";
import { NODE_CODEC } from "../../src/cli/files.ts";
import { run } from "../../src/cli/run.ts";
import { type Day, day, isoText, toSerial } from "../../src/core/day.ts";
import { newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";

/** A programme and the day it is judged on. */
export interface Asked {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly system: 1900 | 1904;
  readonly reportDate: Day;
}

export type Result = "order" | "budget" | "ahead";

/** The results that the panes write besides the columns, a list for each programme in turn. */
export const RESULTS: readonly (readonly Result[])[] = [
  ...[[], ["order"] as const, [], ["budget"] as const, []],
  ...[["order", "ahead"] as const, []],
];

/** What the command line says and writes of a programme. */
export interface Commanded {
  /** The file with the columns as portable formulas, and the one with the panes' results besides. */
  readonly columns: string;
  readonly written: string;
  /** The book with live formulas; a book of the 1904 system does not take them. */
  readonly live: Snapshot | null;
  /** The book with its columns, its orders and its year ahead. */
  readonly worked: Snapshot;
  readonly today: Readonly<Record<Count, number>>;
  readonly ahead: AheadJson;
  readonly order: OrderJson;
  readonly budget: BudgetJson;
}

/** Today's counts. */
export const COUNTS = ["overdue", "dueSoon", "toCheck", "notDue", "retired"] as const;
export type Count = (typeof COUNTS)[number];

/** What "ahead" says of a part. */
export interface AheadJson {
  readonly parts: readonly {
    readonly part: string;
    readonly months: readonly { readonly expected: number }[];
    readonly wear: { readonly worn: number; readonly months: number };
    readonly fits: object | null;
  }[];
}

interface LineJson {
  readonly part: string;
  readonly site: string;
  readonly units: number;
  readonly packs: number;
  readonly needBy: string;
  readonly orderBy: string;
  readonly orderOn: string;
  readonly cost: number | null;
}

interface OrderJson {
  readonly now: readonly LineJson[];
  readonly later: readonly LineJson[];
}

interface BudgetJson {
  readonly expected: number;
  readonly freight: readonly number[];
  readonly from: string;
  readonly unpriced: readonly string[];
  readonly places: readonly {
    readonly part: string;
    readonly startStock: number;
    readonly endStock: number;
    readonly quarters: readonly { readonly units: number }[];
  }[];
}

/** The bytes of a plan for an empty book. */
export function bytesOf(plan: Plan, dateSystem: 1900 | 1904): Uint8Array {
  return newWorkbook(plan, { dateSystem, codec: NODE_CODEC });
}

/** A workbook file as it stands. */
export function bookAt(path: string): Snapshot {
  return openWorkbook(readFileSync(path), { codec: NODE_CODEC }).snapshot;
}

/** Every answer of the command line, over the files of a programme. */
export async function commanded(
  folder: string,
  { name, bytes, reportDate, system }: Asked,
  results: readonly Result[],
): Promise<Commanded> {
  const at = (what: string): string => join(folder, `${name} ${what}.xlsx`);
  const said = async (
    command: string,
    from: string,
    to: string | null,
    ...more: string[]
  ): Promise<unknown> => {
    const writing = to === null ? [] : ["-o", at(to)];
    const date = ["--report-date", isoText(reportDate)];
    return ran([command, at(from), ...writing, ...more, "--json", ...date], reportDate);
  };
  writeFileSync(at("given"), bytes);
  await said("columns", "given", "columns");
  const today = (await said("today", "columns", null)) as Commanded["today"];
  const order = (await said("order", "columns", "order")) as OrderJson;
  const ahead = (await said("ahead", "order", "ahead")) as AheadJson;
  const budget = results.includes("budget") ? "budget" : null;
  const budgeted = (await said("budget", "columns", budget)) as BudgetJson;
  if (system === 1900) await said("columns", "given", "live", "--as", "live");
  return {
    columns: at("columns"),
    written: at(results.at(-1) ?? "columns"),
    live: system === 1900 ? bookAt(at("live")) : null,
    worked: bookAt(at("ahead")),
    ...{ today, ahead, order, budget: budgeted },
  };
}

/** What a run of the command line says for machines. */
async function ran(args: readonly string[], today: Day): Promise<unknown> {
  let [out, err] = ["", ""];
  const code = await run(args, {
    out: (text) => (out += text),
    err: (text) => (err += text),
    lines: async function* () {
      // Nothing is typed here.
    },
    today: () => today,
    clock: () => 0,
  });
  if (code > 1) throw new Error(`${args.join(" ")}: ${err}`);
  return JSON.parse(out) as unknown;
}

/** Dates of results for machines as the cells of a workbook hold them. */
export function serialOf(text: string, system: 1900 | 1904): number {
  return toSerial(day(text), system);
}

/** The rows of one of our sheets below its headings, by heading. */
export function rowsOf(book: Snapshot, name: string, first: string): Map<string, CellValue>[] {
  const sheet = sheetNamed(book, name);
  const head = sheet?.values.findIndex(([cell]) => cell === first) ?? -1;
  if (sheet === null || head < 0) throw new Error(`no ${name} with ${first}`);
  return sheet.values
    .slice(head + 1)
    .map(
      (_, at) =>
        new Map(
          (sheet.values[head] ?? []).map((heading, column) => [
            textOf(heading),
            valueAt(sheet, head + 1 + at, column),
          ]),
        ),
    )
    .filter((row) => [...row.values()].some((cell) => cell !== null && cell !== ""));
}

/** The column of a sheet under a heading of its register, null where there is none. */
export function columnAt(sheet: Sheet, headerRow: number, heading: string): number | null {
  const found = (sheet.values[headerRow] ?? []).indexOf(heading);
  return found < 0 ? null : found;
}
