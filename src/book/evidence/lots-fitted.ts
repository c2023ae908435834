import type { KeptReport } from "./report.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import type { Layout } from "../sheets/layout.ts";
import type { Result } from "../sheets/result.ts";

const DATE = "yyyy-mm-dd";

/** The Lots fitted sheet: one row a part in use, unknown lots first. */
const LOTS_FITTED: Layout = {
  name: "Lots fitted",
  title: "Lots of the parts in use",
  table: "SpareLotsFitted",
  about: "the lot of every part in use, when it was fitted and its expiry, unknown ones first",
  room: 100_000,
  columns: [
    { heading: "Site", width: 12, about: "Code from Sites." },
    { heading: "Device", width: 16, about: "As in the register." },
    { heading: "Part", width: 18, about: "Name from Parts." },
    { heading: "Lot", width: 16, format: "@", about: "Of the last complete replacement." },
    { heading: "Fitted", width: 12, format: DATE, about: "Day of that replacement." },
    { heading: "Expiry", width: 12, format: DATE, about: "Earliest the Shelf has for this lot." },
    { heading: "Gap", width: 32, about: "What is missing or not as it should be." },
  ],
};

/** The Lots fitted sheet, as of the report date. */
export function lotsSheet({ reportDate, lots }: KeptReport): Result {
  return {
    layout: LOTS_FITTED,
    reportDate,
    notes: [],
    rows: lots.map(({ site, device, part, lot, fitted, expiry, gap }): CellValue[] => [
      site,
      device,
      part.name,
      lot || null,
      fitted,
      expiry,
      gap || null,
    ]),
  };
}
