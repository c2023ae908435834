import { periodOf } from "../headings/period.ts";
import { counted, listed, notice, wholeSheet } from "../records/problems.ts";
import { choosing } from "../records/registers.ts";
import type { Problem } from "../records/records.ts";
import { hasDates, isCounts, isKeptAs, namesEachOnce, strangers } from "./register-alike.ts";
import type { Search } from "./register.ts";
import type { Matching, Scored } from "./register-sheet.ts";

/** From here on a heading surely names devices. */
const SURE = 0.85;

/** What is told of sheets that are like a register and are not read. */
export function passedRegisters({ picked, others }: Search): Problem[] {
  return others.flatMap((one) => passedOver(one, picked) ?? []);
}

/**
 * What is told of a sheet that is not read and may hold devices of the programme: it has dates of parts, or
 * devices that are on no register. Null where there is nothing to miss.
 */
function passedOver(one: Scored, picked: readonly Scored[]): Problem | null {
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
  const more =
    strange === 0
      ? `: its devices are on ${names} too`
      : `: ${counted(strange, "device")} of it ${strange === 1 ? "is" : "are"} not on ${names}`;
  return notice(
    "register not read",
    wholeSheet(sheet.name),
    `${sheet.name} looks like a register, but is not read${more}.`,
    `If its devices belong to the programme, choose it besides ${names}: ${choosing([...sheets, sheet.name])}.`,
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
