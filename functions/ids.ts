/**
 * The names of the functions in a worksheet, frozen once shipped. They stand apart because Excel wants to hear
 * them at once, before the functions themselves need to be there.
 */
export const IDS = [
  "SPAN",
  "NEXTDUE",
  "DUESTATE",
  "CHECKBY",
  "CHECKSKEPT",
  "USERATE",
  "USEAHEAD",
  "REPLACEAHEAD",
  "YEARNEED",
  "LIFEFIT",
  "SURVIVE",
  "BESTSPAN",
  "REORDERPOINT",
  "STOCKODDS",
  "EXPECTEDSHORT",
  "ORDERSIZE",
  "ECONOMICORDER",
  "ORDERBY",
  "PLACESPARES",
  "PACKCOST",
  "BUDGETAT",
  "KEPTRATE",
  "ROWCHECK",
  "LABELPART",
] as const;

export type FunctionId = (typeof IDS)[number];
