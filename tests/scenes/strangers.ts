import { chance, type Chance } from "../../src/book/demo/chance.ts";
import { textOf } from "../../src/book/workbook/cells.ts";
import type { Edit, Plan, SheetCell } from "../../src/book/workbook/plan.ts";
import type { CellValue } from "../../src/book/workbook/snapshot.ts";
import { toSerial } from "../../src/core/day.ts";
import { newWorkbook } from "../../src/xlsx/index.ts";
import { FIRST, SECOND } from "../book/headings/headings.ts";
import { roughened } from "./stranger-parts.ts";
import { companions, countSheet, extraSheets, type Placed } from "./stranger-sheets.ts";
import { FOREIGN, TODAY, type Traits } from "./stranger-traits.ts";

/** Registers as strangers keep them: nobody of us chose their headings, rows, features or company. */

/** What a row below the headings is. */
type RowKind = "device" | "nameless" | "blank" | "total" | "heading" | "note";

/** A stranger's book, and what is true of it. */
export interface Stranger {
  readonly traits: Traits;
  readonly bytes: Uint8Array;
  readonly sheet: string;
  readonly headerRow: number;
  /** The rows below the headings, in order. */
  readonly rows: readonly RowKind[];
  /** Devices in service whose name stands there once. */
  readonly known: readonly string[];
  readonly headings: readonly string[];
}

interface Column {
  readonly field: string | null;
  readonly heading: string;
}

const WORDED = [...FIRST, ...SECOND];
const FIELDS = [...new Set(WORDED.map(([, field]) => field))].filter((field) => field !== null);
const SHEETS = ["Equipment", "Our kit", "Sheet1", "Geräte & Teile", "Unit's list", "2026"];
const STATUS = ["In service", "In service", "In service", "Retired", "written off", "", null];

/** The book of these traits: the same traits, the same bytes. */
export function strangerOf(traits: Traits): Stranger {
  const random = chance(traits.seed);
  const columns = columnsOf(random, traits);
  const rows = rowsOf(random, traits);
  const sheet = random.pick(SHEETS);
  const headings = columns.map(({ heading }) => heading);
  const ids = rows.map((kind, at) => (kind === "device" ? idOf(random, at) : null));
  const headerRow = traits.titles;
  const lines = rows.map((kind, at) =>
    columns.map((column) => cellOf(random, traits, { kind, column, id: ids[at] ?? null })),
  );
  const place = { sheet, headerRow, headings, lines };
  const plan: Plan = {
    summary: "a stranger's book",
    edits: [
      registerSheet(random, traits, { ...place, columns }),
      ...companions(traits, place),
      ...countSheet(random, traits, ids),
      ...extraSheets(random, traits),
    ],
  };
  const made = newWorkbook(plan, { dateSystem: traits.system });
  const lastRow = headerRow + rows.length;
  const width = columns.length;
  return {
    traits,
    bytes: roughened(made, traits, { headerRow, lastRow, width, random }),
    sheet,
    headerRow,
    rows,
    headings,
    known: knownIn(ids, lines, columns),
  };
}

/** A wording for the device, for most other fields, and foreign columns, in any order. */
function columnsOf(random: Chance, { formulas, table }: Traits): Column[] {
  const worded = (field: string | null): Column => ({
    field,
    heading: random.pick(WORDED.filter((one) => one[1] === field))[0],
  });
  const found = FIELDS.filter((field) => field === "device" || random.share() < 0.6).map(worded);
  for (let more = random.below(5); more > 0; more -= 1) found.push(worded(null));
  const seen = new Set<string>();
  const columns = found.filter(({ heading }) => {
    const key = heading.toLowerCase();
    return !seen.has(key) && seen.add(key);
  });
  for (let at = columns.length - 1; at > 0; at -= 1) {
    const other = random.below(at + 1);
    const [one, two] = [columns[at], columns[other]];
    if (one && two) [columns[at], columns[other]] = [two, one];
  }
  return formulas === "none"
    ? columns
    : [...columns, { field: "formula", heading: table ? "Reckoned here" : "" }];
}

function rowsOf(random: Chance, { devices, between }: Traits): RowKind[] {
  const rows: RowKind[] = [];
  for (let device = 0; device < devices; device += 1) {
    rows.push("device");
    if (!between || random.share() > 0.4 || device === devices - 1) continue;
    rows.push(random.pick(["nameless", "blank", "blank", "total", "heading", "note"] as const));
  }
  return rows;
}

function idOf(random: Chance, at: number): CellValue {
  const number = at + 1;
  const kinds = [`VR-${100 + number}`, 4000 + number, `vr ${number}x`, ` K${number} `, "VR-twice"];
  return kinds[random.share() < 0.7 ? 0 : random.below(kinds.length)] ?? null;
}

