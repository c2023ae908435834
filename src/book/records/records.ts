import type { Day } from "../../core/day.ts";
import type { OwnLog } from "./own-log.ts";
import type { Settings } from "./settings.ts";
import type { ProblemKind, RowDoubt } from "./problem-kinds.ts";

/** A kind of part, or a dated task such as a yearly calibration: one row of the Parts sheet. */
export interface Part {
  /** Short key used in names and formulas: capital letters only. */
  readonly code: string;
  readonly name: string;
  /** Months between replacements: the short end (heavy use, or doubt) and the long end (light use). */
  readonly shortest: number | null;
  readonly longest: number | null;
  /** How many uses one part serves, or null. */
  readonly useBudget: number | null;
  /** Uses a month up to which the long end holds, and from which the short end holds; or null. */
  readonly lightUse: number | null;
  readonly heavyUse: number | null;
  /** Inspections due per ISO week, 0 for none. */
  readonly perWeek: number;
  /** Vinyl hardens under alcohol-based wipes: then the short end applies. */
  readonly vinyl: boolean;
  /** A dated task does not wear: its interval is the short end. */
  readonly task: boolean;
  readonly supply: Supply;
  /** Fields whose cells cannot be trusted; their values are the careful ones. */
  readonly doubts: readonly PartField[];
  /** Its positions where the registers have a date for each of them, such as left and right. */
  readonly positions?: Positions;
  /** Set where this is one position of a part: its limits are the part's, its dates its own. */
  readonly position?: { readonly name: string; readonly of: Part };
}

/** The positions of a part, each with an interval of its own. */
interface Positions {
  readonly names: readonly string[];
  /** Units that a replacement of one of them takes. */
  readonly units: number;
}

/** A field of a part, or of how it is bought. */
export type PartField =
  Exclude<keyof Part, "supply" | "doubts" | "position" | "positions"> | keyof Supply;

/** How a part is bought. Texts are "" where nothing is stated. */
export interface Supply {
  /** Unit code of UN/ECE Recommendation 20, such as SET or EA. */
  readonly unit: string;
  /** Units one replacement takes. */
  readonly perReplacement: number;
  /** Units in a pack, whole, at least 1. */
  readonly pack: number;
  /** Price of a pack; null until it is stated. */
  readonly packPrice: number | null;
  /** What a replacement costs in all that comes before its due date, the part included; or null. */
  readonly earlyCost: number | null;
  /** Days from order to delivery: mean and standard deviation. */
  readonly leadDays: number;
  readonly leadSpread: number;
  /** Months it may lie on the shelf; null for no limit. */
  readonly shelfMonths: number | null;
  readonly ourItem: string;
  readonly supplierItem: string;
  readonly makerItem: string;
  readonly gtin: string;
  readonly costCentre: string;
  readonly supplier: string;
  readonly quote: string;
}

/** A birthing site: one row of the Sites sheet. */
export interface Site {
  readonly code: string;
  /** The code stands in the sheet as a number. */
  readonly numeric: boolean;
  readonly name: string;
  /** Names the site had before, as written. */
  readonly earlierNames: readonly string[];
  /** "alcohol", "alcohol-free", or "" when not stated (taken as alcohol: the short end). */
  readonly wipes: string;
  readonly shipTo: string;
  readonly costCentre: string;
  /** Births a year, for a need calculated from births; null when not stated. */
  readonly births: number | null;
  /** Sessions a month a device of a site too new for counts is expected to have; an estimate. */
  readonly expectedUses: number | null;
}

/** One job of the Job log, dates already read. */
export interface Job {
  readonly sheet: string;
  readonly row: number;
  readonly date: Day | null;
  /** The two days it may be where day and month may be swapped: there is no date then. */
  readonly eitherDay?: readonly [Day, Day];
  /** Days that it would be of, if it counted: no proof of a date in the register. */
  readonly undone?: readonly Day[] | "any";
  readonly device: string;
  readonly deviceKey: string;
  /** Code or name of the part as written. */
  readonly part: string;
  readonly job: string;
  readonly finding: string;
  /** True and false as written; null where the cell is blank. */
  readonly complete: boolean | null;
  readonly lot: string;
  /** Role or initials. */
  readonly by: string;
  readonly note: string;
  /** A line of a log the programme keeps itself, beside ours. */
  readonly own?: true;
}

/** What lies on a shelf of one part: one row of the Shelf sheet. */
export interface ShelfItem {
  readonly sheet: string;
  readonly row: number;
  /** Code or name of the part as written, and site as the register spells it; site "" is the programme's own store. */
  readonly part: string;
  readonly site: string;
  /** Units; null where the cell is blank or no number. */
  readonly onHand: number | null;
  readonly countedOn: Day | null;
  readonly onOrder: number | null;
  readonly expectedOn: Day | null;
  readonly lot: string;
  readonly expiry: Day | null;
  /** Dates whose cell holds something that cannot be read: a blank one says less, but nothing wrong. */
  readonly unread?: ReadonlySet<ShelfDate>;
  /** What is written beside the row and condemns what lies there; in quotes. */
  readonly remark?: string;
}

