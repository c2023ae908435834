import { periodOf } from "../headings/period.ts";
import { counted, listed, notice, wholeSheet } from "../records/problems.ts";
import { fieldOfPart, isLastDone } from "../records/positions.ts";
import { choosing } from "../records/registers.ts";
import type { Problem } from "../records/records.ts";
import { quoted } from "../workbook/cells.ts";
import { hasDates, isCounts, isKeptAs, namesEachOnce, strangers } from "./register-alike.ts";
import type { ReadRegister } from "./begin.ts";
import { differingDates } from "./copied-dates.ts";
import type { Search } from "./register.ts";
import type { Matching, Scored } from "./register-sheet.ts";

/** What makes a register of other sheets. */
const MAKES_ONE = "npx sparespan new OUT.xlsx --from BOOK.xlsx";
/** From here on a heading surely names devices. */
const SURE = 0.85;

interface Beside {
  readonly picked: readonly Scored[];
  /** Devices for which a sheet has other dates than the registers. */
  readonly differing: () => readonly string[];
}

/** What is told of sheets that are like a register and are not read. */
export function passedRegisters(
  { picked, others }: Search,
  registers: readonly Pick<ReadRegister, "found" | "fleet">[],
): Problem[] {
  const differing = ({ found: other }: Scored): string[] => {
    const both = registers.flatMap(({ found, fleet }) => differingDates(found, fleet.named, other));
    return [...new Set(both.map(({ device }) => device.id))];
  };
  return others.flatMap(
    (one) => passedOver(one, { picked, differing: () => differing(one) }) ?? [],
  );
}

/**
 * What is told of a sheet that is not read and may hold devices of the programme: it has dates of parts, or
 * devices that are on no register. Null where there is nothing to miss.
 */
function passedOver(one: Scored, { picked, differing }: Beside): Problem | null {
  const { found } = one;
  const [main] = picked;
  if (main === undefined || !namesEachOnce(found)) return null;
  const isLike = isKeptAs(one, main);
  if (!isLike && !isListOfDevices(found)) return null;
  const strange = strangers(one, picked);
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
  if (strange === 0) return sameDevicesOn(one, picked, { names, differing: differing() });
  const more = `: ${counted(strange, "device")} of it ${strange === 1 ? "is" : "are"} not on ${names}`;
  return notice(
    "register not read",
    wholeSheet(sheet.name),
    `${sheet.name} looks like a register, but is not read${more}.`,
    `If its devices belong to the programme, choose it besides ${names}: ${choosing([...sheets, sheet.name])}.`,
  );
}

/** What is told of a sheet whose devices are all on those that are read: chosen besides, each would be in two rows. */
function sameDevicesOn(
  { found }: Scored,
  picked: readonly Scored[],
  { names, differing }: { readonly names: string; readonly differing: readonly string[] },
): Problem {
  const { name } = found.page.sheet;
  const read = new Set(picked.flatMap((one) => partsOf(one.found)));
  const other = partsOf(found).filter((field) => !read.has(field));
  const isMore = other.length > 0;
  const differ =
    differing.length === 0
      ? ""
      : ` It has other dates for ${listed(differing)}; none of them counts.`;
  const headings = found.matches.flatMap(({ field, heading }) =>
    other.includes(fieldOfPart(field)) ? quoted(heading) : [],
  );
  return notice(
    "register not read",
    wholeSheet(name),
    isMore
      ? `${name} looks like a register, but is not read: its devices are on ${names} too, and its ${listed(headings)} on no sheet that is read.`
      : `${name} looks like a register, but is not read: its devices are on ${names} too.${differ}`,
    isMore
      ? `Give ${names} a column for each part, and put the dates there; or have a register made of all sheets: ${MAKES_ONE}.`
      : `If it is the register of today, choose it in the place of ${names}: --match "register=${name}"; if it is an old copy, say so in its name (${name} old).`,
  );
}

/** The parts a sheet has dates of, as fields. */
function partsOf({ matches }: Matching): string[] {
  return matches.flatMap(({ field }) => (isLastDone(field) ? fieldOfPart(field) : []));
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
