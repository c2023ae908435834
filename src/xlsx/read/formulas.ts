import { ourCallsShown } from "../../book/workbook/calls.ts";
import { columnLetters, columnOf } from "../../book/workbook/snapshot.ts";
import { WorkbookError } from "../file/errors.ts";
import { cellText } from "../xml/escape.ts";
import { MOST_COLUMNS, MOST_FORMULA, MOST_ROWS } from "../file/limits.ts";

/**
 * Formula texts as files store them and as people read them. The patterns below are tokenizers of
 * one formula: literals, quoted names and brackets are matched first so that nothing inside counts.
 */
const LITERAL = String.raw`"[^"]*"|'[^']*'|\[(?:'.|[^\[\]'])*\]`;

/** Functions newer than the file format, stored with a prefix. Source: [MS-XLSX] 2.2.2.1, future functions. */
const FUTURE = new Set(
  (
    "ACOT ACOTH AGGREGATE ARABIC BASE BETA.DIST BETA.INV BINOM.DIST BINOM.DIST.RANGE BINOM.INV BITAND " +
    "BITLSHIFT BITOR BITRSHIFT BITXOR CEILING.MATH CEILING.PRECISE CHISQ.DIST CHISQ.DIST.RT CHISQ.INV " +
    "CHISQ.INV.RT CHISQ.TEST COMBINA CONCAT CONFIDENCE.NORM CONFIDENCE.T COT COTH COVARIANCE.P COVARIANCE.S " +
    "CSC CSCH DAYS DECIMAL ERF.PRECISE ERFC.PRECISE EXPON.DIST F.DIST F.DIST.RT F.INV F.INV.RT F.TEST " +
    "FLOOR.MATH FLOOR.PRECISE IMCOSH IMCOT IMCSC IMCSCH IMSEC IMSECH IMSINH IMTAN FORECAST.ETS FORECAST.ETS.CONFINT FORECAST.ETS.SEASONALITY FORECAST.ETS.STAT " +
    "FORECAST.LINEAR FORMULATEXT GAMMA GAMMA.DIST GAMMA.INV GAMMALN.PRECISE GAUSS HYPGEOM.DIST IFNA IFS " +
    "ISFORMULA ISOWEEKNUM LOGNORM.DIST LOGNORM.INV MAXIFS MINIFS MODE.MULT MODE.SNGL MUNIT NEGBINOM.DIST " +
    "NORM.DIST NORM.INV NORM.S.DIST NORM.S.INV NUMBERVALUE PDURATION PERCENTILE.EXC PERCENTILE.INC " +
    "PERCENTRANK.EXC PERCENTRANK.INC PERMUTATIONA PHI POISSON.DIST QUARTILE.EXC QUARTILE.INC RANK.AVG RANK.EQ " +
    "RRI SEC SECH SHEET SHEETS SKEW.P STDEV.P STDEV.S SWITCH T.DIST T.DIST.2T T.DIST.RT T.INV T.INV.2T T.TEST " +
    "TEXTJOIN UNICHAR UNICODE VAR.P VAR.S WEIBULL.DIST XOR Z.TEST " +
    "ARRAYTOTEXT CHOOSECOLS CHOOSEROWS DROP EXPAND HSTACK RANDARRAY SEQUENCE SORTBY TAKE TEXTAFTER TEXTBEFORE " +
    "TEXTSPLIT TOCOL TOROW UNIQUE VALUETOTEXT VSTACK WRAPCOLS WRAPROWS XLOOKUP XMATCH"
  ).split(" "),
);

const SHEET_FUTURE = new Set(["FILTER", "SORT"]);

const STORED = new RegExp(String.raw`${LITERAL}|(?<![\w.\\])[A-Za-z_][\w.]*(?=\()`, "g");
const SHOWN = new RegExp(String.raw`${LITERAL}|(?<![\w.])_xl(?:fn\.(?:_xlws\.)?|pm\.|ws\.)`, "gi");
const OURS = "SPARE.";

