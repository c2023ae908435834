import { day } from "../../src/core/day.ts";
import type { Edit, SheetCell } from "../../src/book/workbook/plan.ts";
import type { Sheet, Snapshot } from "../../src/book/workbook/snapshot.ts";
import { newWorkbook } from "../../src/xlsx/index.ts";
import { bookOf, on, sheetOf, type Typed } from "./scene.ts";

/** Books by the habit of more than one sheet of devices. All devices and sites are invented. */

/** The day they are judged on. */
export const SEVERAL_DATE = day("2026-06-30");

/** A device with the days its electrode set and its cushions were last replaced. */
type Line = readonly [id: string, set: string, cushion: string];

const NORTH: readonly Line[] = [
  ["HS-01", "2026-05-20", "2026-03-02"],
  ["HS-02", "2026-02-10", "2025-11-03"],
  ["HS-03", "2026-06-01", "2026-05-04"],
];
const SOUTH: readonly Line[] = [
  ["HS-11", "2026-01-12", "2026-01-12"],
  ["HS-12", "2026-06-15", "2026-04-20"],
];
const EAST: readonly Line[] = [["HS-21", "2026-04-01", "2025-12-01"]];

const HEADINGS = ["Device", "Model", "Electrode set replaced", "Ear cushion replaced"];
const plain = ([id, set, cushion]: Line): Typed[] => [id, "B2", on(set), on(cushion)];

function plainSheet(name: string, lines: readonly Line[], above: Typed[][] = []): Sheet {
  return sheetOf(name, [...above, HEADINGS, ...lines.map(plain)]);
}

/** A sheet for each site, all alike. */
export function sheetPerSite(): Snapshot {
  return bookOf([
    plainSheet("Northfield", NORTH),
    plainSheet("Southport", SOUTH),
    plainSheet("Eastham", EAST),
  ]);
}

/** A sheet for each site, with headings of its own in an order of its own, and a column more or less. */
export function sheetsOfTheirOwn(): Snapshot {
  return bookOf([
    plainSheet("Northfield", NORTH),
    sheetOf("Southport", [
      ["Cushions changed", "Serial no.", "Unit ID", "Electrodes last changed", "Remarks"],
      ...SOUTH.map(([id, set, cushion], at): Typed[] => [
        on(cushion),
        `SN-${at + 700}`,
        id,
        on(set),
        at === 0 ? "cable taped" : null,
      ]),
    ]),
    sheetOf("Eastham", [
      ["Inventory number", "Ear cushion replaced", "Electrode set replaced"],
      ...EAST.map(([id, set, cushion]): Typed[] => [id, on(cushion), on(set)]),
    ]),
  ]);
}

/** A first sheet that repeats totals for each site. */
export function summaryFirst(): Snapshot {
  const summary = sheetOf("Summary", [
    ["Equipment at a glance"],
    ["Site", "Devices", "Sets overdue", "Last visit"],
    ["Northfield", 3, 1, on("2026-05-20")],
    ["Southport", 2, 1, on("2026-06-15")],
    ["Total", 5, 2, null],
  ]);
  return bookOf([summary, plainSheet("Northfield", NORTH), plainSheet("Southport", SOUTH)]);
}

/** A sheet for each site, and one of what has left; one device stands there and at its site. */
export function withRetired(): Snapshot {
  const gone = sheetOf("Retired", [
    [...HEADINGS, "Retired on"],
    ["HS-91", "A1", on("2023-02-01"), on("2023-02-01"), on("2023-06-01")],
    ["HS-92", "A1", on("2023-02-01"), on("2023-02-01"), null],
    ["HS-12", "A1", on("2026-06-15"), on("2026-04-20"), null],
  ]);
  return bookOf([plainSheet("Northfield", NORTH), plainSheet("Southport", SOUTH), gone]);
}

/** A sheet for each type of device at the same sites. */
function sheetPerType(): Snapshot {
  const sheet = (name: string, part: string, lines: readonly Line[]): Sheet =>
    sheetOf(name, [
      ["Device", "Site", "Serial number", part],
      ...lines.map(([id, set], at): Typed[] => [id, `S0${(at % 2) + 1}`, `SN-${id}`, on(set)]),
    ]);
  return bookOf([
    sheet("Electrode type", "Electrode set replaced", NORTH),
    sheet("Probe type", "Ear cushion replaced", SOUTH),
  ]);
}

