import type { Doubt } from "./problem-kinds.ts";

/** Why a row's date is not to be trusted, in few words. */
export const DOUBT_CAUSES: Readonly<Record<Doubt, string>> = {
  "due dates": "Dates may be due dates",
  "struck out": "Cell is struck through",
  "words beside date": "Words are beside the date",
  "own limit unread": "Own limit is missing or unclear",
  "misplaced date": "Date may be filled down or moved",
  "moving date": "Date moves by itself",
  "day and month swapped": "Day and month may be swapped",
  "date of a partial set": "Date is from a partial set",
  "date disagrees": "Date disagrees with the Job log",
  "copies disagree": "Date disagrees with a copy",
  "before commissioning": "Date is before first use",
  "1,462-day shift": "Dates are 1,462 days off",
  "retired but in use": "Retired, but perhaps in use",
  "retirement in doubt": "Retirement is in doubt",
  "duplicate device": "Device is in several rows",
  comment: "A comment speaks against the date",
  remark: "A remark speaks against the row",
  "part remark": "A remark speaks against the part",
};

/** The same within a sentence. */
export function doubtText(doubt: Doubt): string {
  const words = DOUBT_CAUSES[doubt];
  return words.charAt(0).toLowerCase() + words.slice(1);
}
