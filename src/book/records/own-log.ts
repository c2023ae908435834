/** What a line of a log says was done to a part; "" where no part, or no job, is named. */
export interface Work {
  /** Code of the part. */
  readonly part: string;
  readonly job: "" | "replaced" | "calibrated" | "inspected" | "withdrawn" | "returned";
  /** Whether every piece was replaced; null of other jobs. */
  readonly complete: boolean | null;
  readonly damaged: boolean;
}

/** A wording of a log people keep themselves, however often it stands there. */
export interface Wording {
  /** As its first line has it. */
  readonly text: string;
  /** What all spellings of it that look alike have in common. */
  readonly key: string;
  readonly lines: number;
  /** Its first line. */
  readonly row: number;
  /**
   * Said: a person has told what it means. Clear: its words say one thing. Unclear: it may be the work it
   * proposes. Unknown: no work can be read from it.
   */
  readonly says: "said" | "clear" | "unclear" | "unknown";
  readonly work: readonly Work[];
}

/** A sheet on which a programme logs its jobs in its own words, as it was understood. */
export interface OwnLog {
  readonly sheet: string;
  /** A person has said that it is their log; until then nothing in it calms. */
  readonly confirmed: boolean;
  /** Headings of its date, its device and its words; a letter where there is none. */
  readonly columns: { readonly date: string; readonly device: string; readonly work: string };
  readonly lines: number;
  /** The most frequent first. */
  readonly wordings: readonly Wording[];
}

/** Under which a Setup remembers the sheet, and before a wording what it means. */
export const OWN_LOG = "own log";
export const LOG_WORD = "log word ";

/** Whether a row of Setup remembers something of an own log. */
export function isOfOwnLog(label: string): boolean {
  const key = label.toLowerCase();
  return key === OWN_LOG || key.startsWith(LOG_WORD);
}
