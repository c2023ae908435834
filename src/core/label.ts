import { civilDayOrNull, type Day, daysInMonth } from "./day.ts";
import { InputError, NoAnswerError } from "./errors.ts";

/** What a GS1 label says of an item; null where it does not say. Text keeps its leading zeros. */
export interface Label {
  /** Item number, 14 digits. */
  readonly item: string | null;
  readonly lot: string | null;
  readonly serial: string | null;
  readonly made: Day | null;
  readonly expires: Day | null;
}

/** One thing a label can say. */
export type LabelPart = keyof Label;

/** Identifiers of the elements that are given out. */
const identifiers: Readonly<Record<LabelPart, string>> = {
  item: "01",
  lot: "10",
  serial: "21",
  made: "11",
  expires: "17",
};

/** Characters of an element, identifier included, where the first two fix them; all are digits. */
const fixedLengths: Readonly<Record<string, number>> = {
  ...{ "00": 20, "01": 16, "02": 16, "03": 16, "04": 18, "20": 4, "41": 16 },
  ...Object.fromEntries([11, 12, 13, 14, 15, 16, 17, 18, 19].map((two) => [two, 8])),
  ...Object.fromEntries([31, 32, 33, 34, 35, 36].map((two) => [two, 10])),
};

/** Two digits with which an identifier can begin, and those that are a whole identifier. */
const beginning = /^(?:0[0-4]|1\d|2[0-5]|3[0-79]|4[0-3]|7[0-2]|8[0-2]|9\d)$/;
const whole = /^(?:0[0-4]|1\d|2[0-2]|3[07]|9\d)$/;
/** Elements that end in a check digit, and those that are a date. */
const checked = /^(?:0[0-3]|41)$/;
const dated = /^1[1-35-7]$/;
/** Character set 82 of the GS1 General Specifications. */
const set82 = /^[!"%-?A-Z_a-z]+$/;
/** What a reader sets before a GS1 symbol: kind of symbol by ISO/IEC 15424. */
const symbol = /^\](?:C1|d2|Q3|e0|J1)/;

/** Stands for the symbol character that ends an element of open length. */
const SEPARATOR = "\u001d";
const LONGEST = 90;
const LONGEST_NAME = 20;

/**
 * What a scanned GS1 label says: an element string with its identifiers in brackets, or raw with
 * separators (ASCII 29), with or without the reader's sign for the kind of symbol before it.
 *
 * Check digits, dates, lengths and characters are verified. A missing separator shows only where an element
 * gets too long or what follows makes no sense.
 *
 * Years have two digits. By GS1's rule they lie from 49 years before the present year to 50 after it (in
 * the second half of a century from 50 before to 49 after). The arithmetic knows no clock and looks from the
 * year 2000: 00 to 50 are 2000 to 2050, 51 to 99 are 1951 to 1999. Every date from 1951 to 2050 is read
 * rightly, in whatever year; a later one a century too early, so that it counts as expired. Whoever knows the
 * year can give it.
 *
 * @param scan What the reader gave.
 * @param seenFrom The year looked from, 1951 to 9900; 2000 when not given.
 * @returns What the label says.
 * @throws InputError if it is no such label, or the year is none.
 * @see GS1 General Specifications, section 3 (identifiers) and 7 (processing); ISO/IEC 15418.
 * @example
 * readLabel("(01)09506000134352(17)270200(10)0042") // => { item: "09506000134352", lot: "0042", serial: null, made: null, expires: day("2027-02-28") }
 */
export function readLabel(scan: string, seenFrom = 2000): Label {
  if (!Number.isInteger(seenFrom) || seenFrom < 1951 || seenFrom > 9900) {
    throw new InputError("seenFrom", "a year from 1951 to 9900", seenFrom);
  }
  const text = scan.trim().replace(symbol, "");
  const found = new Map<string, string>();
  for (const element of text.startsWith("(") ? bracketed(text) : raw(text)) {
    const fault = faultOf(element, seenFrom);
    if (fault !== null) throw new InputError("scan", `a GS1 label ${fault}`, scan);
    const two = element.slice(0, 2);
    if (whole.test(two) && (found.get(two) ?? element) !== element) {
      throw new InputError("scan", `a GS1 label with one (${two}) only`, scan);
    }
    found.set(two, element);
  }
  if (found.size === 0) throw new InputError("scan", "a GS1 label", scan);
  const part = (name: LabelPart): string | null => found.get(identifiers[name])?.slice(2) ?? null;
  const date = (name: LabelPart): Day | null => {
    const digits = part(name);
    return digits === null ? null : dayOf(digits, seenFrom);
  };
  return {
    ...{ item: part("item"), lot: part("lot"), serial: part("serial") },
    ...{ made: date("made"), expires: date("expires") },
  };
}

