import { refusals } from "../../src/book/workbook/expect.ts";
import type { Plan } from "../../src/book/workbook/plan.ts";
import { type Receipt, receiptOf } from "../../src/book/workbook/receipt.ts";
import { takeBackBars } from "../../src/book/workbook/take-back.ts";
import {
  address,
  areaText,
  cellKey,
  isCellError,
  type Sheet,
  type Snapshot,
  valueAt,
} from "../../src/book/workbook/snapshot.ts";
import { applyPlan, openWorkbook } from "../../src/xlsx/index.ts";
import { excelHost } from "../../taskpane/excel/host.ts";
import type { Place } from "../../taskpane/host.ts";
import { offPaper, onPaper } from "../../taskpane/paper.ts";
import { knowAnswers } from "../stand-in/answers.ts";
import { quietBench } from "./sheets.ts";
import { type BookModel, modelOf } from "../stand-in/model.ts";
import { asWritten } from "../stand-in/rendering.ts";
import { standInFor } from "../stand-in/script.ts";
import { HOSTILE, type Temper } from "../stand-in/temper.ts";

/** A host as the contract sees it: it takes plans, and shows what it holds. */
export interface Trial {
  snapshot(): Promise<Snapshot>;
  apply(plan: Plan): Promise<Receipt | null>;
  /** Absent where a host keeps the file as it was instead. */
  readonly takeBack?: (receipt: Receipt) => Promise<readonly string[]>;
  /** Shows a cell, and says which is selected; absent where there is no screen. */
  readonly select?: (place: Place) => Promise<void>;
  readonly selected?: () => Promise<Place | null>;
  /** A person types into a cell. */
  readonly type?: (sheet: string, cell: readonly [number, number], text: string) => void;
}

/** The bytes of a workbook file as a host. */
export function fileTrial(bytes: Uint8Array): Trial {
  let now = bytes;
  return {
    snapshot: () => Promise.resolve(openWorkbook(now).snapshot),
    apply(plan) {
      now = applyPlan(openWorkbook(now), plan);
      return Promise.resolve(null);
    },
  };
}

/** Paper as a host: it refuses what the others refuse. */
export function paperTrial(book: Snapshot): Trial {
  let now = book;
  return {
    snapshot: () => Promise.resolve(now),
    apply(plan) {
      const reasons = refusals(now, plan);
      if (reasons.length > 0) {
        return Promise.reject(new Error(`Nothing was changed: ${reasons.join("; ")}.`));
      }
      const receipt = receiptOf(now, plan);
      now = onPaper(now, plan);
      return Promise.resolve(receipt);
    },
    takeBack(receipt) {
      const bars = takeBackBars(now, receipt);
      if (bars.length > 0) return Promise.reject(new Error(bars.join(" ")));
      now = offPaper(now, receipt);
      return Promise.resolve([]);
    },
    type(sheet, [row, column], text) {
      const cells = { column, rows: [row], values: [text] };
      const edit = { kind: "fillCells", sheet, blocks: [cells], expects: {} } as const;
      now = onPaper(now, { summary: "typed", edits: [edit] });
    },
  };
}

/** Excel as a host, over a workbook in memory. What it renders anew is told as it was written, to compare. */
export function excelTrial(
  book: Snapshot,
  temper: Partial<Temper> = {},
): Trial & { readonly model: BookModel; readonly shown: () => Promise<Snapshot> } {
  const model = modelOf(book, temper);
  const host = (): ReturnType<typeof excelHost> => {
    standInFor(model);
    return excelHost({ locale: "en", live: true, groupsUndo: false });
  };
  return {
    model,
    shown: () => host().snapshot(),
    snapshot: async () => unrendered(await host().snapshot()),
    apply(plan) {
      knowAnswers(model, plan);
      return host().apply(plan);
    },
    takeBack: (receipt) => host().takeBack(receipt),
    select: (place) => host().select(place),
    selected: () => host().selected(),
    type(name, [row, column], text) {
      const sheet = model.sheets.find((one) => one.name === name);
      const cell = { value: text, formula: null, format: "General" };
      sheet?.cells.set(cellKey(row, column), cell);
    },
  };
}

function unrendered(book: Snapshot): Snapshot {
  return {
    ...book,
    sheets: book.sheets.map((sheet) => ({
      ...sheet,
      formulas: new Map([...sheet.formulas].map(([key, text]) => [key, asWritten(text)])),
    })),
    names: book.names.map((name) => ({ ...name, refersTo: asWritten(name.refersTo) })),
  };
}

