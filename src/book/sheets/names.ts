import type { AddName, Edit } from "../workbook/plan.ts";
import type { Part } from "../records/records.ts";
import { HOLIDAYS } from "./holidays.ts";
import { columnReference } from "./layout.ts";
import { partReference } from "./parts.ts";
import { NAME, partName, type PartValue } from "../records/names.ts";
import { eachSetting } from "../records/settings.ts";
import { settingReference } from "./setup.ts";
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

/** Names the book does not have yet. */
export function nameEdits(snapshot: Snapshot, sheets: SheetNames, parts: readonly Part[]): Edit[] {
  // A name whose cells were deleted is made again.
  const there = new Set(
    snapshot.names
      .filter(({ refersTo }) => !refersTo.includes("#REF!"))
      .map((name) => name.name.toLowerCase()),
  );
  return [...settingNames(sheets), ...parts.flatMap((part) => namesOf(part, sheets))].filter(
    (edit) => !there.has(edit.name.toLowerCase()),
  );
}

function settingNames(sheets: SheetNames): AddName[] {
  return [
    ...eachSetting().flatMap(([key, { name }]) =>
      name === undefined ? [] : named(name, settingReference(sheets.setup, key)),
    ),
    named(NAME.holidays, columnReference(HOLIDAYS, sheets.holidays, "Date")),
    named(NAME.siteCodes, columnReference(SITES, sheets.sites, "Code")),
    named(NAME.siteWipes, columnReference(SITES, sheets.sites, "Wipes")),
  ];
}

function namesOf(part: Part, sheets: SheetNames): AddName[] {
  const name = (value: PartValue): string => partName(part, value);
  const values = Object.entries(PART_VALUES) as [keyof typeof PART_VALUES, string][];
  const limits = `${name("Shortest")},${name("Longest")}`;
  const ramp = `${name("Light")},${name("Heavy")}`;
  const sound =
    `AND(COUNT(${limits})=2,${name("Shortest")}>=1,${name("Shortest")}<=${name("Longest")},${name("Longest")}<=120,` +
    `COUNT(${ramp})<>1,IF(COUNT(${ramp})=2,AND(${name("Light")}>=0,${name("Light")}<=${name("Heavy")}),TRUE),` +
    `N(${name("Budget")})>=0)`;
  const curve = `OR(N(${name("Budget")})>0,COUNT(${ramp})=2)`;
  return [
    ...values.map(([value, heading]) =>
      named(name(value), partReference(sheets.parts, part.code, heading)),
    ),
    named(name("Sound"), sound),
    named(name("Curve"), curve),
  ];
}

function named(name: string, refersTo: string): AddName {
  return { kind: "addName", name, refersTo };
}
