import type { Plan } from "../../../src/book/workbook/plan.ts";
import type { BegunWorkbook } from "../../../src/book/reading/begin-workbook.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import type { Receipt } from "../../../src/book/workbook/receipt.ts";
import type { Snapshot } from "../../../src/book/workbook/snapshot.ts";
import type { Steps } from "../../../src/book/workbook/steps.ts";
import type { Day } from "../../../src/core/day.ts";

/** The sections in the order they are offered. */
export const SECTIONS = [
  "today",
  "columns",
  "log",
  "ahead",
  "budget",
  "order",
  "share",
  "check",
  "functions",
] as const;

export type Section = (typeof SECTIONS)[number];

/** The workbook as it was read. */
export interface Opened {
  readonly snapshot: Snapshot;
  readonly reading: Reading;
  /** What the rest is told from, while only what touches every figure is told; null once all is. */
  readonly begun: BegunWorkbook | null;
}

/** A step of a change: a plan made from the workbook as it stands when the step's turn comes. */
export type Step = (opened: Opened) => Steps<Plan>;

/** A change somebody may want: steps one after the other, and what is worth knowing of it. */
export interface Request {
  readonly steps: readonly Step[];
  readonly notes?: (before: Opened, after: Opened) => readonly string[];
}

/** A change worked out and not done yet: what is shown before anything happens. */
export interface Proposal {
  readonly section: Section;
  readonly request: Request;
  /** The workbook it was worked out on. */
  readonly before: Opened;
  readonly plans: readonly Plan[];
  /** The plans in words, exact cells named. */
  readonly lines: readonly string[];
  readonly notes: readonly string[];
}

/** A change that was made and can be taken back. */
interface Done {
  readonly section: Section;
  readonly summary: string;
  readonly receipts: readonly Receipt[];
}

/** Why there is no workbook to work on. */
export interface Trouble {
  readonly kind: "register" | "patients" | "host" | "fault";
  readonly sentence: string;
}

/** All that the pane knows. */
export interface State {
  /** Whether a host is there; "alone" is a page that no workbook belongs to. */
  readonly place: "starting" | "host" | "alone";
  readonly section: Section;
  readonly snapshot: Snapshot | null;
  readonly book: Opened | null;
  readonly trouble: Trouble | null;
  /** What runs now, and how far it is (0 to 1). */
  readonly busy: {
    readonly doing: string;
    readonly share: number;
    readonly stoppable: boolean;
  } | null;
  readonly proposal: Proposal | null;
  /** Changes that can be taken back, the last one first. */
  readonly done: readonly Done[];
  /** Why the last press did nothing, null where it worked. */
  readonly refusal: string | null;
  /** The last thing told. */
  readonly said: string;
  /** Somebody changed cells since the workbook was read. */
  readonly stale: boolean;
  /** The day everything is judged on; null stands for today. */
  readonly reportDate: Day | null;
  /** Choices of sheets and columns that are not in Setup yet. */
  readonly matches: ReadonlyMap<string, string>;
}

const BEGINNING: State = {
  place: "starting",
  section: "today",
  snapshot: null,
  book: null,
  trouble: null,
  busy: null,
  proposal: null,
  done: [],
  refusal: null,
  said: "",
  stale: false,
  reportDate: null,
  matches: new Map(),
};

/** The one place where the state lies. */
export interface Store {
  readonly state: () => State;
  readonly set: (change: Partial<State>) => void;
  /** Calls back after every change; gives a function that stops it. */
  readonly subscribe: (heard: () => void) => () => void;
}

/** A store that begins with nothing read. */
export function newStore(): Store {
  let state = BEGINNING;
  const heard = new Set<() => void>();
  return {
    state: () => state,
    set(change) {
      state = { ...state, ...change };
      for (const one of [...heard]) one();
    },
    subscribe(one) {
      heard.add(one);
      return () => heard.delete(one);
    },
  };
}
