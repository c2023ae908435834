import { addMonths, civilDay, type Day } from "../../src/core/day.ts";
import {
  cellKey,
  type CellValue,
  isCellError,
  type Sheet,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../../src/book/workbook/snapshot.ts";
import { textOf } from "../../src/book/sheets/layout.ts";
import type { Held, Rows } from "../functions/excel-calls.ts";

/**
 * Calculates cells from the text of our live formulas, in the few words of a worksheet's language that
 * they are written in: own cells, names, and our functions by the door Excel calls them by. Stored
 * results are not looked at.
 */
export function calculator(book: Snapshot, sheet: Sheet, called: Rows) {
  const known = new Map<number, CellValue>();
  const names = new Map<string, Later>();
  const at = (row: number, column: number): CellValue => {
    const key = cellKey(row, column);
    const text = sheet.formulas.get(key);
    // Foreign formulas are input: their results stand in the file.
    if (text?.includes("SPARE.") !== true) return valueAt(sheet, row, column);
    const found = known.get(key) ?? one(evaluate(text, { book, at, names, called }));
    known.set(key, found);
    return found;
  };
  for (const { name, refersTo } of book.names) {
    names.set(
      name.toLowerCase(),
      once(() => evaluate(refersTo, { book, at, names, called })),
    );
  }
  return at;
}

/** Worked out when it is first asked for, and kept. */
function once(work: Later): Later {
  let known: Held | undefined;
  return () => {
    if (known === undefined) known = work();
    return known;
  };
}

interface Scope {
  readonly book: Snapshot;
  readonly at: (row: number, column: number) => CellValue;
  readonly names: ReadonlyMap<string, Later>;
  readonly called: Rows;
}

const TOKEN =
  /\s*(?:("(?:[^"]|"")*")|((?:\d+\.?\d*|\.\d+)(?:E[+-]?\d+)?)|((?:'[^']+'|[A-Za-z]\w*)![$A-Z\d:]+)|([A-Za-z_][\w.]*)(?=\()|(\$[A-Z]+\d+)|([A-Za-z_]\w*)|(<=|>=|<>|--|[-+*/&=<>(){},]))/y;
const KINDS = ["text", "number", "range", "call", "cell", "name", "sign"] as const;

interface Token {
  readonly kind: (typeof KINDS)[number];
  readonly text: string;
}

function tokensOf(text: string): Token[] {
  const tokens: Token[] = [];
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < text.length) {
    const from = TOKEN.lastIndex;
    const [, ...groups] = TOKEN.exec(text) ?? [];
    const kind = KINDS.find((_, at) => groups[at] !== undefined);
    if (kind === undefined) throw new Error(`not understood: ${text.slice(from, from + 30)}`);
    tokens.push({ kind, text: groups[KINDS.indexOf(kind)] ?? "" });
  }
  return tokens;
}

/** Worked out only where it is asked for: IF leaves one of its branches alone. */
type Later = () => Held;

function evaluate(text: string, scope: Scope): Held {
  const tokens = tokensOf(text);
  let next = 0;
  const isSign = (...signs: string[]): boolean =>
    tokens[next]?.kind === "sign" && signs.includes(tokens[next]?.text ?? "");
  const take = (): Token => {
    const token = tokens[next++];
    if (token === undefined) throw new Error(`ends too early: ${text}`);
    return token;
  };
  const need = (sign: string): void => {
    if (take().text !== sign) throw new Error(`${sign} is missing before token ${next}: ${text}`);
  };
  const list = (end: string): Later[] => {
    const items: Later[] = [];
    while (!isSign(end)) {
      items.push(compared());
      if (!isSign(end)) need(",");
    }
    need(end);
    return items;
  };
  const compared = (): Later => {
    let left = joined();
    while (isSign("=", "<>", "<", ">", "<=", ">=")) {
      const [{ text: sign }, one, other] = [take(), left, joined()];
      left = () => lift(one(), other(), (a, b) => compare(sign, a, b));
    }
    return left;
  };
  const joined = (): Later => {
    let left = summed();
    while (isSign("&")) {
      const [, one, other] = [take(), left, summed()];
      left = () => lift(one(), other(), (a, b) => asText(a) + asText(b));
    }
    return left;
  };
  const times = (): Later => {
    let left = single();
    while (isSign("*")) {
      const [, one, other] = [take(), left, single()];
      left = () => lift(one(), other(), (a, b) => (numberOf(a) ?? NaN) * (numberOf(b) ?? NaN));
    }
    return left;
  };
  const summed = (): Later => {
    let left = times();
    while (isSign("+", "-")) {
      const [{ text: sign }, one, other] = [take(), left, times()];
      left = () => lift(one(), other(), (a, b) => add(a, b, sign === "+" ? 1 : -1));
    }
    return left;
  };
  const single = (): Later => {
    if (isSign("--", "-")) {
      const { text: sign } = take();
      const inner = single();
      return () => lift(inner(), 0, (a) => add(0, a, sign === "--" ? 1 : -1));
    }
    const token = take();
    switch (token.kind) {
      case "number":
        return () => Number(token.text);
      case "text":
        return () => token.text.slice(1, -1).replaceAll('""', '"');
      case "range":
        return () => rangeOf(token.text, scope.book);
      case "cell":
        return () => cellOf(token.text, scope);
      case "name":
        return () => namedValue(token.text, scope);
      case "call": {
        need("(");
        const given = list(")");
        return () => call(token.text, given, scope);
      }
      case "sign":
        if (token.text === "{") {
          const items = list("}");
          return () => [items.map((item) => one(item()))];
        }
        if (token.text !== "(") throw new Error(`${token.text} is not understood: ${text}`);
    }
    const inner = compared();
    need(")");
    return inner;
  };
  const whole = compared();
  if (next < tokens.length) throw new Error(`more than one formula: ${text}`);
  return whole();
}

