import { periodOf } from "../headings/period.ts";
import { counted, listed, notice, wholeSheet } from "../records/problems.ts";
import { choosing } from "../records/choosing.ts";
import { quoted } from "../workbook/cells.ts";
import type { Part, Problem } from "../records/records.ts";
import { makesOne, partSheets } from "./register/part-sheets.ts";
import {
  hasDates,
  isCopy,
  isCounts,
  isKeptAs,
  isSetAside,
  namesEachOnce,
  strangers,
} from "./register/register-alike.ts";
import type { ReadRegister } from "./begin.ts";
import { differingDates, isMadeOf } from "./misplaced/copied-dates.ts";
import type { Search } from "./register/register.ts";
import type { Matching, Scored } from "./register/register-sheet.ts";

/** From here on a heading surely names devices. */
const SURE = 0.85;

interface Beside {
  readonly picked: readonly Scored[];
  /** Devices for which a sheet has other dates than the registers; null where those were made of it, and it has no later one. */
  readonly differing: () => readonly string[] | null;
  /** Sheets that each have dates of other parts. */
  readonly ofParts: readonly string[];
}

interface Same extends Pick<Beside, "ofParts"> {
  readonly names: string;
  readonly differing: readonly string[] | null;
}

/** What is told of sheets that are like a register and are not read. */
export function passedRegisters(
  { picked, others }: Search,
  registers: readonly Pick<ReadRegister, "found" | "fleet">[],
  parts: readonly Part[],
): Problem[] {
  const differing = ({ found: other }: Scored): string[] | null => {
    const both = registers.flatMap(({ found, fleet }) => differingDates(found, fleet.named, other));
    const isLeft = registers.every(({ found }) => isMadeOf(found, other));
    if (isLeft && both.every(({ date, other: there }) => there < date)) return null;
    return [...new Set(both.map(({ device }) => device.id))];
  };
  const ofParts = partSheets({ picked, others }, parts);
  return others.flatMap(
    (one) => passedOver(one, { picked, ofParts, differing: () => differing(one) }) ?? [],
  );
}

/**
 * What is told of a sheet that is not read and may hold devices of the programme: it has dates of parts, or
 * devices that are on no register. Null where there is nothing to miss.
 */
function passedOver(one: Scored, { picked, differing, ofParts }: Beside): Problem | null {
  const { found } = one;
  const [main] = picked;
  if (main === undefined) return null;
  const strange = new Set(strangers(one, picked)).size;
  // A list that names devices again and again is of nothing new, unless it has some of its own.
  if (!namesEachOnce(found) && strange === 0) return null;
  const isLike = isKeptAs(one, main);
  if (!isLike && !isListOfDevices(found)) return null;
  if (!isLike && strange === 0 && !hasDates(found)) return null;
  const { sheet } = found.page;
  const later = laterCopy(one, picked);
  if (later !== null && strange === 0) {
    return notice(
      "register not read",
      wholeSheet(sheet.name),
      `${sheet.name} is not read: its devices are also on ${later}, which is more recent.`,
      `If it is the register of today, choose it: --match "register=${sheet.name}", or a row Register in Setup.`,
    );
  }
  const sheets = picked.map((other) => other.found.page.sheet.name);
  const names = listed(sheets);
  if (strange === 0) return sameDevicesOn(one, { names, differing: differing(), ofParts });
  return strangersOn(one, { picked, strange, ofParts });
}

/** What is told of a sheet with devices that are on none of those that are read. */
function strangersOn(
  one: Scored,
  { picked, strange, ofParts }: Pick<Beside, "picked" | "ofParts"> & { readonly strange: number },
): Problem {
  const { sheet } = one.found.page;
  const sheets = picked.map((other) => other.found.page.sheet.name);
  const names = listed(sheets);
  const more = `: ${counted(strange, "device")} of it ${strange === 1 ? "is" : "are"} not on ${names}`;
  return notice(
    "register not read",
    wholeSheet(sheet.name),
    `${sheet.name} looks like a register, but is not read${more}.`,
    ofParts.includes(sheet.name)
      ? `It has dates of another part: ${makesOne(ofParts)}.`
      : isCopy(one, picked)
        ? // Chosen besides, all its other devices would be in two rows.
          `If ${strange === 1 ? "it belongs" : "they belong"} to the programme, add ${strange === 1 ? "it" : "them"} to ${names}.`
        : `If its devices belong to the programme, choose it besides ${names}: ${choosing([...sheets, sheet.name])}.`,
  );
}

/** What is told of a sheet whose devices are all on those that are read: chosen besides, each would be in two rows. */
function sameDevicesOn({ found }: Scored, { names, differing, ofParts }: Same): Problem | null {
  if (differing === null) return null;
  const { name } = found.page.sheet;
  const differ =
    differing.length === 0
      ? ""
      : ` It has other dates for ${listed(differing)}; none of them counts.`;
  const [first = ""] = differing;
  const others =
    differing.length === 0
      ? ""
      : `; if its devices are others with the same names, write the site into the identifiers, such as ${quoted(`${name} ${first}`)}`;
  return notice(
    "register not read",
    wholeSheet(name),
    `${name} looks like a register, but is not read: its devices are on ${names} too.${differ}`,
    ofParts.includes(name)
      ? `It has dates of another part: ${makesOne(ofParts)}.`
      : `If it is the register of today, choose it in the place of ${names}: --match "register=${name}"; if it is an old copy, ${isSetAside(found) ? "nothing needs to be done" : `say so in its name (${name} old)`}${others}.`,
  );
}

/** The name of a sheet picked in the place of an earlier copy of it; null where the names do not say so. */
function laterCopy({ found }: Scored, picked: readonly Scored[]): string | null {
  const own = periodOf(found.page.sheet.name);
  if (own === null) return null;
  const names = picked.map((one) => one.found.page.sheet.name);
  return names.find((name) => (periodOf(name) ?? own) > own) ?? null;
}

/** A heading that surely names devices, and a column that only equipment has. */
function isListOfDevices(found: Matching): boolean {
  const device = found.matches.find(({ field }) => field === "device");
  const isThing = found.matches.some(({ field }) => /^(?:model|serial|last:.+)$/.test(field));
  return device !== undefined && device.confidence >= SURE && isThing && !isCounts(found);
}
