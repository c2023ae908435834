import type { CellValue } from "../../src/book/workbook/snapshot.ts";
import type { Cell } from "./model.ts";
import { Fault } from "./thing.ts";

/** Characters a cell may hold, and a formula. */
const MOST_TEXT = 32_767;
const MOST_FORMULA = 8_192;

const ERRORS = ["#N/A", "#REF!", "#VALUE!", "#NAME?", "#DIV/0!", "#NUM!", "#NULL!", "#SPILL!"];

/** What a cell holds after something was put into it, read as if somebody typed it. */
export function typedInto(put: unknown, format: string): Omit<Cell, "format"> {
  if (typeof put === "boolean") return { value: put, formula: null };
  if (typeof put === "number") {
    if (!Number.isFinite(put)) throw new Fault("InvalidArgument", "a number must be finite");
    // A number typed into a cell of the text format is kept as text.
    return { value: format === "@" ? String(put) : put, formula: null };
  }
  if (typeof put !== "string") throw new Fault("InvalidArgument", `${typeof put} is no cell value`);
  if (put.length > MOST_TEXT + 1) throw new Fault("InvalidArgument", "the text is too long");
  if (put === "") return { value: null, formula: null };
  if (put.startsWith("'")) return { value: put.slice(1), formula: null };
  if (format === "@") return { value: put, formula: null };
  if (/^[=+\-@＝＋－＠]/u.test(put)) return formulaIn(put);
  return { value: constantOf(put), formula: null };
}

function formulaIn(put: string): Omit<Cell, "format"> {
  if (put.length > MOST_FORMULA) throw new Fault("InvalidArgument", "the formula is too long");
  if (/^[+-]?[0-9.,]+%?$/.test(put)) return { value: numberIn(put), formula: null };
  const text = put.startsWith("=") ? put.slice(1) : put;
  const open = text.replace(/"[^"]*"|'[^']*'/g, "");
  const depth = open.split("(").length - open.split(")").length;
  if (text.trim() === "" || depth !== 0 || /["']/.test(open)) {
    throw new Fault("InvalidArgument", `the formula ${put} cannot be read`);
  }
  return { value: null, formula: text };
}

/** Words that stand for months in dates. */
const MONTH = /(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*/iu.source;
const DATES = [
  /^\p{Nd}{1,4}[-/.]\p{Nd}{1,2}(?:[-/.]\p{Nd}{1,4})?$/u,
  new RegExp(`^\\p{Nd}{1,2}[-/ .]*${MONTH}(?:[-/ .,]*\\p{Nd}{2,4})?$`, "iu"),
  new RegExp(`^${MONTH}[-/ .,]*\\p{Nd}{1,4}(?:[-/ .,]+\\p{Nd}{2,4})?$`, "iu"),
  /^\p{Nd}{1,4}:\p{Nd}{1,2}(?::\p{Nd}{1,2})?(?:\s*[ap]m?)?$/iu,
  /^\p{Nd}{1,2}\s*[ap]m?$/iu,
];
const NUMBERS = [
  /^\(?[€$£¥]?\s*[+-]?[\p{Nd}.,' \u00a0]*\p{Nd}[\p{Nd}.,' \u00a0]*(?:e[+-]?\p{Nd}+)?\s*[%€$£¥]?\)?$/iu,
  /^\p{Nd}+ \p{Nd}+\/\p{Nd}+$/u,
];

/** A text as Excel reads it: error, truth value, date, number, or text. Rather too much than too little. */
function constantOf(put: string): CellValue {
  const text = put.trim();
  const error = ERRORS.find((code) => code === text.toUpperCase());
  if (error !== undefined) return { error };
  if (/^(?:true|false)$/i.test(text)) return text.toUpperCase() === "TRUE";
  if (DATES.some((pattern) => pattern.test(text))) return 45_000;
  if (NUMBERS.some((pattern) => pattern.test(text))) return numberIn(text);
  return put;
}

function numberIn(text: string): number {
  const number = Number(text.normalize("NFKC").replace(/[^0-9.e+-]/gi, ""));
  return Number.isFinite(number) ? number : 0;
}
