/**
 * Dates that are dates, but contradicted: a later one would lengthen the interval, so none is used
 * until a person has decided.
 */
export const DATE_DOUBTS = [
  "day and month swapped",
  "date disagrees",
  "before commissioning",
  "1,462-day shift",
] as const;

/** A device retired by the register and used after: the row's state is Check row until it is settled. */
export const RETIRED_IN_USE = "retired but in use";

/** Why a row's date is not to be trusted although it is one. */
export type Doubt = (typeof DATE_DOUBTS)[number] | typeof RETIRED_IN_USE;

/** Every kind of problem, as lists and reports name it. */
export type ProblemKind = Doubt | OfDevices | OfDates | OfCounts | OfJobs | OfSheets;

type OfDevices =
  | "date-like device"
  | "device missing"
  | "duplicate device"
  | "earlier site name"
  | "site spelled twice"
  | "stray spaces"
  | "unknown device"
  | "unknown site"
  | "unknown status";

type OfDates = "cell error" | "date out of range" | "future date" | "no date" | "text date";

type OfCounts =
  | "count below zero"
  | "count missing"
  | "count not whole"
  | "count ten times"
  | "counted twice"
  | "counts are babies"
  | "late count"
  | "no uses a month"
  | "text count";

type OfJobs = "partial set" | "unknown finding" | "unknown job" | "unknown part";

type OfSheets =
  | "chosen column missing"
  | "counts not found"
  | "filtered"
  | "hidden columns"
  | "hidden rows"
  | "limits missing or crossed"
  | "no column"
  | "number in text"
  | "overwritten formula"
  | "part code"
  | "repeated heading"
  | "repeated row"
  | "subtotal row"
  | "two-row heading"
  | "unclear column"
  | "unusable cell";
