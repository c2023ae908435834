import type { Definition } from "../../../functions/define.ts";
import type { Arg } from "../../../functions/kind.ts";
import {
  type Area,
  areaText,
  columnOf,
  sheetInFormula,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../../../src/book/workbook/snapshot.ts";
import { civilDate, isDay, isoText } from "../../../src/core/day.ts";
import type { Block } from "../../host.ts";
import { dayTyped } from "./show.ts";

/** What was typed for an argument: cells as a function takes them, and the text of it in a formula. */
export interface TypedArg {
  readonly cells: unknown;
  readonly text: string;
}

const REFERENCE =
  /^(?:(?:'((?:[^']|'')+)'|([\p{L}\p{N}_ .]+))!)?\$?([A-Z]{1,3})\$?(\d+)(?::\$?([A-Z]{1,3})\$?(\d+))?$/iu;

/** Reads what was typed: a reference to cells, one value, or several parted by semicolons. */
export function readTyped(typed: string, arg: Arg, snapshot: Snapshot | null): TypedArg {
  const text = typed.trim();
  if (text === "") return { cells: null, text: "" };
  const block = snapshot === null ? null : blockNamed(text);
  if (snapshot !== null && block !== null) {
    const cells = cellsAt(snapshot, block);
    if (cells !== null) return { cells, text: blockText(block) };
  }
  if (arg.takes === undefined || !text.includes(";")) {
    const value = valueOf(text);
    return { cells: value, text: constant(value, isDate(text)) };
  }
  const values = text.split(";").map((one) => valueOf(one.trim()));
  // Constants in braces hold no calls, so that dates are numbers there.
  return { cells: values, text: `{${values.map((one) => constant(one ?? "", false)).join(";")}}` };
}

/** A block as it is typed. */
export function blockText({ sheet, area }: Block): string {
  return `${sheetInFormula(sheet)}!${areaText(area)}`;
}

function blockNamed(text: string): Block | null {
  const found = REFERENCE.exec(text);
  if (found === null) return null;
  const [, quoted, plain, column = "", row = "", toColumn = column, toRow = row] = found;
  const sheet = quoted?.replaceAll("''", "'") ?? plain?.trim();
  if (sheet === undefined) return null;
  const [left, right] = [columnOf(column), columnOf(toColumn)];
  const [top, bottom] = [Number(row) - 1, Number(toRow) - 1];
  const area: Area = {
    firstRow: Math.min(top, bottom),
    lastRow: Math.max(top, bottom),
    firstColumn: Math.min(left, right),
    lastColumn: Math.max(left, right),
  };
  return area.firstRow < 0 ? null : { sheet, area };
}

/** Values of a block; rows below the last used one are not there. */
function cellsAt(snapshot: Snapshot, { sheet: name, area }: Block): unknown[][] | null {
  const sheet = sheetNamed(snapshot, name);
  if (sheet === null) return null;
  const last = Math.max(area.firstRow, Math.min(area.lastRow, sheet.values.length - 1));
  return Array.from({ length: last - area.firstRow + 1 }, (_, row) =>
    Array.from({ length: area.lastColumn - area.firstColumn + 1 }, (__, column) =>
      valueAt(sheet, area.firstRow + row, area.firstColumn + column),
    ),
  );
}

function isDate(text: string): boolean {
  return /^\d{4}-\d{2}-\d{2}$/.test(text) && dayTyped(text) !== null;
}

function valueOf(text: string): number | string | boolean | null {
  if (text === "") return null;
  if (isDate(text)) return dayTyped(text);
  if (/^(?:true|false)$/i.test(text)) return text.toLowerCase() === "true";
  const number = Number(text);
  return Number.isFinite(number) ? number : text;
}

function constant(value: number | string | boolean | null, date: boolean): string {
  if (date && typeof value === "number" && isDay(value)) {
    const { year, month, dayOfMonth } = civilDate(value);
    return `DATE(${year},${month},${dayOfMonth})`;
  }
  if (typeof value === "string") return `"${value.replaceAll('"', '""')}"`;
  return value === null ? "" : String(value).toUpperCase();
}

/** The first example of a function as it would be typed. */
export function exampleTyped({ args, examples }: Definition): string[] {
  const cells = examples[0]?.cells ?? [];
  return args.map((arg, at) => {
    const one = (value: unknown): string => {
      if (arg.kind === "date" && typeof value === "number" && isDay(value)) return isoText(value);
      const isPlain = typeof value === "string" || typeof value === "number";
      return isPlain || typeof value === "boolean" ? String(value) : "";
    };
    const cell: unknown = cells[at];
    return Array.isArray(cell) ? cell.map(one).join("; ") : one(cell);
  });
}

/** The formula of a call, arguments left out at the end not written. */
export function callText(id: string, args: readonly TypedArg[]): string {
  const texts = args.map(({ text }) => text);
  while (texts.at(-1) === "") texts.pop();
  return `SPARE.${id}(${texts.join(",")})`;
}