function namedValue(name: string, scope: Scope): Held {
  if (name === "TRUE" || name === "FALSE") return name === "TRUE";
  const later = scope.names.get(name.toLowerCase());
  return later === undefined ? { error: "#NAME?" } : later();
}

function columnOf(letters: string): number {
  return Array.from(letters).reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;
}

function cellOf(text: string, { at }: Scope): CellValue {
  const [, letters = "", row = ""] = /^\$([A-Z]+)(\d+)$/.exec(text) ?? [];
  return at(Number(row) - 1, columnOf(letters));
}

function rangeOf(text: string, book: Snapshot): Held {
  const match = /^'?(.+?)'?!\$([A-Z]+)\$(\d+):\$([A-Z]+)\$(\d+)$/.exec(text);
  const [, name = "", from = "", first = "", , last = ""] = match ?? [];
  const sheet = sheetNamed(book, name);
  if (match === null || sheet === null) return { error: "#REF!" };
  // Below the sheet's last row all is blank, and matches nothing that is looked for.
  const rows = Math.min(Number(last), sheet.values.length + 1) - Number(first) + 1;
  return Array.from({ length: Math.max(1, rows) }, (_, at) => [
    valueAt(sheet, Number(first) - 1 + at, columnOf(from)),
  ]);
}

function isRange(held: Held): held is readonly (readonly CellValue[])[] {
  return Array.isArray(held);
}

function one(held: Held): CellValue {
  return isRange(held) ? (held[0]?.[0] ?? null) : held;
}

/** An operation cell by cell where one side is a range; errors go through. */
function lift(a: Held, b: Held, work: (a: CellValue, b: CellValue) => CellValue): Held {
  if (isRange(a) && isRange(b)) {
    return a.map((row, at) => row.map((cell, to) => one(lift(cell, b[at]?.[to] ?? null, work))));
  }
  if (isRange(a)) return a.map((row) => row.map((cell) => one(lift(cell, b, work))));
  if (isRange(b)) return b.map((row) => row.map((cell) => one(lift(a, cell, work))));
  if (isCellError(a)) return a;
  return isCellError(b) ? b : work(a, b);
}

const VALUE = { error: "#VALUE!" } as const;

function numberOf(cell: CellValue): number | null {
  if (cell === null) return 0;
  if (typeof cell === "boolean") return cell ? 1 : 0;
  return typeof cell === "number" ? cell : null;
}

function add(a: CellValue, b: CellValue, sign: number): CellValue {
  const [left, right] = [numberOf(a), numberOf(b)];
  return left === null || right === null ? VALUE : left + sign * right;
}

/** Texts alike whatever their case; a blank is what it is compared with; numbers before texts before truth. */
function compare(sign: string, a: CellValue, b: CellValue): boolean {
  const filled = (cell: CellValue, beside: CellValue): CellValue =>
    cell ?? (typeof beside === "string" ? "" : typeof beside === "boolean" ? false : 0);
  const [left, right] = [filled(a, b), filled(b, a)];
  const rank = (cell: CellValue): number => ["number", "string", "boolean"].indexOf(typeof cell);
  const text = (cell: CellValue): CellValue =>
    typeof cell === "string" ? cell.toLowerCase() : cell;
  const [low, high] = [text(left) ?? 0, text(right) ?? 0];
  const order =
    rank(left) !== rank(right) ? rank(left) - rank(right) : low < high ? -1 : low > high ? 1 : 0;
  switch (sign) {
    case "=":
      return order === 0;
    case "<>":
      return order !== 0;
    case "<":
      return order < 0;
    case ">":
      return order > 0;
    default:
      return sign === "<=" ? order <= 0 : order >= 0;
  }
}

function call(id: string, given: readonly Later[], scope: Scope): Held {
  const all = (): Held[] => given.map((later) => later());
  if (id.startsWith("SPARE.")) return scope.called(id.slice(6), all());
  if (id === "IF") return chosen(given);
  const asked = ASKING[id]?.(all());
  if (asked !== undefined) return asked;
  const cells = all();
  const flat = cells.flatMap((held) => (isRange(held) ? held.flat() : [held]));
  const work = STRICT[id];
  if (work === undefined) throw new Error(`${id} is not a word of our live formulas`);
  return (
    flat.find(isCellError) ??
    work(
      flat,
      flat.map((cell) => numberOf(cell) ?? NaN),
    )
  );
}

