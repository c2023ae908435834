import { FIRST_DAY } from "../../core/day.ts";
import type { Problem, ShelfDate, ShelfItem } from "../records/records.ts";
import { PIECE_UNITS } from "../workbook/number-text.ts";
import type { CellValue, Sheet, Snapshot } from "../workbook/snapshot.ts";
import { columnsIn, date, type InputColumns, numberIfAny, text } from "./column.ts";
import { inputRows, toldOf } from "./input-rows.ts";
import type { Layout } from "./layout.ts";

const UNITS = { kind: "number", from: "0", to: "100000", whole: true } as const;
const UNTIL_TODAY = { kind: "date", from: "DATE(2000,1,1)", to: "TODAY()" } as const;
const ANY_DAY = { kind: "date", from: "DATE(2000,1,1)", to: "DATE(2099,12,31)" } as const;

/** What cannot be read is not there. */
const NOTHING_THERE = { blank: null, units: PIECE_UNITS, careful: () => null } as const;

const SHELF_COLUMNS: InputColumns<Omit<ShelfItem, "sheet" | "row" | "unread" | "remark">> = {
  part: text({ heading: "Part", width: 20 }),
  site: text({
    heading: "Site",
    width: 14,
  }),
  onHand: numberIfAny({
    heading: "On hand",
    width: 10,
    choices: UNITS,
    ...NOTHING_THERE,
    carefully: "nothing is taken to be on hand",
  }),
  countedOn: date({
    readsText: true,
    heading: "Counted on",
    width: 12,
    choices: UNTIL_TODAY,
    carefully: "the count is taken to have no date",
  }),
  onOrder: numberIfAny({
    heading: "On order",
    width: 10,
    choices: UNITS,
    ...NOTHING_THERE,
    carefully: "nothing is taken to be on order",
  }),
  expectedOn: date({
    readsText: true,
    heading: "Expected on",
    width: 12,
    choices: ANY_DAY,
    carefully: "the delivery is taken to have no date",
  }),
  lot: text({
    heading: "Lot",
    width: 14,
    format: "@",
  }),
  expiry: date({
    readsText: true,
    heading: "Expiry",
    inPlace: true,
    width: 12,
    choices: ANY_DAY,
    // The earliest day it may mean; of a text without any, it is past.
    careful: (days) =>
      days.reduce((first, one) => (one < first ? one : first), days[0] ?? FIRST_DAY),
    carefully: "the units count as expired, or from the earliest day it may mean",
  }),
};

/** The Shelf sheet: one row for each part and site, and another row for every further lot. */
export const SHELF: Layout = {
  name: "Shelf",
  title: "Spare parts on the shelf",
  table: "SpareShelf",
  room: 5000,
  columns: columnsIn(SHELF_COLUMNS),
};

/** The heading of a field of the Shelf. */
export function shelfHeading(field: keyof ShelfItem): string {
  return field in SHELF_COLUMNS ? SHELF_COLUMNS[field as keyof typeof SHELF_COLUMNS].heading : "";
}

/** The items of a Shelf sheet. */
export function readShelf(
  sheet: Sheet,
  dateSystem: Snapshot["dateSystem"],
): { readonly items: readonly ShelfItem[]; readonly problems: readonly Problem[] } {
  const rows = inputRows(sheet, SHELF, SHELF_COLUMNS, dateSystem);
  const items = rows.map(({ row, record, doubts }): ShelfItem => {
    const unread = new Set(DATES.filter((field) => doubts.get(field)?.certain === false));
    return { sheet: sheet.name, row, ...record, unread };
  });
  return { items, problems: toldOf(rows) };
}

const DATES: readonly ShelfDate[] = ["countedOn", "expectedOn", "expiry"];

/** A row of a new Shelf sheet. */
export type ShelfRow = readonly [
  part: string,
  site: string,
  onHand: number | null,
  countedOn: CellValue,
  onOrder: number | null,
  expectedOn: CellValue,
  lot: string | null,
  expiry: CellValue,
];