/** The workbench as a host, over the bytes of a file and a grid without a screen. */
export async function workbenchTrial(bytes: Uint8Array): Promise<Trial> {
  const { bench, grid } = quietBench();
  await bench.openFile(bytes);
  return {
    snapshot: () => bench.snapshot(),
    apply: (plan) => bench.apply(plan),
    takeBack: (receipt) => bench.takeBack(receipt),
    select: (place) => bench.select(place),
    selected: () => bench.selected(),
    type: (sheet, cell, text) => {
      grid.type(sheet, cell, { value: text });
    },
  };
}

/** Every host, each over the bytes of a workbook file. */
export const HOSTS: readonly {
  readonly name: string;
  readonly begin: (bytes: Uint8Array) => Promise<Trial>;
}[] = [
  { name: "a file", begin: (bytes) => Promise.resolve(fileTrial(bytes)) },
  { name: "paper", begin: (bytes) => Promise.resolve(paperTrial(snapshotOf(bytes))) },
  { name: "Excel", begin: (bytes) => Promise.resolve(excelTrial(snapshotOf(bytes))) },
  {
    name: "a hostile Excel",
    begin: (bytes) => Promise.resolve(excelTrial(snapshotOf(bytes), HOSTILE)),
  },
  { name: "the workbench", begin: workbenchTrial },
];

function snapshotOf(bytes: Uint8Array): Snapshot {
  return openWorkbook(bytes).snapshot;
}

/** Where two workbooks differ: cells with values, formulas and formats, tables, names, sheets. */
export function differences(one: Snapshot, other: Snapshot): string[] {
  const sheets = new Set([...one.sheets, ...other.sheets].map(({ name }) => name));
  const namesOf = ({ names }: Snapshot): string =>
    names
      .map(({ name, sheet, refersTo }) => `${sheet ?? ""}!${name}=${refersTo}`)
      .sort()
      .join("; ");
  return [
    ...pair("date system", one.dateSystem, other.dateSystem),
    ...pair("sheets", orderOf(one), orderOf(other)),
    ...pair("names", namesOf(one), namesOf(other)),
    ...[...sheets].flatMap((name) => {
      const left = one.sheets.find((sheet) => sheet.name === name);
      const right = other.sheets.find((sheet) => sheet.name === name);
      if (left === undefined || right === undefined) return [];
      return sheetDifferences([one, left], [other, right]);
    }),
  ];
}

type Placed = readonly [Snapshot, Sheet];

function orderOf({ sheets }: Snapshot): string {
  return sheets.map(({ name, visibility }) => `${name} ${visibility}`).join(", ");
}

function pair(what: string, one: string | number, other: string | number): string[] {
  return one === other ? [] : [`${what}: ${one} / ${other}`];
}

function sheetDifferences([bookOne, one]: Placed, [bookOther, other]: Placed): string[] {
  const rows = Math.max(one.values.length, other.values.length);
  const found: string[] = [];
  for (let row = 0; row < rows; row += 1) {
    const width = Math.max(one.values[row]?.length ?? 0, other.values[row]?.length ?? 0);
    for (let column = 0; column < width; column += 1) {
      const left = cellText(bookOne, one, [row, column]);
      const right = cellText(bookOther, other, [row, column]);
      found.push(...pair(`${one.name}!${address(row, column)}`, left, right));
    }
  }
  const tables = ({ tables }: Sheet): string =>
    tables.map((table) => JSON.stringify({ ...table, area: areaText(table.area) })).join("; ");
  const rest = (sheet: Sheet): string =>
    JSON.stringify([
      [...sheet.hiddenRows],
      [...sheet.hiddenColumns],
      sheet.merges.map(areaText),
      sheet.protected,
    ]);
  found.push(...pair(`${one.name} tables`, tables(one), tables(other)));
  found.push(...pair(`${one.name} hidden, merged`, rest(one), rest(other)));
  found.push(
    ...pair(`${one.name} filter`, JSON.stringify(one.filter), JSON.stringify(other.filter)),
  );
  return found;
}

/** Value with its kind, formula and number format; a blank cell is told by its formula alone. */
function cellText(book: Snapshot, sheet: Sheet, [row, column]: readonly [number, number]): string {
  const value = valueAt(sheet, row, column);
  const formula = sheet.formulas.get(cellKey(row, column));
  const shown = isCellError(value) ? value.error : `${typeof value} ${JSON.stringify(value)}`;
  if ((value === null || value === "") && formula === undefined) return "blank";
  const format = book.formats[sheet.formats[row]?.[column] ?? 0] ?? "General";
  return `${shown}${formula === undefined ? "" : ` =${formula}`} ${format}`;
}