/**
 * One thing a scanned GS1 label says; see readLabel.
 *
 * @param scan What the reader gave.
 * @param part Which: item, lot, serial, made or expires.
 * @returns Text; a day for made and expires.
 * @throws InputError if it is no such label or no such part; NoAnswerError if the label does not say it.
 * @example
 * labelPart("]d20109506000134352100042\u001d17270200", "lot") // => "0042"
 */
export function labelPart(scan: string, part: string): string | Day {
  if (!isPart(part)) throw new InputError("part", "item, lot, serial, made or expires", part);
  const found = readLabel(scan)[part];
  if (found === null) {
    throw new NoAnswerError(`the label has no element (${identifiers[part]}), ${part}`);
  }
  return found;
}

/**
 * The check digit of a GS1 number: digits weighted 3, 1, 3, … from the right, and what is missing to the
 * next ten.
 *
 * @param digits The number without its check digit.
 * @returns The check digit, 0 to 9.
 * @throws InputError if there are others than digits.
 * @see GS1 General Specifications, section 7.9.
 * @example
 * checkDigit("629104150021") // => 3
 */
export function checkDigit(digits: string): number {
  if (!/^\d+$/.test(digits)) throw new InputError("digits", "digits only", digits);
  let sum = 0;
  for (let at = digits.length - 1, weight = 3; at >= 0; at -= 1, weight = 4 - weight) {
    sum += weight * Number(digits[at]);
  }
  return (10 - (sum % 10)) % 10;
}

function isPart(part: string): part is LabelPart {
  return Object.hasOwn(identifiers, part);
}

// Elements with their identifiers, brackets taken off.
function bracketed(text: string): string[] {
  const pieces = text.split(/\((\d{2,4})\)/);
  const elements: string[] = [];
  for (let at = 1; at < pieces.length; at += 2) {
    const identifier = pieces[at] ?? "";
    const value = (pieces[at + 1] ?? "").replaceAll(SEPARATOR, "").trim();
    const right = whole.test(identifier.slice(0, 2)) === (identifier.length === 2);
    // An identifier of the wrong length is handed on as what it is: none.
    elements.push(right ? identifier + value : `(${identifier})`);
  }
  return pieces[0] === "" ? elements : [text];
}

// Elements of known length by their length, others up to the separator.
function raw(text: string): string[] {
  const elements: string[] = [];
  let at = 0;
  while (at < text.length) {
    if (text[at] === SEPARATOR) {
      at += 1;
      continue;
    }
    const length = fixedLengths[text.slice(at, at + 2)];
    const separator = text.indexOf(SEPARATOR, at);
    const open = separator < 0 ? text.length : separator;
    const end = length === undefined ? open : Math.min(open, at + length);
    elements.push(text.slice(at, end));
    at = end;
  }
  return elements;
}

function faultOf(element: string, seenFrom: number): string | null {
  const two = element.slice(0, 2);
  if (!beginning.test(two)) return "with identifiers known to GS1";
  const length = fixedLengths[two];
  if (length === undefined) {
    const most = two === identifiers.lot || two === identifiers.serial ? LONGEST_NAME : LONGEST;
    const value = element.slice(2);
    if (value.length > most) return `with at most ${most} characters in (${two})`;
    return set82.test(value) ? null : `with GS1 characters only in (${two})`;
  }
  if (!/^\d+$/.test(element) || element.length !== length) {
    return `with ${length} digits in (${two}), identifier included`;
  }
  if (checked.test(two) && !isChecked(element.slice(two === "41" ? 3 : 2))) {
    return `with a right check digit in (${two})`;
  }
  return dated.test(two) && dayOf(element.slice(2), seenFrom) === null
    ? `with a date as yymmdd in (${two})`
    : null;
}

function isChecked(digits: string): boolean {
  return checkDigit(digits.slice(0, -1)) === Number(digits.slice(-1));
}

// Day 00 is the last of the month.
function dayOf(digits: string, seenFrom: number): Day | null {
  const [year, month] = [yearOf(Number(digits.slice(0, 2)), seenFrom), Number(digits.slice(2, 4))];
  const dayOfMonth = Number(digits.slice(4, 6));
  return civilDayOrNull(year, month, dayOfMonth === 0 ? daysInMonth(year, month) : dayOfMonth);
}

// 51 to 99 above the present two digits lie in the last century, 51 to 99 below them in the next.
function yearOf(two: number, seenFrom: number): number {
  const century = seenFrom - (seenFrom % 100);
  const gap = two - (seenFrom % 100);
  return century + two + (gap >= 51 ? -100 : gap <= -51 ? 100 : 0);
}
