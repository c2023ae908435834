import type { Plan } from "../src/book/workbook/plan.ts";
import type { Receipt } from "../src/book/workbook/receipt.ts";
import type { Area, Snapshot } from "../src/book/workbook/snapshot.ts";
import type { Day } from "../src/core/day.ts";

/** One cell, row and column counted from zero. */
export interface Place {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
}

/** A block of cells on a sheet. */
export interface Block {
  readonly sheet: string;
  readonly area: Area;
}

/** The choice that the pane starts with the workbook. */
interface Startup {
  get(): Promise<boolean>;
  set(on: boolean): Promise<void>;
}

/** How far a long job is, 0 to 1, and what it is doing. */
export type Told = (share: number, doing: string) => void;

/** What the pane needs from a workbook, whoever holds it: Excel, or the grid of the workbench. */
export interface Host {
  /** The workbook as it stands now. */
  snapshot(told?: Told): Promise<Snapshot>;
  /**
   * Applies a plan whole or not at all, after looking whether everything it expects still holds.
   *
   * Throws a HostError with a sentence for people.
   */
  apply(plan: Plan, told?: Told): Promise<Receipt>;
  /**
   * Takes an applied plan back; refused when a cell it wrote was changed since. Gives the cells that were left as
   * somebody else had them, who changed them in that very moment.
   */
  takeBack(receipt: Receipt): Promise<readonly string[]>;
  /** Shows a cell and selects it. */
  select(place: Place): Promise<void>;
  /** The cell that is selected, null when something else is. */
  selected(): Promise<Place | null>;
  /** The block of cells that is selected, null when something else is; absent where nobody can tell. */
  selectedBlock?(): Promise<Block | null>;
  /** Whether the pane starts with this workbook; absent where that cannot be chosen. */
  readonly startup?: Startup;
  /** What may help to find a fault, as lines of text; nothing that the workbook holds. */
  readonly report?: () => Promise<string>;
  /** False where a link that saves a file does nothing, so that texts are shown to be copied. */
  readonly savesFiles?: false;
  /** Calls back when cells were changed by somebody; gives a function that stops it. */
  changed(heard: () => void): () => void;
  /** The day on the wall. */
  today(): Day;
  /** Language and region for showing dates and numbers, such as en-GB. */
  readonly locale: string;
  /** Our worksheet functions can be written: the add-in is there and the book counts days from 1900. */
  readonly live: boolean;
}

/** A reason why a workbook could not be read or written; its message is a sentence for people. */
export class HostError extends Error {
  override readonly name = "HostError";
}