/** A block above the headings of each sheet that names its site; sheets with the names they came with. */
function titledSheets(): Snapshot {
  return bookOf([
    plainSheet("Sheet1", NORTH, [["Hearing screening equipment"], ["Site:", "Northfield"], []]),
    plainSheet("Sheet2", SOUTH, [["Hearing screening equipment"], ["Site: Southport"], [], []]),
  ]);
}

/** One sheet in German. */
function oneInGerman(): Snapshot {
  return bookOf([
    plainSheet("Northfield", NORTH),
    sheetOf("Neustadt", [
      ["Gerätenummer", "Modell", "Elektroden gewechselt am", "Ohrpolster gewechselt am"],
      ...SOUTH.map(plain),
    ]),
  ]);
}

/** Every habit, with the ids of its devices and the site each stands at. */
export const SEVERAL: readonly {
  readonly habit: string;
  readonly book: () => Snapshot;
  readonly sheets: readonly string[];
  readonly sites: Readonly<Record<string, string>>;
}[] = [
  {
    habit: "a sheet for each site",
    book: sheetPerSite,
    sheets: ["Northfield", "Southport", "Eastham"],
    sites: sitesOf([NORTH, "Northfield"], [SOUTH, "Southport"], [EAST, "Eastham"]),
  },
  {
    habit: "headings and an order of its own on each sheet",
    book: sheetsOfTheirOwn,
    sheets: ["Northfield", "Southport", "Eastham"],
    sites: sitesOf([NORTH, "Northfield"], [SOUTH, "Southport"], [EAST, "Eastham"]),
  },
  {
    habit: "a summary before them",
    book: summaryFirst,
    sheets: ["Northfield", "Southport"],
    sites: sitesOf([NORTH, "Northfield"], [SOUTH, "Southport"]),
  },
  {
    habit: "a sheet for each type of device",
    book: sheetPerType,
    sheets: ["Electrode type", "Probe type"],
    sites: { "HS-01": "S01", "HS-02": "S02", "HS-03": "S01", "HS-11": "S01", "HS-12": "S02" },
  },
  {
    habit: "a site in the title of each sheet",
    book: titledSheets,
    sheets: ["Sheet1", "Sheet2"],
    sites: sitesOf([NORTH, "Northfield"], [SOUTH, "Southport"]),
  },
  {
    habit: "one sheet in another language",
    book: oneInGerman,
    sheets: ["Northfield", "Neustadt"],
    sites: sitesOf([NORTH, "Northfield"], [SOUTH, "Neustadt"]),
  },
];

function sitesOf(...sheets: readonly (readonly [readonly Line[], string])[]) {
  return Object.fromEntries(sheets.flatMap(([lines, site]) => lines.map(([id]) => [id, site])));
}

/** The same devices on one sheet with a column of their sites. */
export function together({ sites }: (typeof SEVERAL)[number]): Snapshot {
  const lines = [...NORTH, ...SOUTH, ...EAST].filter(([id]) => id in sites);
  const rows = lines.map((line): Typed[] => [...plain(line), sites[line[0]] ?? ""]);
  return bookOf([sheetOf("Equipment", [[...HEADINGS, "Site"], ...rows])]);
}

/** A book of such sheets as the bytes of a workbook. */
export function bytesOf(book: Snapshot): Uint8Array {
  return newWorkbook({ summary: "sheets of devices", edits: sheetEdits(book) });
}

/** The edits that make such sheets. */
export function sheetEdits({ sheets, formats }: Snapshot): Edit[] {
  return sheets.map((sheet): Edit => {
    const cells = sheet.values.flatMap((values, row) =>
      values.flatMap((value, column): SheetCell[] => {
        const format = formats[sheet.formats[row]?.[column] ?? 0];
        return value === null
          ? []
          : [{ row, column, value, ...(format === undefined ? {} : { format }) }];
      }),
    );
    return { kind: "addSheet", sheet: sheet.name, cells, widths: [], freezeRows: 0 };
  });
}

/** Monthly counts of the devices of a habit, on a sheet of their own. */
export function withCounts(book: Snapshot, { sites }: (typeof SEVERAL)[number]): Snapshot {
  const months = ["2026-02-01", "2026-03-01", "2026-04-01", "2026-05-01"];
  const rows = Object.keys(sites).map((id, at): Typed[] => [
    id,
    ...months.map((_, of) => 140 + 20 * at + of),
  ]);
  return {
    ...book,
    sheets: [...book.sheets, sheetOf("Counts", [["Device", ...months.map(on)], ...rows])],
  };
}
