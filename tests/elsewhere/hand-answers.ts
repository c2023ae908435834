import { onlyRegister } from "../scenes/scene.ts";
import { addMonths, civilDate, day } from "../../src/core/index.ts";
import { DEFAULT_PARTS } from "../../src/book/records/parts.ts";
import { textOf } from "../../src/book/sheets/layout.ts";
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
import { type Hand, isSteady, rowByHand, type RowHeld } from "./by-hand.ts";
import { columnAt, type Commanded, rowsOf, serialOf } from "./roads.ts";

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
  for (const more of [yearsOf, ordersOf, pointsOf, budgetOf]) {
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

function yearsOf({ commanded, reading, parts }: Given, { arithmetic, calendar }: Hand): Answers {
  const answers: Answers = new Map();
  const units = unitsOf(commanded.worked, reading, calendar.system);
  // A device whose retirement is in doubt wears nothing in that sum, and one in two rows wears once.
  const wearing = reading.devices.filter(
    ({ retired, doubt }) => !retired && !/retire/.test(doubt ?? ""),
  );
  const inService = new Set(wearing.map(({ key }) => key)).size;
  for (const { part: code, wear, fits } of commanded.ahead.parts) {
    const part = parts.find((one) => one.code === code);
    if (part === undefined || fits !== null) continue;
    // A log that has just begun is taken with one shortest interval of every device.
    const months = wear.months + inService * shortestKnown(part);
    const worn = saysNothing(wear) ? null : { failures: wear.worn, months };
    const needs = arithmetic.yearAhead(units.get(part.name) ?? [], worn);
    const steady = worn === null && (units.get(part.name) ?? []).every(isSteady);
    needs?.forEach((need, at) => {
      answers.set(`year, by ${steady ? "date" : "count"}: ${part.name}, month ${at}`, need);
    });
  }
  return answers;
}

/** Limits that are crossed say nothing: then the least of both and of what the kind of part starts with. */
function shortestKnown({ code, shortest, longest }: Part): number {
  if (shortest === null) return 1;
  if (longest === null || shortest <= longest) return shortest;
  const usual = DEFAULT_PARTS.find((part) => part.code === code)?.shortest ?? 1;
  return Math.min(shortest, longest, usual);
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
    const { packPrice, leadDays } = part.supply;
    const key = `${part.name}, ${line.site}, line ${at + 1}`;
    const needBy = serialOf(line.needBy, system);
    answers.set(`order by: ${key}`, arithmetic.orderBy(needBy, leadDays));
    const years = civilDate(day(line.orderOn)).year - year;
    const price = packPrice === null ? null : roundMoney(arithmetic.price(packPrice, years));
    answers.set(`cost: ${key}`, price === null ? null : roundMoney(price * line.packs));
  });
  return answers;
}

function pointsOf({ commanded, parts }: Given, { arithmetic }: Hand): Answers {
  return new Map(
    rowsOf(commanded.worked, "Calculation", "Item").map((row) => {
      const number = (heading: string): number => Number(row.get(heading));
      const part = parts.find(({ name }) => name === row.get("Item"));
      const point = arithmetic.reorderPoint({
        perMonth: number("Early a month"),
        days: number("Days covered"),
        spread: part?.supply.leadSpread ?? NaN,
        floor: number("Spare rule"),
        planned: number("Due in them"),
      });
      return [`reorder point: ${part?.name ?? ""}, ${textOf(row.get("Site"))}`, point];
    }),
  );
}

/** Whole packs once a year and place, bought quarter by quarter at the quarter's price; and freight. */
function budgetOf({ commanded, parts }: Given, { arithmetic, calendar }: Hand): Answers {
  const { budget } = commanded;
  const year = civilDate(calendar.settings.reportDate).year;
  let total = budget.freight.reduce((sum, cost) => sum + cost, 0);
  for (const { part: code, startStock, endStock, quarters } of budget.places) {
    const supply = parts.find((part) => part.code === code)?.supply;
    if (supply === undefined || supply.packPrice === null) continue;
    let [units, bought] = [0, 0];
    for (const [at, quarter] of quarters.entries()) {
      units += quarter.units;
      const packs = arithmetic.packs(units, supply.pack, startStock, endStock);
      const from = civilDate(addMonths(day(budget.from), 3 * at)).year;
      const price = roundMoney(arithmetic.price(supply.packPrice, Math.max(0, from - year)));
      total += roundMoney(price * Math.max(0, packs - bought));
      bought = Math.max(bought, packs);
    }
  }
  return new Map([["budget: expected", roundMoney(total)]]);
}
