import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import type { Edit, SheetCell } from "../../src/book/workbook/plan.ts";
import type { Area, CellValue } from "../../src/book/workbook/snapshot.ts";
import { type Day, day, isoText } from "../../src/core/day.ts";
import { newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import { on, type Typed } from "./scene.ts";

/** Workbooks by the habits of people who never heard of us; every one holds the same true programme. */

/** The day they are judged on: that of the command line in tests. */
const KINDS_DATE = day("2026-07-06");

/** A device of the programme with the days its parts were last replaced. */
interface Kept {
  readonly id: string;
  readonly site: string;
  readonly commissioned: string;
  readonly set: string;
  readonly cushion: string;
  readonly uses: number;
}

/** Months in which sessions are counted. */
const MONTHS = ["2026-02-01", "2026-03-01", "2026-04-01", "2026-05-01", "2026-06-01"];

/** The devices of the demonstration that are in service with all their dates: what is true is not invented twice. */
function programme(): Kept[] {
  const { snapshot } = openWorkbook(newWorkbook(demoBook(DEMO_SEED, false).plan));
  const { devices } = readWorkbook(snapshot, KINDS_DATE, { reportDate: KINDS_DATE });
  return devices.flatMap(({ id, site, commissioned, retired, lastDone }, at): Kept[] => {
    const of = (part: string): Day | null =>
      lastDone.find((done) => done.part === part)?.date ?? null;
    const [set, cushion] = [of("SET"), of("CUSHION")];
    if (retired || commissioned === null || set === null || cushion === null) return [];
    const dates = { commissioned: isoText(commissioned), set: isoText(set) };
    return [{ id, site, ...dates, cushion: isoText(cushion), uses: 20 + ((at * 7) % 40) }];
  });
}

const DEVICES = programme();
const SITES = [...new Set(DEVICES.map(({ site }) => site))].sort();

interface Drawn {
  readonly name: string;
  readonly rows: readonly (readonly (
    Typed | { readonly formula: string; readonly shows: Typed }
  )[])[];
  readonly merges?: readonly Area[];
}

type Drawing = () => readonly Drawn[];

const HEADINGS = [
  "Device",
  "Site",
  "In service since",
  "Electrode set replaced",
  "Ear cushion replaced",
];
const row = ({ id, site, commissioned, set, cushion }: Kept): Typed[] => [
  ...[id, site, on(commissioned), on(set), on(cushion)],
];
const register = (rows: Drawn["rows"], name = "Equipment"): Drawn => ({ name, rows });
const bare = ({ id, set, cushion }: Kept): Typed[] => [id, "M2", on(set), on(cushion)];
const BARE = ["Device", "Model", "Electrode set replaced", "Ear cushion replaced"];
const at = (site: string): Kept[] => DEVICES.filter((one) => one.site === site);
const slashed = (date: string): string => date.split("-").reverse().join("/");
const later = (date: string, days: number): Typed => on(isoText((day(date) + days) as Day));

/** Sessions of each device and month, a row a device. */
const COUNTS: Drawn = {
  name: "Sessions",
  rows: [
    ["Device", ...MONTHS.map(on)],
    ...DEVICES.map(({ id, uses }): Typed[] => [id, ...MONTHS.map((_, of) => uses + of)]),
  ],
};

/** What was done and when, in the words of those who did it. */
const DIARY: Drawn = {
  name: "Diary",
  rows: [
    ["When", "Unit", "What was done", "Who"],
    ...DEVICES.flatMap(({ id, set, cushion }): Typed[][] => [
      [on(set), id, "new electrode set", "ab"],
      [on(cushion), id, "both ear cushions replaced", "cd"],
    ]),
  ],
};

/** A habit, and the book it makes of the programme. */
export interface KindOfBook {
  readonly kind: string;
  readonly drawn: Drawing;
}

export const KINDS: readonly KindOfBook[] = [
  { kind: "one tidy list", drawn: () => [register([HEADINGS, ...DEVICES.map(row)])] },
  {
    kind: "a list and a sheet of monthly counts",
    drawn: () => [register([HEADINGS, ...DEVICES.map(row)]), COUNTS],
  },
  {
    kind: "a title, two rows of headings, a total below",
    drawn: () => [
      register([
        ["Screening equipment of the region"],
        [],
        ["", "", "", "Electrode set", "Ear cushion"],
        ["Unit ID", "Location", "Commissioned", "replaced", "replaced"],
        ...DEVICES.map(row),
        [],
        ["Total", DEVICES.length],
      ]),
    ],
  },
  {
    kind: "a sheet for each site",
    drawn: () => SITES.map((site) => register([BARE, ...at(site).map(bare)], site)),
  },
  {
    kind: "sites as titles above their devices, blank rows between",
    drawn: () => [
      register([...SITES.flatMap((site) => [[`Site: ${site}`], BARE, ...at(site).map(bare), []])]),
    ],
  },
  {
    kind: "a date for the left and one for the right cushion",
    drawn: () => [
      register([
        [...HEADINGS.slice(0, 4), "Left cushion replaced", "Right cushion replaced"],
        ...DEVICES.map((one): Typed[] => [...row(one), on(one.cushion)]),
      ]),
    ],
  },
  {
    kind: "a date for the left cushion alone",
    drawn: () => [
      register([[...HEADINGS.slice(0, 4), "Left cushion replaced"], ...DEVICES.map(row)]),
    ],
  },
  {
    kind: "headings in German, dates as text",
    drawn: () => [
      register(
        [
          [
            "Gerätenummer",
            "Standort",
            "Inbetriebnahme",
            "Elektroden gewechselt am",
            "Ohrpolster gewechselt am",
          ],
          ...DEVICES.map(({ id, site, commissioned, set, cushion }) => [
            ...[id, site, on(commissioned), slashed(set), slashed(cushion)],
          ]),
        ],
        "Geräte",
      ),
    ],
  },
  {
    kind: "devices without dates beside a log in people's own words",
    drawn: () => [
      register([["Device", "Site", "Model"], ...DEVICES.map(({ id, site }) => [id, site, "M2"])]),
      DIARY,
    ],
  },
  {
    kind: "only the day each part is next due",
    drawn: () => [
      register([
        ["Device", "Site", "Electrode set next due", "Ear cushion next due"],
        ...DEVICES.map(({ id, site, set, cushion }): Typed[] => [
          ...[id, site, later(set, 90), later(cushion, 180)],
        ]),
      ]),
    ],
  },
  {
    kind: "dates that a formula moves on every day",
    drawn: () => [
      register([
        HEADINGS,
        ...DEVICES.map((one) => [
          ...row(one).slice(0, 3),
          { formula: "TODAY()-30", shows: on("2026-06-06") },
          on(one.cushion),
        ]),
      ]),
    ],
  },
  {
    kind: "a copy of the list kept as a second sheet",
    drawn: () => [
      register([HEADINGS, ...DEVICES.map(row)]),
      register([HEADINGS, ...DEVICES.map(row)], "Equipment 2025"),
    ],
  },
  {
    kind: "every device twice, before and after a move",
    drawn: () => [
      register([
        HEADINGS,
        ...DEVICES.map(row),
        ...DEVICES.slice(0, 5).map((one) => row({ ...one, site: SITES[0] ?? "" })),
      ]),
    ],
  },
  {
    kind: "devices below each other in columns, turned",
    drawn: () => [
      register([
        ["Device", ...DEVICES.map(({ id }) => id)],
        ["Site", ...DEVICES.map(({ site }) => site)],
        ["Electrode set replaced", ...DEVICES.map(({ set }) => on(set))],
        ["Ear cushion replaced", ...DEVICES.map(({ cushion }) => on(cushion))],
      ]),
    ],
  },
  {
    kind: "screening results of babies beside the devices",
    drawn: () => [
      register([HEADINGS, ...DEVICES.map(row)]),
      {
        name: "Results",
        rows: [
          ["Mother's name", "Date of birth", "Device", "Result"],
          ["A. Example", on("2026-06-01"), DEVICES[0]?.id ?? "", "pass"],
        ],
      },
    ],
  },
  {
    kind: "a list without a heading row",
    drawn: () => [register(DEVICES.map(row))],
  },
];

/** The bytes of a drawn book. */
export function bytesOfKind({ drawn }: KindOfBook): Uint8Array {
  return newWorkbook({ summary: "a book people keep", edits: drawn().map(sheetEdit) });
}

function sheetEdit({ name, rows, merges = [] }: Drawn): Edit {
  const cells = rows.flatMap((values, at) =>
    values.flatMap((value, column): SheetCell[] => {
      const isFormula = typeof value === "object" && value !== null && "formula" in value;
      const shown: Typed = isFormula ? value.shows : value;
      const isDate = typeof shown === "object" && shown !== null && "date" in shown;
      const cell: CellValue = isDate ? day(shown.date) : shown;
      if (cell === null || cell === "") return [];
      return [
        {
          row: at,
          column,
          value: cell,
          ...(isDate ? { format: "yyyy-mm-dd" } : {}),
          ...(isFormula ? { formula: { text: value.formula, live: false } } : {}),
        },
      ];
    }),
  );
  return { kind: "addSheet", sheet: name, cells, widths: [], freezeRows: 0, merges };
}