/** A formula as the file must hold it: newer functions with their prefix, our own in the form that binds to the add-in. */
export function storedFormula(text: string): string {
  const body = text.startsWith("=") ? text.slice(1) : text;
  if (body.length > MOST_FORMULA) {
    throw new WorkbookError(
      `A formula of ${body.length} characters is longer than the ${MOST_FORMULA} a cell may hold: shorten it.`,
    );
  }
  return body.replace(STORED, (word) => {
    const name = word.toUpperCase();
    if (name.startsWith(OURS)) return `_xldudf_${name.replaceAll(".", "_")}`;
    if (FUTURE.has(name)) return `_xlfn.${name}`;
    return SHEET_FUTURE.has(name) ? `_xlfn._xlws.${name}` : word;
  });
}

/** A formula of the file as people read it. */
export function shownFormula(text: string): string {
  if (!/_xl/i.test(text)) return text;
  return ourCallsShown(text).replace(SHOWN, (found) => (found.startsWith("_") ? "" : found));
}

/** A formula for many rows, cut where the row's number goes: as it reads, and escaped for the file. */
export interface RowFormula {
  readonly stored: readonly string[];
  readonly pieces: readonly string[];
  readonly live: boolean;
}

/** Prepares the formula of a column for its rows. */
export function rowFormula(formula: { readonly text: string; readonly live: boolean }): RowFormula {
  const stored = storedFormula(formula.text);
  return {
    stored: stored.split("{r}"),
    pieces: cellText(stored).split("{r}"),
    live: formula.live,
  };
}

/** The text of a row's formula from either kind of pieces; rows count from zero. */
export function formulaAt(pieces: readonly string[], row: number): string {
  return pieces.length === 1 ? (pieces[0] ?? "") : pieces.join(String(row + 1));
}

const REFERENCE = new RegExp(
  String.raw`${LITERAL}|(?<![\w.$])(?:\$?[A-Za-z]{1,3}\$?\d{1,7}|\$?[A-Za-z]{1,3}:\$?[A-Za-z]{1,3}|\$?\d{1,7}:\$?\d{1,7})(?![\w.(!])`,
  "g",
);
const STEP = /\$?(?:[A-Za-z]+|\d+)/g;

/** A shared formula taken apart: fixed text, and the rows and columns that move with the cell. */
export interface SharedFormula {
  readonly row: number;
  readonly column: number;
  readonly text: string;
  /** Text before each step; one more than steps. */
  readonly pieces: readonly string[];
  /** A moving row as it is, counted from zero; a moving column as -1 - column. */
  readonly steps: readonly number[];
}

/** Prepares a shared formula written for the cell at row and column. */
export function sharedFormula(text: string, row: number, column: number): SharedFormula {
  const pieces: string[] = [];
  const steps: number[] = [];
  let at = 0;
  for (const reference of text.matchAll(REFERENCE)) {
    if (/^["'[]/.test(reference[0])) continue;
    for (const step of reference[0].matchAll(STEP)) {
      const [found] = step;
      if (found.startsWith("$")) continue;
      const start = reference.index + step.index;
      pieces.push(text.slice(at, start));
      steps.push(/^\d/.test(found) ? Number(found) - 1 : -1 - columnOf(found));
      at = start + found.length;
    }
  }
  pieces.push(text.slice(at));
  return { row, column, text, pieces, steps };
}

/** The formula of another cell that shares it; references past the edge come in on the other side. */
export function expanded(shared: SharedFormula, row: number, column: number): string {
  const { pieces, steps } = shared;
  const down = row - shared.row;
  const right = column - shared.column;
  let text = pieces[0] ?? "";
  for (let index = 0; index < steps.length; index += 1) {
    const step = steps[index] ?? 0;
    text +=
      step < 0
        ? columnLetters(wrapped(-1 - step + right, MOST_COLUMNS))
        : String(wrapped(step + down, MOST_ROWS) + 1);
    text += pieces[index + 1] ?? "";
  }
  return text;
}

function wrapped(index: number, count: number): number {
  return index >= 0 && index < count ? index : ((index % count) + count) % count;
}
