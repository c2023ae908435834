/**
 * Dates that are dates, but contradicted: a later one would lengthen the interval, so none is used
 * until a person has decided.
 */
export const DATE_DOUBTS = [
  "moving date",
  "day and month swapped",
  "date of a partial set",
  "date disagrees",
  "copies disagree",
  "before commissioning",
  "1,462-day shift",
  "due dates",
  "comment",
  "own limit unread",
  "struck out",
  "words beside date",
  "misplaced date",
] as const;

/**
 * A device retired by the register and used after, or retired in a way that the register itself contradicts:
 * it stays in service until that is settled.
 */
export const RETIREMENT_DOUBTS = ["retired but in use", "retirement in doubt"] as const;

/** Why nothing in a device's row is to be trusted; the same device in two rows is in doubt in both. */
export type RowDoubt = (typeof RETIREMENT_DOUBTS)[number] | "duplicate device" | "remark";

/** Why a row's date is not to be trusted although it is one. */
export type Doubt = (typeof DATE_DOUBTS)[number] | RowDoubt | "part remark";

/** Every kind of problem, as lists and reports name it. */
export type ProblemKind =
  Doubt | OfDevices | OfDates | OfCounts | OfJobs | OfOwnLog | OfShelf | OfSheets;

type OfDevices =
  | "date-like device"
  | "device missing"
  | "devices alike"
  | "device column"
  | "earlier site name"
  | "merged sites"
  | "several devices"
  | "site above"
  | "site column"
  | "site missing"
  | "serial twice"
  | "site spelled twice"
  | "site titles"
  | "sites alike"
  | "stray spaces"
  | "struck device"
  | "unknown device"
  | "unknown site"
  | "unknown status"
  | "unweighed remark";

type OfDates =
  | "cell error"
  | "date out of range"
  | "dates in step"
  | "future date"
  | "linked date"
  | "no date"
  | "own date past"
  | "own limit"
  | "own limit missing"
  | "own limit unclear"
  | "short own interval"
  | "text date"
  | "unweighed comment";

type OfCounts =
  | "count below zero"
  | "count missing"
  | "count not whole"
  | "count out of line"
  | "counted twice"
  | "counts in doubt"
  | "counts are babies"
  | "late count"
  | "month unclear"
  | "months marked"
  | "no uses a month"
  | "text count";

type OfJobs =
  "damage of no device" | "partial set" | "unknown finding" | "unknown job" | "unknown part";

type OfOwnLog = "log words" | "own log" | "own log not found" | "two dates";

type OfShelf =
  | "delivery"
  | "shelf count"
  | "shelf count high"
  | "shelf expiry"
  | "shelf row twice"
  | "shelf site";

type OfSheets =
  | "chosen column missing"
  | "colours not read"
  | "column not read"
  | "counts not found"
  | "counts not read"
  | "filtered"
  | "hidden columns"
  | "hidden rows"
  | "limits missing or crossed"
  | "manual calculation"
  | "no column"
  | "number in text"
  | "overwritten formula"
  | "part code"
  | "price offered"
  | "register not read"
  | "sheet gone"
  | "sheet not read"
  | "repeated heading"
  | "repeated row"
  | "several positions"
  | "shape not read"
  | "subtotal row"
  | "foot row"
  | "summary"
  | "two-row heading"
  | "unclear column"
  | "unused column"
  | "unusable cell";
