import { eachSetting } from "../../../src/book/records/settings.ts";
import {
  type CellValue,
  type Sheet,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../../../src/book/workbook/snapshot.ts";

/** A cell that people fill in. */
export interface Input {
  /** What it holds, for people: "Parts: Lead time (days)". */
  readonly name: string;
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
  readonly value: CellValue;
  /** Shown as a date. */
  readonly isDate: boolean;
}

const OURS: Readonly<Record<string, number>> = {
  Parts: 2,
  Sites: 2,
  Holidays: 2,
  Shelf: 2,
  "Job log": 2,
};

/** Every cell that people fill in, by what it holds. */
export function inputsOf(snapshot: Snapshot): ReadonlyMap<string, readonly Input[]> {
  const found = new Map<string, Input[]>();
  for (const sheet of snapshot.sheets) {
    for (const input of inputsIn(sheet, snapshot)) {
      const there = found.get(input.name);
      if (there === undefined) found.set(input.name, [input]);
      else there.push(input);
    }
  }
  return found;
}

function inputsIn(sheet: Sheet, snapshot: Snapshot): Input[] {
  if (sheet.name === "Setup") return settingsIn(sheet, snapshot);
  const head = OURS[sheet.name] ?? sheet.values.findIndex((row) => row.includes("Device"));
  const headings = sheet.values[head] ?? [];
  return sheet.values.flatMap((_, row) =>
    row <= head
      ? []
      : headings.flatMap((heading, column): Input[] => {
          const value = valueAt(sheet, row, column);
          if (value === null) return [];
          const title = typeof heading === "string" ? heading : "sessions of a month";
          const isDate = isDated(sheet, snapshot, row, column);
          return [
            { name: `${sheet.name}: ${title}`, sheet: sheet.name, row, column, value, isDate },
          ];
        }),
  );
}

function settingsIn(sheet: Sheet, snapshot: Snapshot): Input[] {
  const labels = new Set(eachSetting().map(([, { label }]) => label));
  return sheet.values.flatMap((cells, row): Input[] => {
    const [label, value] = cells;
    if (typeof label !== "string" || !labels.has(label) || (value ?? null) === null) return [];
    const isDate = isDated(sheet, snapshot, row, 1);
    return [
      { name: `Setup: ${label}`, sheet: sheet.name, row, column: 1, value: value ?? null, isDate },
    ];
  });
}

function isDated(sheet: Sheet, { formats }: Snapshot, row: number, column: number): boolean {
  return formats[sheet.formats[row]?.[column] ?? 0] === "yyyy-mm-dd";
}

/** The book with one cell changed. */
export function withCell(
  snapshot: Snapshot,
  { sheet, row, column }: Pick<Input, "sheet" | "row" | "column">,
  value: CellValue,
): Snapshot {
  return withSheet(snapshot, sheet, (old) => ({
    ...old,
    values: old.values.map((cells, at) =>
      at === row ? cells.map((cell, where) => (where === column ? value : cell)) : cells,
    ),
  }));
}

/** The book with a row written once more at the end of its sheet. */
export function withRowTwice(snapshot: Snapshot, { sheet, row }: Input): Snapshot {
  return withSheet(snapshot, sheet, (old) => ({
    ...old,
    values: [...old.values, old.values[row] ?? []],
    formats: [...old.values.map((_, at) => old.formats[at] ?? []), old.formats[row] ?? []],
  }));
}

/** The book with a row hidden, by hand or by a filter. */
export function withRowHidden(
  snapshot: Snapshot,
  { sheet, row }: Input,
  by: "hand" | "filter",
): Snapshot {
  return withSheet(snapshot, sheet, (old) => ({
    ...old,
    hiddenRows: new Set([row]),
    filter:
      by === "hand"
        ? null
        : {
            active: true,
            area: {
              ...{ firstRow: 0, firstColumn: 0 },
              lastRow: old.values.length - 1,
              lastColumn: Math.max(...old.values.map((cells) => cells.length)) - 1,
            },
          },
  }));
}

function withSheet(snapshot: Snapshot, name: string, change: (sheet: Sheet) => Sheet): Snapshot {
  const old = sheetNamed(snapshot, name);
  return { ...snapshot, sheets: snapshot.sheets.map((one) => (one === old ? change(one) : one)) };
}
