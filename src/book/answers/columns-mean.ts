import { EACH_COMPUTED } from "./computed.ts";
import { AFTER_PART, COMPUTED_WORDS, COUNTED_TITLE, JUDGED_TITLE, USES_TITLE } from "./titles.ts";

/** Columns that are added only once there is something to say in them. */
const LATE_COMERS = [
  [
    `… ${AFTER_PART.logged}`,
    "The last replacement or task in the log you keep yourself, beside the register's date.",
  ],
  [
    `… ${AFTER_PART.countedFrom}`,
    "The later of the register's date and your log's; the earlier where they are less than a month apart and may be one replacement.",
  ],
  [
    `… ${AFTER_PART.earliest}`,
    "Of several dates of one part, such as left and right, the earliest; none while one is missing.",
  ],
  [
    `… ${AFTER_PART.doubt}`,
    "Why a date is not used: it contradicts the Job log or another column; correct it and run columns again.",
  ],
  [
    `… ${AFTER_PART.finding}`,
    "A finding in the Job log that ended the part's life and has not been followed by a replacement.",
  ],
] as const;

/** What each column of ours means, for Read me, in the order in which people meet them. */
export const COLUMNS_MEAN: readonly (readonly [string, string])[] = [
  [
    USES_TITLE,
    "Sessions a month from the latest three months with a count, up to the report date.",
  ],
  [
    COUNTED_TITLE,
    "Last day those counts cover; if it is too long ago, the shortest interval applies.",
  ],
  [
    `… ${AFTER_PART.replaced}`,
    "The date the interval starts from: the last complete replacement, entered as a date.",
  ],
  ...EACH_COMPUTED.flatMap(([column, { about }]) => [
    ...(column === "check" ? LATE_COMERS : []),
    [`… ${COMPUTED_WORDS[column]}`, about] as const,
  ]),
  [
    JUDGED_TITLE,
    "The report date of Setup, as of which the states hold: a workbook left lying stays as it was.",
  ],
];