/** The dates of a row of the Shelf. */
export type ShelfDate = "countedOn" | "expectedOn" | "expiry";

/** Uses or babies of one device in one month. */
export interface Count {
  readonly device: string;
  readonly deviceKey: string;
  /** First day of the month. */
  readonly month: Day;
  /** Null is a month without a usable count, never zero. */
  readonly count: number | null;
  /** Something stands in the cell, but it cannot be used. */
  readonly faulty: boolean;
  /** What stands there, where others of the month put it in doubt. */
  readonly doubted?: number | null;
  /** The count is far below or above what the device's other counts are. */
  readonly outOfLine?: "low" | "high";
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
}

/** The date a part of a device was last replaced or a task last done, as far as it can be trusted. */
export interface LastDone {
  /** Key of the part, or of its position. */
  readonly part: string;
  /** The cell's column in the register, null when the date comes from the Job log. */
  readonly column: number | null;
  readonly date: Day | null;
  /** What the programme's own log says beside the register's cell; absent where it says nothing. */
  readonly logged?: Day | null;
  /** The cell is in a column of ours that was filled from the log and is to be brought up to date. */
  readonly fills?: true;
}

/** One device: one row of a register. */
export interface Device {
  /** The register's sheet. */
  readonly sheet: string;
  readonly row: number;
  /** Trimmed identifier, non-breaking spaces included. */
  readonly id: string;
  /** What its identifier has in common with every other spelling of it: deviceKey of the id. */
  readonly key: string;
  /** Site as the register first spells it, trimmed; "" when there is none. */
  readonly site: string;
  readonly commissioned: Day | null;
  /** It has left the programme, and nothing in the book contradicts that. */
  readonly retired: boolean;
  /** Why the whole row is in doubt: such a device stays in service. */
  readonly doubt: RowDoubt | null;
  /** Codes of parts that a remark speaks against, where the rest of the row is not in doubt. */
  readonly doubtedParts?: readonly string[];
  readonly lastDone: readonly LastDone[];
}

/** A fault of a row or a column: where, what is wrong, what to do. Never a reason to stop at the first. */
export interface Problem {
  readonly kind: ProblemKind;
  readonly sheet: string;
  /** Row counted from zero; null when the whole sheet or column is meant. */
  readonly row: number | null;
  /** Column counted from zero, null when the whole row or sheet is meant. */
  readonly column: number | null;
  /** The column's heading as it stands in the sheet, "" when there is none. */
  readonly heading: string;
  readonly cause: string;
  readonly fix: string;
  /** A notice is stated, such as hidden rows; it does not make the rows wrong. */
  readonly severity: "fault" | "notice";
  /** What the cell is certain to mean; absent where a person has to say. */
  readonly mend?: Mend;
  /** While a book is being read: which words of cause and fix are still to come, and what they speak of. */
  readonly said?: readonly [name: string, ...about: readonly unknown[]];
}

/** What a cell holds once it is mended. */
export interface Mend {
  readonly value: string | number;
  /** The number is a date, as the workbook counts days. */
  readonly isDate: boolean;
}

/** A column of a sheet taken for a field. */
export interface ColumnMatch {
  /** Field key, such as "device" or "last:SET". */
  readonly field: string;
  readonly column: number;
  readonly heading: string;
  /** 0 to 1; 1 when the person said so. */
  readonly confidence: number;
  readonly by: "heading" | "setup" | "person";
}

/** Where the register stands and what its columns are. */
export interface Register {
  readonly sheet: string;
  /** Last row of the heading (a two-row heading ends here). */
  readonly headerRow: number;
  /** Rows that hold a device, in order. */
  readonly rows: readonly number[];
  /** Rows inside the data that are not devices: blank, subtotal, repeated heading; each with its reason. */
  readonly leftOut: readonly { readonly row: number; readonly reason: string }[];
  /** One heading a column, two-row headings joined with a space. */
  readonly headings: readonly string[];
  readonly matches: readonly ColumnMatch[];
  /** Headings that fit no field. */
  readonly unmatched: readonly string[];
}

/** Everything read from our own sheets, or their defaults. */
export interface Ours {
  readonly settings: Settings;
  readonly parts: readonly Part[];
  /** Empty when the book has no Sites sheet yet. */
  readonly sites: readonly Site[];
  readonly holidays: readonly Day[];
  /** Cells of Holidays that are no date: each may be any day. */
  readonly unreadHolidays: number;
  readonly jobs: readonly Job[];
  readonly shelf: readonly ShelfItem[];
  /** What is told of the cells of our sheets: every job that is worked out from them names it. */
  readonly doubts: readonly Problem[];
}

/** A workbook read: records, and everything that cannot be trusted. */
export interface Reading {
  readonly ours: Ours;
  /** The sheets of devices, never none: many programmes keep one for each site. */
  readonly registers: readonly Register[];
  readonly devices: readonly Device[];
  readonly counts: readonly Count[];
  /** Sheets that are, or may be, the programme's own log. */
  readonly ownLogs: readonly OwnLog[];
  readonly problems: readonly Problem[];
}