const DATED = ["commissioned", "retiredOn", "last:SET", "last:CUSHION", "last:CALIBRATION"];
const OWN_VALUES: readonly CellValue[] = [
  `${FOREIGN} 1`,
  `  ${FOREIGN} padded `,
  `${FOREIGN}\nin two lines`,
  `${FOREIGN} ä <&> "🎈" _x0041_`,
  `=${FOREIGN}`,
  "004711",
  12.5,
  -1e-7,
  123456789012345,
  true,
  false,
  { error: "#N/A" },
  null,
];

interface CellRequest {
  readonly kind: RowKind;
  readonly column: Column;
  readonly id: CellValue;
}

function cellOf(random: Chance, traits: Traits, { kind, column, id }: CellRequest): CellValue {
  const { field, heading } = column;
  const text = kind === "total" ? "Total" : `${FOREIGN}: seen by the unit in June`;
  if (kind === "heading") return heading || null;
  if (kind === "device" || kind === "nameless") {
    return field === "device" ? id : (VALUES[field ?? "note"] ?? anything)(random, traits);
  }
  return kind !== "blank" && field === "device" ? text : null;
}

type Made = (random: Chance, traits: Traits) => CellValue;

const anything: Made = (random) => random.pick(["Type A", "clean", null, 7]);
const recent: Made = (random, traits) => dateIn(random, traits, 0);

/** What a stranger writes under a heading. */
const VALUES: Readonly<Record<string, Made>> = {
  note: (random) => random.pick(OWN_VALUES),
  formula: () => FOREIGN.length,
  site: (random) => `S0${1 + random.below(3)}`,
  uses: (random) => random.pick([12, 40.5, 3, null, "forty"]),
  status: (random) => random.pick(STATUS),
  commissioned: (random, traits) => dateIn(random, traits, 900),
  retiredOn: (random, traits) => (random.share() < 0.8 ? null : recent(random, traits)),
  "last:SET": recent,
  "last:CUSHION": recent,
  "last:CALIBRATION": recent,
};

function dateIn(random: Chance, { dates, system }: Traits, before: number): CellValue {
  const serial = toSerial(TODAY, system) - before - random.below(400);
  const asText = dates === "text" || (dates === "mixed" && random.share() < 0.5);
  if (!asText) return random.share() < 0.05 ? null : serial;
  return random.pick(["12/03/2026", "2026-02-29", "2026-03-17", "3 May 2026", "soon", "31.1.2026"]);
}

function registerSheet(
  random: Chance,
  traits: Traits,
  { sheet, headerRow, columns, lines }: Placed & { readonly columns: readonly Column[] },
): Edit {
  const titles = Array.from({ length: traits.titles }, (_, row) => row);
  const merged = columns.length - 1 + random.below(3);
  const formula = { text: `LEN("${FOREIGN}")+{r}-{r}`, live: false };
  const cells: SheetCell[] = [
    ...titles.map((row) => ({ row, column: 0, value: `${FOREIGN}: title ${row + 1}` })),
    ...columns.flatMap(({ heading }, column) =>
      heading === "" ? [] : [{ row: headerRow, column, value: heading }],
    ),
  ];
  lines.forEach((line, at) => {
    line.forEach((value, column) => {
      const { field = null } = columns[column] ?? {};
      const row = headerRow + 1 + at;
      const dated = typeof value === "number" && DATED.includes(field ?? "");
      const own = field === "formula" && typeof value === "number" ? { formula } : {};
      const look = dated ? { format: "dd.mm.yyyy" } : {};
      if (value !== null) cells.push({ row, column, value, ...look, ...own });
    });
  });
  return {
    kind: "addSheet",
    sheet,
    cells,
    widths: columns.map(() => 12),
    freezeRows: headerRow + 1,
    hiddenRows: traits.hidden ? [headerRow + 1 + random.below(lines.length)] : [],
    merges: titles
      .filter(() => merged > 0)
      .map((row) => ({ firstRow: row, firstColumn: 0, lastRow: row, lastColumn: merged })),
  };
}

function knownIn(
  ids: readonly CellValue[],
  lines: readonly (readonly CellValue[])[],
  columns: readonly Column[],
): string[] {
  const texts = ids.map((id) => textOf(id));
  const retired = columns.flatMap(({ field }, at) =>
    field === "status" || field === "retiredOn" ? [at] : [],
  );
  return texts.filter((text, row) => {
    const once = texts.filter((other) => other.toLowerCase() === text.toLowerCase()).length === 1;
    const serves = retired.every((at) =>
      [null, "", "In service"].includes(lines[row]?.[at] as string),
    );
    return text !== "" && once && serves;
  });
}
