import { toSerial } from "../../src/core/day.ts";
import { chance } from "../../src/book/demo/chance.ts";
import { REPORT_DATE } from "../../src/book/demo/programme.ts";
import type { Part } from "../../src/book/records/records.ts";
import { DEFAULT_PARTS } from "../../src/book/records/parts.ts";
import type { Plan, SheetCell } from "../../src/book/workbook/plan.ts";
import { HOLIDAYS, holidayRows } from "../../src/book/sheets/holidays.ts";
import { makeSheet } from "../../src/book/sheets/make-sheet.ts";
import { partRows, PARTS } from "../../src/book/sheets/parts.ts";
import { SETUP } from "../../src/book/sheets/setup.ts";
import { setupRows } from "../../src/book/sheets/setup-rows.ts";
import { bareSite, siteRows, SITES } from "../../src/book/sheets/sites.ts";
import type { CellValue } from "../../src/book/workbook/snapshot.ts";
import { defaultSettings, type Settings } from "../../src/book/records/settings.ts";

const BAD_SHARE = 0.06;
const HEADINGS = [
  "Device",
  "Site",
  "Status",
  "Average uses a month",
  "Electrode set replaced",
  "Ear cushion replaced",
  "Last calibrated",
  "Electrode set finding",
  "Retired on",
];

/** The same with a date for each of two positions. */
const WITH_POSITIONS = [
  ...HEADINGS.map((heading) => heading.replace("Ear cushion", "Left cushion")),
  "Right cushion replaced",
];

/** Limits of the register's own. */
const OWN_LIMITS = [
  "Electrode set next due",
  "Ear cushion interval (weeks)",
  "Calibration interval (months)",
];

/** Parts with both forms of the usage curve at once, a use budget alone, and a dated task. */
const PARTS_TRIED: readonly Part[] = DEFAULT_PARTS.map((part) => {
  if (part.code === "SET") return { ...part, useBudget: 180, lightUse: 20, heavyUse: 60 };
  return part.code === "CUSHION" ? { ...part, useBudget: 300 } : part;
});

/** A register of random rows, a share of them bad in every way a cell can be, as a plan for an empty book. */
export function randomBook(
  rows: number,
  seed: number,
  system: 1900 | 1904,
  {
    positions = null,
    ownLimits = false,
  }: { readonly positions?: Settings["positions"] | null; readonly ownLimits?: boolean } = {},
): Plan {
  const random = chance(seed);
  const bad = (good: CellValue, faults: readonly CellValue[]): CellValue =>
    random.share() < BAD_SHARE ? random.pick(faults) : good;
  const serial = (): number => toSerial(REPORT_DATE, system) - random.below(400);
  const dateFaults: CellValue[] = [
    null,
    "",
    "12/03/2026",
    61,
    -5,
    0,
    serial() + 900,
    serial() - 8000,
    true,
    { error: "#N/A" },
    " ",
  ];
  const date = (): CellValue => bad(random.share() < 0.1 ? serial() + 0.5 : serial(), dateFaults);
  const useFaults: CellValue[] = [null, "", "40", -3, 0, true, { error: "#REF!" }, 1e9];
  const headings = [
    ...(positions === null ? HEADINGS : WITH_POSITIONS),
    ...(ownLimits ? OWN_LIMITS : []),
  ];
  const firstLimit = headings.indexOf("Electrode set next due");
  const lines: CellValue[][] = [["Equipment of a random programme"], [], headings];
  for (let row = 0; row < rows; row += 1) {
    lines.push([
      `D${String(row).padStart(5, "0")}`,
      bad(`S0${1 + random.below(4)}`, [null, "S99", "S0?", "s01", 7, "S01 "]),
      bad("In service", [
        "Retired",
        " retired ",
        "Disposed",
        "written  off",
        " Ausgemustert",
        "RÉFORMÉ",
        "reforme",
        "dada de  baja",
        "stillgelegt?",
        null,
        3,
      ]),
      bad(Math.round(random.share() * 9000) / 100, useFaults),
      date(),
      date(),
      date(),
      bad("clean", ["Residue", "hairline crack", "HARDENED", null, 4, { error: "#N/A" }]),
      bad(null, [serial(), serial() + 500, "soon"]),
      ...(positions === null ? [] : [date()]),
      ...(ownLimits
        ? [
            bad(serial() + 100 + (random.share() < 0.1 ? 0.5 : 0), dateFaults),
            bad(random.below(44), useFaults),
            bad(random.below(150) / 10, useFaults),
          ]
        : []),
    ]);
  }
  const settings = {
    ...defaultSettings(REPORT_DATE),
    weekend: system === 1904 ? 7 : "0000011",
    positions: positions ?? "each",
  };
  const holidays = [0, 40, 41, 42, 90, 300].map((ahead) => ({
    date: (REPORT_DATE - 60 + ahead) as typeof REPORT_DATE,
    name: "Holiday",
  }));
  const sites = ["S01", "S02", "S03", "S04"].map((code, at) => ({
    ...bareSite(code),
    wipes: ["alcohol-free", "alcohol", "", "Alcohol-free"][at] ?? "",
  }));
  return {
    summary: "a random register",
    edits: [
      {
        kind: "addSheet",
        sheet: "Equipment",
        cells: lines.flatMap((values, row) =>
          values.flatMap((value, column): SheetCell[] =>
            value === null
              ? []
              : [
                  {
                    row,
                    column,
                    value,
                    // LibreOffice keeps TRUE as the number 1 with a look: with a date's look it is a date.
                    ...(row > 2 &&
                    ([4, 5, 6, 8].includes(column) ||
                      (column === 9 && positions !== null) ||
                      column === firstLimit) &&
                    value !== true
                      ? { format: "yyyy-mm-dd" }
                      : {}),
                  },
                ],
          ),
        ),
        widths: headings.map(() => 14),
        freezeRows: 3,
      },
      ...makeSheet(SETUP, SETUP.name, setupRows(settings, { dateSystem: system })),
      ...makeSheet(PARTS, PARTS.name, partRows(PARTS_TRIED)),
      ...makeSheet(SITES, SITES.name, siteRows(sites)),
      ...makeSheet(HOLIDAYS, HOLIDAYS.name, holidayRows(holidays, system)),
    ],
  };
}
