import type { ShelfDate, ShelfItem } from "../records/records.ts";
import { type Day, day } from "../../core/day.ts";
import { isBlank } from "../workbook/cells.ts";
import type { CellValue, Sheet, Snapshot } from "../workbook/snapshot.ts";
import { amount, columnsIn, date, type InputColumns, recordIn, text } from "./column.ts";
import { type Layout, readRows } from "./layout.ts";

const UNITS = { kind: "number", from: "0", to: "100000", whole: true } as const;
const UNTIL_TODAY = { kind: "date", from: "DATE(2000,1,1)", to: "TODAY()" } as const;
const ANY_DAY = { kind: "date", from: "DATE(2000,1,1)", to: "DATE(2099,12,31)" } as const;

const SHELF_COLUMNS: InputColumns<Omit<ShelfItem, "sheet" | "row" | "unread">> = {
  part: text({ heading: "Part", width: 20, about: "Code or name from Parts." }),
  site: text({
    heading: "Site",
    width: 14,
    about: "Code from Sites; blank for the programme's own store.",
  }),
  onHand: amount({
    heading: "On hand",
    width: 10,
    choices: UNITS,
    about: "Units counted; a set counts as one, and only when complete.",
  }),
  countedOn: date({
    heading: "Counted on",
    width: 12,
    choices: UNTIL_TODAY,
    about: "The day of the count.",
  }),
  onOrder: amount({
    heading: "On order",
    width: 10,
    choices: UNITS,
    about: "Units ordered but not yet received.",
  }),
  expectedOn: date({
    heading: "Expected on",
    width: 12,
    choices: ANY_DAY,
    about: "The day they are expected.",
  }),
  lot: text({
    heading: "Lot",
    width: 14,
    format: "@",
    about: "Lot on the label; one row for each lot.",
  }),
  expiry: date({
    heading: "Expiry",
    width: 12,
    choices: ANY_DAY,
    about: "Expiry date on the label.",
  }),
};

/** The Shelf sheet: one row for each part and site, and another row for every further lot. */
export const SHELF: Layout = {
  name: "Shelf",
  title: "Spare parts on the shelf",
  table: "SpareShelf",
  about: "spares counted at each site, and what is on order",
  room: 5000,
  columns: columnsIn(SHELF_COLUMNS),
};

/** The heading of a field of the Shelf. */
export function shelfHeading(field: keyof ShelfItem): string {
  return field in SHELF_COLUMNS ? SHELF_COLUMNS[field as keyof typeof SHELF_COLUMNS].heading : "";
}

/** The items of a Shelf sheet. */
export function readShelf(sheet: Sheet, dateSystem: Snapshot["dateSystem"]): ShelfItem[] {
  return readRows(sheet, SHELF).map((row) => {
    const record = recordIn(SHELF_COLUMNS, row, dateSystem);
    const unread = DATES.filter(
      (field) =>
        !isBlank(row.values.get(SHELF_COLUMNS[field].heading) ?? null) &&
        (record[field] === null || !isOfOurTime(record[field])),
    );
    const dates = Object.fromEntries(unread.map((field) => [field, null]));
    return { sheet: sheet.name, row: row.row, ...record, ...dates, unread: new Set(unread) };
  });
}

const DATES: readonly ShelfDate[] = ["countedOn", "expectedOn", "expiry"];
const FIRST_DAY = day("2000-01-01");
const LAST_DAY = day("2099-12-31");

/** The days that the cells of the Shelf take; any other is a number or a slip, not a date. */
function isOfOurTime(date: Day): boolean {
  return date >= FIRST_DAY && date <= LAST_DAY;
}

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
