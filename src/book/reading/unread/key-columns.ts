import { evidenceOf } from "../../headings/column-profile.ts";
import { type Matcher, matcherFor } from "../../headings/match.ts";
import { answered } from "../../languages/answers.ts";
import { counted, notice } from "../../records/problems.ts";
import type { Part, Problem } from "../../records/records.ts";
import { columnLetters } from "../../workbook/snapshot.ts";
import { keyOf, quoted, textOf } from "../../workbook/cells.ts";
import type { Named } from "../devices/devices.ts";
import type { Found } from "../register/register.ts";
import { remarkColumns } from "../remarks/remarks-heard.ts";
import { NO_DEVICE } from "../rows/rows.ts";
import { serialsInstead } from "./serials-instead.ts";
import { type UnusedReader, unusedReader } from "./unused-words.ts";

/** Rows from which on it shows whether a column repeats itself. */
const FEWEST = 4;
const NEARLY_ALL = 0.9;
/** Words for a ward that are also of work; common practice, no source. */
const PLACES = /^(?:service|servicio|servi[cç]o|servizio|unit|unit[éeà]|unidad|unidade)$/iu;

/** A column nothing is read from, by its heading; by its letter where it has none. */
interface Free {
  readonly column: number;
  readonly heading: string;
  /** What its cells say beside each device. */
  readonly texts: readonly string[];
}

/**
 * Columns that may be those of the devices and of the sites, where no heading says so: another stands in for the
 * devices, and without sites all of them are one place, so that stock, orders and budgets are of another programme.
 */
export function keyColumns(
  found: Found,
  named: readonly Named[],
  parts: readonly Part[],
): Problem[] {
  const serials = serialsInstead(found, named, parts);
  if (serials.length > 0 || named.length < FEWEST) return serials;
  const says = unusedReader(parts);
  const free = freeColumns(found, named, parts);
  return [
    ...deviceColumn(found, free, matcherFor(parts)),
    ...siteColumn(found, named, { free, says }),
  ];
}

function freeColumns(found: Found, named: readonly Named[], parts: readonly Part[]): Free[] {
  const { page, register } = found;
  const used = new Set([
    ...register.matches.map(({ column }) => column),
    ...remarkColumns(found, parts),
  ]);
  const last = register.rows.at(-1) ?? 0;
  return register.headings.flatMap((heading, column): Free[] => {
    if (used.has(column)) return [];
    const { texts, filled } = evidenceOf(page, column, register.headerRow + 1, last);
    if (filled === 0 || texts < NEARLY_ALL) return [];
    const cells = named.map(({ row }) => textOf(page.sheet.values[row]?.[column] ?? null));
    const said = cells.filter((text) => text !== "");
    return said.length < named.length * NEARLY_ALL ? [] : [{ column, heading, texts: said }];
  });
}

/** Devices told by their serial numbers beside a column that names each of them. */
function deviceColumn({ page, register }: Found, free: readonly Free[], matcher: Matcher) {
  const device = register.matches.find(({ field, by }) => field === "device" && by === "heading");
  const field = (key: string) => matcher.fields.find((one) => one.key === key);
  const [own, serial] = [field("device"), field("serial")];
  if (device === undefined || own === undefined || serial === undefined) return [];
  const likeness = (one: typeof own): number => matcher.likeness(device.heading, one, null);
  if (likeness(own) >= likeness(serial)) return [];
  const names = free.find(({ texts }) => distinct(texts) >= texts.length * NEARLY_ALL);
  if (names === undefined) return [];
  const cause = `No heading says which column names the devices, so ${quoted(device.heading)} does; ${called(names)} has another text in each row.`;
  return [tell("device column", { page, column: names, field: "device", cause })];
}

/** A register most of whose rows have entries, but nothing where their devices are called: cells may have been moved. */
export function emptyDevices({ page, register }: Found): Problem[] {
  const device = register.matches.find(({ field }) => field === "device");
  const none = register.leftOut.filter(({ reason }) => reason === NO_DEVICE).length;
  if (device === undefined || none <= register.rows.length) return [];
  const { column, heading } = device;
  const cause = `${counted(none, "row")} of ${page.sheet.name} ${none === 1 ? "has" : "have"} entries, but no device under ${quoted(heading)}: they are in none of the figures.`;
  const fix = "See whether the cells were moved below another heading.";
  const place = { sheet: page.sheet.name, row: null, column, heading };
  return [notice("device column", place, cause, fix)];
}

/** A column of few texts that stand beside several devices each, in a register without sites. */
function siteColumn(
  { page, columns }: Found,
  named: readonly Named[],
  { free, says }: { readonly free: readonly Free[]; readonly says: UnusedReader },
) {
  if (columns.has("site") || named.some(({ site }) => site !== "")) return [];
  const places = free.find(
    ({ heading, texts }) =>
      (!says.plain(heading) || PLACES.test(heading.trim())) &&
      distinct(texts) > 1 &&
      distinct(texts) * 2 <= texts.length &&
      texts.every((text) => /\p{L}{2}/u.test(text) && answered(text) === null),
  );
  if (places === undefined) return [];
  const cause = `No heading says the site, so all devices are at one place; ${called(places)} may say it.`;
  return [tell("site column", { page, column: places, field: "site", cause })];
}

function called({ column, heading }: Free): string {
  return heading === ""
    ? `column ${columnLetters(column)}, which has no heading,`
    : quoted(heading);
}

function tell(
  kind: "device column" | "site column",
  {
    page,
    column: { column, heading },
    field,
    cause,
  }: {
    readonly page: Found["page"];
    readonly column: Free;
    readonly field: string;
    readonly cause: string;
  },
): Problem {
  const title = field === "site" ? "Site" : "Device";
  const choose = heading === "" ? "" : ` or give --match "${field}=${heading}"`;
  const place = { sheet: page.sheet.name, row: null, column, heading };
  return notice(kind, place, cause, `If so, head it ${title}${choose}.`);
}

function distinct(texts: readonly string[]): number {
  return new Set(texts.map(keyOf)).size;
}
