import { onlyRegister } from "../scenes/scene.ts";
import { addMonths, civilDate, day, fromSerial, toSerial } from "../../src/core/index.ts";
import { leadCover } from "../../src/core/order.ts";
import type { Part, Reading } from "../../src/book/records/records.ts";
import { type CellValue, valueAt } from "../../src/book/workbook/snapshot.ts";
import {
  COUNTED_TITLE,
  doubtTitle,
  findingTitle,
  lastDoneTitle,
  USES_TITLE,
} from "../../src/book/answers/titles.ts";
import { type Answers, columnAnswers, type Columns, saysNothing, unitsOf } from "./answers.ts";
import {
  type Calendar,
  type Hand,
  isSteady,
  rowByHand,
  type RowHeld,
  type Unit,
} from "./by-hand.ts";
import { columnAt, type Commanded, serialOf } from "./roads.ts";

/** A programme as its workbook and the command line's words give it to somebody who reckons by hand. */
export interface Given {
  readonly columns: Columns;
  readonly reading: Reading;
  readonly commanded: Commanded;
  readonly parts: readonly Part[];
}

/** Everything that one kind of arithmetic gives, from the cells it is called over. */
export function handAnswers(given: Given, hand: Hand): Answers {
  const { columns, parts } = given;
  const known = new Map<string, ReturnType<typeof rowByHand>>();
  const answers = columnAnswers(columns, (row, _, { code }, at) => {
    const part = parts.find((one) => one.code === code);
    if (part === undefined) throw new Error(`no ${code}`);
    const key = `${row} ${code}`;
    const found = known.get(key) ?? rowByHand(part, heldIn(given, part, row), hand);
    known.set(key, found);
    return found[at] ?? null;
  });
  for (const more of [yearsOf, ordersOf]) {
    for (const [key, value] of more(given, hand)) answers.set(key, value);
  }
  return answers;
}

/** The cells of a row that a part's columns follow from. */
function heldIn({ columns, reading }: Given, part: Part, row: number): RowHeld {
  const { sheet, headerRow } = columns;
  const { matches } = onlyRegister(reading);
  const titled = (title: string): number | null => columnAt(sheet, headerRow, title);
  const field = (key: string): number | null =>
    matches.find((match) => match.field === key)?.column ?? null;
  const cell = (column: number | null): CellValue =>
    column === null ? null : valueAt(sheet, row, column);
  const counted = part.task ? null : titled(COUNTED_TITLE);
  return {
    lastDone: cell(field(`last:${part.code}`) ?? titled(lastDoneTitle(part))),
    uses: cell(counted === null ? field("uses") : titled(USES_TITLE)),
    countedTo: counted === null ? undefined : cell(counted),
    finding: cell(field(`finding:${part.code}`)),
    openFinding: cell(titled(findingTitle(part))),
    doubt: cell(titled(doubtTitle(part))),
    status: cell(field("status")),
    retiredOn: cell(field("retiredOn")),
    site: cell(field("site")),
  };
}

/**
 * The year where nothing wears and every interval stays: each part comes due an interval after the day of its last
 * replacement, on the last working day by then, or at once. Where parts wear or usage is open, the second model in
 * Python holds the year (tests/reference/year.py).
 */
function yearsOf({ commanded, reading, parts }: Given, { arithmetic, calendar }: Hand): Answers {
  const answers: Answers = new Map();
  const units = unitsOf(commanded.worked, reading, calendar.system);
  for (const { part: code, wear, fits } of commanded.ahead.parts) {
    const part = parts.find((one) => one.code === code);
    const mine = units.get(part?.name ?? "") ?? [];
    if (part === undefined || fits !== null || !saysNothing(wear) || !mine.every(isSteady))
      continue;
    const need = Array.from({ length: YEAR + 1 }, () => 0);
    for (const at of mine.flatMap((unit) => monthsDue(unit, arithmetic, calendar))) {
      need[at] = (need[at] ?? 0) + 1;
    }
    need.forEach((count, at) => answers.set(`year, by date: ${part.name}, month ${at}`, count));
  }
  return answers;
}

const YEAR = 12;

/** The calendar months, that of the report date being 0, in which a part comes due during a year. */
function monthsDue(
  { began, months }: Unit,
  { nextDue }: Hand["arithmetic"],
  { system, settings: { reportDate } }: Calendar,
): number[] {
  const today = toSerial(reportDate, system);
  const end = toSerial(addMonths(reportDate, YEAR), system);
  const days: number[] = [];
  for (let last = began; ;) {
    last = Math.max(today, Number(nextDue(last, months)));
    if (last > end) break;
    days.push(last);
  }
  const monthOf = (serial: number): number => {
    const { year, month } = civilDate(fromSerial(serial, system) ?? reportDate);
    return 12 * year + month;
  };
  return days.map((day) => monthOf(day) - monthOf(today));
}

function roundMoney(amount: number): number {
  return Math.round(amount * 100 + 1e-9) / 100;
}

function ordersOf({ commanded, parts }: Given, { arithmetic, calendar }: Hand): Answers {
  const answers: Answers = new Map();
  const { order } = commanded;
  const { settings, system } = calendar;
  const year = civilDate(settings.reportDate).year;
  [...order.now, ...order.later].forEach((line, at) => {
    const part = parts.find(({ code }) => code === line.part);
    if (part === undefined) return;
    const { packPrice, leadDays, leadSpread } = part.supply;
    const key = `${part.name}, ${line.site}, line ${at + 1}`;
    const needBy = serialOf(line.needBy, system);
    const cover = leadCover(leadDays, leadSpread, settings.serviceLevel);
    answers.set(`order by: ${key}`, arithmetic.orderBy(needBy, cover));
    const years = civilDate(day(line.orderOn)).year - year;
    const price = packPrice === null ? null : roundMoney(arithmetic.price(packPrice, years));
    answers.set(`cost: ${key}`, price === null ? null : roundMoney(price * line.packs));
  });
  return answers;
}
