import { fromSerial } from "../../core/day.ts";
import type { ShelfItem } from "../records/records.ts";
import type { CellValue, Sheet, Snapshot } from "../workbook/snapshot.ts";
import { amountOf, type Layout, readRows, textOf } from "./layout.ts";

const DATE_FORMAT = "yyyy-mm-dd";
const UNITS = { kind: "number", from: "0", to: "100000", whole: true } as const;
const UNTIL_TODAY = { kind: "date", from: "DATE(2000,1,1)", to: "TODAY()" } as const;
const ANY_DAY = { kind: "date", from: "DATE(2000,1,1)", to: "DATE(2099,12,31)" } as const;

/** The Shelf sheet: one row a part and site, and a row more for every further lot. */
export const SHELF: Layout = {
  name: "Shelf",
  title: "Spare parts on the shelf",
  table: "SpareShelf",
  about: "spares counted at each site, and what is on order",
  room: 5000,
  columns: [
    { heading: "Part", width: 20, about: "Code or name from Parts." },
    { heading: "Site", width: 14, about: "Code from Sites; blank for the programme's own store." },
    {
      heading: "On hand",
      width: 10,
      choices: UNITS,
      about: "Units counted; a set counts once, and only when complete.",
    },
    {
      heading: "Counted on",
      width: 12,
      format: DATE_FORMAT,
      choices: UNTIL_TODAY,
      about: "The day somebody counted.",
    },
    { heading: "On order", width: 10, choices: UNITS, about: "Units ordered and not yet here." },
    {
      heading: "Expected on",
      width: 12,
      format: DATE_FORMAT,
      choices: ANY_DAY,
      about: "The day they should arrive.",
    },
    { heading: "Lot", width: 14, format: "@", about: "Lot on the label; a row for every lot." },
    {
      heading: "Expiry",
      width: 12,
      format: DATE_FORMAT,
      choices: ANY_DAY,
      about: "Last day of use on the label.",
    },
  ],
};

/** The items of a Shelf sheet. */
export function readShelf(sheet: Sheet, dateSystem: Snapshot["dateSystem"]): ShelfItem[] {
  return readRows(sheet, SHELF).map(({ row, values }) => {
    const dayAt = (heading: string) => {
      const value = values.get(heading);
      return typeof value === "number" ? fromSerial(value, dateSystem) : null;
    };
    return {
      sheet: sheet.name,
      row,
      part: textOf(values.get("Part")),
      site: textOf(values.get("Site")),
      onHand: amountOf(values.get("On hand")),
      countedOn: dayAt("Counted on"),
      onOrder: amountOf(values.get("On order")),
      expectedOn: dayAt("Expected on"),
      lot: textOf(values.get("Lot")),
      expiry: dayAt("Expiry"),
    };
  });
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
