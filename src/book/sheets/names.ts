import type { AddName, Edit } from "../workbook/plan.ts";
import type { Part } from "../records/records.ts";
import { ALL_RETIRED_WORDS } from "../records/retired-words.ts";
import { HOLIDAYS } from "./holidays.ts";
import { columnReference } from "./layout.ts";
import { PARTS, partReference } from "./parts.ts";
import { NAME, partName, type PartValue, SETTING_NAMES } from "../records/names.ts";
import type { NamedKey } from "../records/settings.ts";
import { settingFormula } from "./setting-formula.ts";
import { SITES } from "./sites.ts";
import type { Snapshot } from "../workbook/snapshot.ts";

/** What our sheets are called in this book. */
export interface SheetNames {
  readonly setup: string;
  readonly parts: string;
  readonly sites: string;
  readonly holidays: string;
}

/** Where the values of a part stand that have a name of their own. */
const PART_VALUES = {
  Shortest: "Shortest (months)",
  Longest: "Longest (months)",
  Budget: "Use budget (uses)",
  Light: "Light use (a month)",
  Heavy: "Heavy use (a month)",
  Vinyl: "Vinyl",
} as const satisfies Partial<Record<PartValue, string>>;

type PartHeading = (typeof PART_VALUES)[keyof typeof PART_VALUES] | "Dated task";

/** Names the book does not have yet. */
export function nameEdits(snapshot: Snapshot, sheets: SheetNames, parts: readonly Part[]): Edit[] {
  // A name whose cells were deleted is made again.
  const there = new Set(
    snapshot.names
      .filter(({ refersTo }) => !refersTo.includes("#REF!"))
      .map((name) => name.name.toLowerCase()),
  );
  const system = snapshot.dateSystem;
  return [
    ...settingNames(sheets, system),
    ...parts.flatMap((part) => namesOf(part, sheets)),
  ].filter((edit) => !there.has(edit.name.toLowerCase()));
}

function settingNames(sheets: SheetNames, system: Snapshot["dateSystem"]): AddName[] {
  const holidays = columnReference(HOLIDAYS, sheets.holidays, "Date");
  const [from, to] = ["DATE(2000,1,1)", "DATE(2099,12,31)"];
  const dates = `COUNTIFS(${holidays},">="&${from},${holidays},"<="&${to})`;
  return [
    ...(Object.keys(SETTING_NAMES) as NamedKey[]).map((key) =>
      named(SETTING_NAMES[key], settingFormula(sheets.setup, key, system)),
    ),
    named(NAME.holidays, holidays),
    named(NAME.unreadHolidays, `ROWS(${holidays})-COUNTBLANK(${holidays})-${dates}`),
    // MMULT makes LibreOffice take the whole column and not the cell beside the row.
    named(
      NAME.holidayDates,
      `MMULT(IF(ISNUMBER(${holidays}),IF(${holidays}>=${from},IF(${holidays}<=${to},${holidays},0),0),0),{1})`,
    ),
    named(NAME.siteCodes, columnReference(SITES, sheets.sites, "Code")),
    named(NAME.siteWipes, columnReference(SITES, sheets.sites, "Wipes")),
    named(NAME.retiredWords, `{${ALL_RETIRED_WORDS.map((word) => `"${word}"`).join(",")}}`),
  ];
}

/**
 * The values of a part, and whether they can be read: each cell is blank or what it must be, they fit
 * together, and the code stands once. A curve counts only where they can.
 */
function namesOf(part: Part, sheets: SheetNames): AddName[] {
  const name = (value: PartValue): string => partName(part, value);
  const values = Object.entries(PART_VALUES) as [keyof typeof PART_VALUES, PartHeading][];
  const cell = (heading: PartHeading): string => partReference(sheets.parts, part.code, heading);
  const ramp = `${name("Light")},${name("Heavy")}`;
  const codes = columnReference(PARTS, sheets.parts, "Code");
  const isOnce = `SUMPRODUCT(--(TRIM(SUBSTITUTE(${codes},"\u00a0"," "))="${part.code}"))=1`;
  const word = (of: string): string => `OR(${of}="",${of}="yes",${of}="no")`;
  const readable = [
    isOnce,
    ...(["Budget", "Light", "Heavy"] as const).map((value) =>
      isNumber(name(value), PART_VALUES[value], `${name(value)}=""`),
    ),
    isNumber(name("Shortest"), PART_VALUES.Shortest),
    isNumber(name("Longest"), PART_VALUES.Longest),
    word(name("Vinyl")),
    word(cell("Dated task")),
  ];
  const fits = `AND(${name("Shortest")}<=${name("Longest")},COUNT(${ramp})<>1,IF(COUNT(${ramp})=2,${name("Light")}<=${name("Heavy")},TRUE))`;
  const curve = `IF(${name("Sound")},OR(N(${name("Budget")})>0,COUNT(${ramp})=2),FALSE)`;
  return [
    ...values.map(([value, heading]) => named(name(value), cell(heading))),
    named(name("Sound"), `IFERROR(IF(AND(${readable.join(",")}),${fits},FALSE),FALSE)`),
    named(name("Curve"), curve),
  ];
}

/** Whether a cell holds a number within the limits of its column. Programs differ on whether TRUE is one. */
function isNumber(of: string, heading: PartHeading, otherwise = "FALSE"): string {
  const choices = PARTS.columns.find((column) => column.heading === heading)?.choices;
  if (choices?.kind !== "number") throw new Error(`${heading} holds no number`);
  const { from, to, whole } = choices;
  const fits = `${of}>=${from},${of}<=${to}${whole ? `,INT(${of})=${of}` : ""}`;
  return `IF(ISLOGICAL(${of}),FALSE,IF(ISNUMBER(${of}),AND(${fits}),${otherwise}))`;
}

function named(name: string, refersTo: string): AddName {
  return { kind: "addName", name, refersTo };
}
