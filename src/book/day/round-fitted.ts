import { positionOf } from "../records/position-words.ts";
import type { WorkReader } from "../headings/work-text.ts";
import { answered } from "../languages/answers.ts";
import { quoted } from "../workbook/cells.ts";

/** What a cell says of a new set: its lot; null lot for words that are neither a lot nor yes. */
export interface Fitted {
  readonly lot: string | null;
  readonly said: string;
}

/** A lot is one word with a digit in it: "2" and "1x" may be a count, "n/a" and "ordered" are none. */
const LOT = /^(?:lot[\s:#.]*)?(?!\d{1,2}x?$)(?=\S*[1-9])[\p{L}\d][^\s?]+$/iu;

/** What people write into a cell so that it is not left empty. */
const NOTHING = /^(?:[-–—/0.]+|n\/?a|none)$/iu;

/** What the cell for the new set says; null where nothing was replaced. */
export function fittedIn(said: string): Fitted | null {
  if (said === "" || NOTHING.test(said) || answered(said) === false) return null;
  if (answered(said) === true || /^[x✓✔]$/iu.test(said)) return { lot: "", said };
  return { lot: LOT.test(said) ? said : null, said };
}

/** Why nobody can tell that the complete set was replaced; null where nothing speaks against it. */
export function fittedDoubt(
  fitted: Fitted,
  note: string,
  turns: WorkReader["turns"],
): string | null {
  if (fitted.lot === null) {
    const must = "Replaced, lot must be the lot of the complete new set, yes or no";
    return `${must}, got ${quoted(fitted.said)}`;
  }
  if (!turns(note) && positionOf(note) === null) return null;
  return `the Note ${quoted(note)} may say that not the complete set was replaced: log it by itself`;
}
