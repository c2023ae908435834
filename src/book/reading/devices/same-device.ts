import { alikeKey, letterForDigit, lookAlikeKey } from "../../records/alike-keys.ts";
import { fault, listed, notice, wholeSheet } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { siteKey } from "../../records/site-names.ts";
import { quoted } from "../../workbook/cells.ts";
import { type Fleet, type Named } from "./devices.ts";

/** Identifiers in a sentence; the rest are counted. */
const NAMED = 4;

/** Devices that stand in several rows, or may: told at each of them. */
export function sameDevices(fleets: readonly Fleet[], repeated: ReadonlySet<string>): Problem[] {
  return [...duplicates(fleets, repeated), ...alike(fleets), ...lookAlike(fleets)];
}

/** Devices that stand in several rows, on one sheet or on several: told at each of their rows. */
function duplicates(fleets: readonly Fleet[], repeated: ReadonlySet<string>): Problem[] {
  if (repeated.size === 0) return [];
  const rowsOf = rowsByKey(fleets, repeated);
  const isBySite = numberedBySite(rowsOf);
  const told = fleets.flatMap((fleet) =>
    fleet.named.flatMap((device): Problem[] => {
      const others = (rowsOf.get(device.key) ?? []).filter((other) => other !== device);
      if (others.length === 0) return [];
      const cause = `${quoted(device.id)} is also in ${rowsText(others, device)}; until that is settled all of them are in doubt.`;
      const fix = isBySite ? writeSite(device) : "Keep one row for each device.";
      return [fault("duplicate device", fleet.placeOf(device), cause, fix)];
    }),
  );
  return isBySite ? [...told, sitesNumber(rowsOf)] : told;
}

/** Told once before all else: nothing can be judged until the site is in each number. */
function sitesNumber(rowsOf: ReadonlyMap<string, readonly Named[]>): Problem {
  const groups = [...rowsOf.values()];
  const ids = groups.flatMap(([one]) => (one === undefined ? [] : quoted(one.id)));
  const first = groups.flat()[0];
  const isOnSheets = groups.some((rows) => new Set(rows.map(({ sheet }) => sheet)).size > 1);
  const copy = isOnSheets
    ? ", and say in the name of a sheet that is an old copy that it is old"
    : "";
  return notice(
    "device column",
    wholeSheet(first?.sheet ?? ""),
    `${listed(ids, NAMED)} ${ids.length === 1 ? "stands" : "stand"} at several sites, so none of their dates can be judged.`,
    `If each site numbers its own devices, write the site into the identifier, such as ${quoted(`${first?.site ?? ""} ${first?.id ?? ""}`)}, in the register, in the counts and in the Job log; else keep one row for each device${copy}.`,
  );
}

function rowsText(others: readonly Named[], { sheet }: Named): string {
  const names = others.map((other) =>
    other.sheet === sheet ? String(other.row + 1) : `${other.row + 1} of ${other.sheet}`,
  );
  return `${others.length === 1 ? "row" : "rows"} ${listed(names)}`;
}

function writeSite({ site, id }: Named): string {
  return `If each site numbers its own devices, write the site into the identifier, such as ${quoted(`${site} ${id}`)}, here, in the counts and in the Job log; else keep one row for each device.`;
}

/** Whether several identifiers stand once at each of several sites, as where each site numbers its own. */
function numberedBySite(rowsOf: ReadonlyMap<string, readonly Named[]>): boolean {
  const apart = [...rowsOf.values()].filter((rows) => {
    const sites = new Set(rows.map(({ site }) => siteKey(site)));
    return sites.size === rows.length && !rows.some(({ site }) => site === "");
  });
  return apart.length > 1;
}

/** Devices whose identifiers differ only in how they are spelled: told at each further spelling. */
function alike(fleets: readonly Fleet[]): Problem[] {
  const firsts = new Map<string, Named>();
  return fleets.flatMap((fleet) =>
    fleet.named.flatMap((device): Problem[] => {
      const alike = alikeKey(device.key);
      const first = firsts.get(alike);
      if (first === undefined) firsts.set(alike, device);
      if (first === undefined || first.key === device.key) return [];
      const cause = `${quoted(device.id)} may be ${quoted(first.id)} in ${rowsText([first], device)}, written in another way; they count as two devices.`;
      const fix = "If they are one device, write it in one way everywhere and keep one row of it.";
      return [fault("devices alike", fleet.placeOf(device), cause, fix)];
    }),
  );
}

/** From so many on, identifiers that begin with a letter like a digit are a row of names, as L1, L2 and L3. */
const ROW_OF_NAMES = 3;

/**
 * Devices whose identifiers differ only in a letter that looks like a digit. Both may be there, each with its own
 * dates, and both count; at one typed by mistake the dates of one device stand in two rows.
 */
function lookAlike(fleets: readonly Fleet[]): Problem[] {
  const all = fleets.flatMap((fleet) => fleet.named.map((device) => ({ fleet, device })));
  const begun = new Map<string, number>();
  for (const { device } of all) {
    const letter = letterForDigit(device.key);
    if (letter !== null) begun.set(letter, (begun.get(letter) ?? 0) + 1);
  }
  const isSlip = ({ device: { key } }: (typeof all)[number]): boolean => {
    const count = begun.get(letterForDigit(key) ?? "") ?? 0;
    return count > 0 && count < ROW_OF_NAMES;
  };
  const slips = new Set(all.filter(isSlip).map(({ device }) => lookAlikeKey(device.key)));
  if (slips.size === 0) return [];
  const firsts = new Map<string, (typeof all)[number]>();
  return all.flatMap((one): Problem[] => {
    const { device, fleet } = one;
    const like = lookAlikeKey(device.key);
    if (!slips.has(like)) return [];
    const first = firsts.get(like);
    if (first === undefined) firsts.set(like, one);
    if (first === undefined || alikeKey(first.device.key) === alikeKey(device.key)) return [];
    const cause = `${quoted(device.id)} may be ${quoted(first.device.id)} in ${rowsText([first.device], device)}, with a letter for a digit that looks like it; they count as two devices.`;
    const fix = "If they are one device, keep one row of it; if not, number one of them anew.";
    return [notice("devices alike", fleet.placeOf(device), cause, fix)];
  });
}

/** The rows of each device that stands in several, by its key. */
function rowsByKey(
  fleets: readonly Fleet[],
  repeated: ReadonlySet<string>,
): ReadonlyMap<string, readonly Named[]> {
  const groups = new Map<string, Named[]>();
  for (const one of fleets.flatMap(({ named }) => named)) {
    if (!repeated.has(one.key)) continue;
    const there = groups.get(one.key);
    if (there === undefined) groups.set(one.key, [one]);
    else there.push(one);
  }
  return groups;
}
