import { keyOf } from "../workbook/cells.ts";
import type { Work } from "./own-log.ts";
import { partKey, unitNamed } from "./positions.ts";
import type { Part } from "./records.ts";

/** What a person says of a wording that means no work. */
export const NOTHING = "nothing";

/** The words a person says a meaning in, after the part. */
export const WORK_WORDS = [
  "replaced",
  "partial",
  "damaged",
  "calibrated",
  "inspected",
  "withdrawn",
  "returned",
] as const;

/** What a person said a wording means; null where it cannot be read. */
export function workSaid(text: string, parts: readonly Part[]): Work[] | null {
  if (keyOf(text) === NOTHING) return [];
  const found = text.split(/[;,+]/).map((one) => oneSaid(one.trim(), parts));
  return found.some((one) => one === null) ? null : found.filter((one) => one !== null);
}

/** A device is withdrawn, a dated task calibrated, what wears replaced; anything may be looked at. */
function goesWith(word: (typeof WORK_WORDS)[number], part: Part | null): boolean {
  if (word === "inspected") return true;
  if (part === null) return word === "withdrawn" || word === "returned" || word === "damaged";
  if (part.task) return word === "calibrated";
  return word === "replaced" || word === "partial" || word === "damaged";
}

function oneSaid(text: string, parts: readonly Part[]): Work | null {
  const words = text.split(/\s+/);
  const word = WORK_WORDS.find((one) => one === words.at(-1)?.toLowerCase());
  const named = words.slice(0, -1).join(" ");
  const meant = named === "" ? null : unitNamed(parts, named);
  const part = meant?.stray === null ? meant.part : null;
  if (word === undefined || (named !== "" && part === null)) return null;
  if (!goesWith(word, part)) return null;
  const code = part === null ? "" : partKey(part);
  const none = { part: code, complete: null, damaged: false };
  if (word === "damaged") return { ...none, job: "", damaged: true };
  if (word === "replaced") return { ...none, job: word, complete: true };
  if (word === "partial") return { ...none, job: "replaced", complete: false };
  return { ...none, job: word };
}