function chosen([test, yes, no]: readonly Later[]): Held {
  const cell = one(test?.() ?? null);
  if (isCellError(cell)) return cell;
  if (typeof cell === "string") return VALUE;
  return (numberOf(cell) === 0 ? no : yes)?.() ?? null;
}

/** Words that ask what stands in a cell, an error too. */
const ASKING: Readonly<Record<string, (given: readonly Held[]) => Held>> = {
  IFERROR: ([tried = null, otherwise = null]) => (isCellError(one(tried)) ? otherwise : tried),
  ISNUMBER: ([held = null]) => typeof one(held) === "number",
  ISBLANK: ([held = null]) => one(held) === null,
  ISTEXT: ([held = null]) => typeof one(held) === "string",
  ISLOGICAL: ([held = null]) => typeof one(held) === "boolean",
  COUNT: (given) => given.filter((held) => typeof one(held) === "number").length,
  SUBSTITUTE: ([held = null, from = null, to = null]) =>
    lift(held, 0, (cell) => asText(cell).replaceAll(asText(one(from)), asText(one(to)))),
  TRIM: ([held = null]) =>
    lift(held, 0, (cell) => asText(cell).replaceAll(/ +/g, " ").replaceAll(/^ | $/g, "")),
  ROWS: ([range = null]) => (isRange(range) ? range.length : 1),
  COUNTBLANK: ([range = null]) => cellsIn(range).filter((cell) => (cell ?? "") === "").length,
  COUNTIF: counted,
  COUNTIFS: counted,
  MATCH: ([wanted = null, range = null]) => matched(one(wanted), range),
  INDEX: ([range = null, row = null]) => {
    const at = one(row);
    return isCellError(at) || !isRange(range) ? at : (range[Number(at) - 1]?.[0] ?? null);
  },
  N: ([held = null]) => {
    const cell = one(held);
    return typeof cell === "string" ? 0 : isCellError(cell) ? cell : numberOf(cell);
  },
};

/** A cell as a text, outer spaces and all. */
function asText(cell: CellValue): string {
  return typeof cell === "string" ? cell : textOf(cell);
}

function cellsIn(held: Held): readonly CellValue[] {
  return isRange(held) ? held.flat() : [held];
}

/** Rows in which every range has what is asked of it: "=text" or ">=number". */
function counted(given: readonly Held[]): number {
  const pairs = given.flatMap((range, at) =>
    at % 2 === 0 ? [[cellsIn(range), asText(one(given[at + 1] ?? null))] as const] : [],
  );
  const rows = pairs[0]?.[0] ?? [];
  return rows.filter((_, row) => pairs.every(([cells, asked]) => meets(cells[row] ?? null, asked)))
    .length;
}

function meets(cell: CellValue, asked: string): boolean {
  const [, sign = "", wanted = ""] = /^(>=|<=|=)?(.*)$/s.exec(asked) ?? [];
  if (sign === ">=" || sign === "<=") {
    return typeof cell === "number" && compare(sign, cell, Number(wanted));
  }
  if (typeof cell === "number") return cell === Number(wanted) && wanted !== "";
  return typeof cell === "string" && patternOf(wanted).test(cell);
}

type Strict = (cells: readonly CellValue[], numbers: readonly number[]) => CellValue;

/** Words that an error among their arguments makes an error. */
const STRICT: Readonly<Record<string, Strict>> = {
  AND: (_, numbers) => numbers.every((value) => value !== 0),
  OR: (_, numbers) => numbers.some((value) => value !== 0),
  NOT: (_, [number]) => number === 0,
  MIN: (_, numbers) => (numbers.some(Number.isNaN) ? VALUE : Math.min(...numbers)),
  MAX: (_, numbers) => (numbers.some(Number.isNaN) ? VALUE : Math.max(...numbers)),
  INT: (_, [number = NaN]) => (Number.isNaN(number) ? VALUE : Math.floor(number)),
  LEN: ([text = null]) => textOf(text).length,
  DATE: (_, [year = NaN, month = NaN, dayOfMonth = NaN]) => civilDay(year, month, dayOfMonth),
  NA: () => ({ error: "#N/A" }),
  SUMPRODUCT: (_, numbers) => numbers.reduce((sum, value) => sum + value, 0),
  EDATE: (_, [date = NaN, months = NaN]) => addMonths(Math.floor(date) as Day, months),
};

/** Of texts, * and ? stand for any characters, unless a ~ stands before them. */
function matched(wanted: CellValue, range: Held): CellValue {
  const rows = isRange(range) ? range.flat() : [range];
  const found = rows.findIndex((cell) =>
    typeof wanted === "string"
      ? typeof cell === "string" && patternOf(wanted).test(cell)
      : wanted !== null && cell === wanted,
  );
  return found < 0 ? { error: "#N/A" } : found + 1;
}

function patternOf(text: string): RegExp {
  const pattern = text.replaceAll(/~[~*?]|[\s\S]/g, (sign) => {
    if (sign === "*") return ".*";
    return sign === "?" ? "." : (sign.at(-1) ?? "").replace(/[^\w\s]/, "\\$&");
  });
  return new RegExp(`^${pattern}$`, "is");
}
