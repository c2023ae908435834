/** Days before the report date beyond which a retirement date is none. */
export const LONGEST_GONE = 18263;

/** Status words that take a device out of the programme, whatever their case. */
export const RETIRED_WORDS = [
  "retired",
  "disposed",
  "disposed of",
  "scrapped",
  "condemned",
  "decommissioned",
  "written off",
] as const;
