import type { Plan } from "../../src/book/workbook/plan.ts";
import type { Receipt } from "../../src/book/workbook/receipt.ts";
import type { Snapshot } from "../../src/book/workbook/snapshot.ts";
import { viewOf } from "../../src/xlsx/index.ts";
import { civilDay, type Day } from "../../src/core/day.ts";
import type { Host, Told } from "../host.ts";
import { userEdits } from "./journal.ts";
import { filedCells, shownBook } from "./days.ts";
import type { Grid, GridEvents } from "./sheets.ts";
import { type BookDocument, documentOf } from "./document.ts";

/** A workbook in the workbench: a host for the pane, and the file it can be saved as. */
export interface Bench extends Host {
  /** Opens a file in place of the one before; a demonstration has a day of its own. */
  readonly openFile: (bytes: Uint8Array, day?: Day) => Promise<void>;
  /** The file as it stands, everything typed included. */
  readonly file: () => Promise<Uint8Array>;
  /** Whether something happened since the file was opened or last kept. */
  readonly isUnsaved: () => boolean;
  /** Bytes of the file were kept somewhere. */
  readonly kept: (bytes: Uint8Array) => void;
  /** Whether the book counts its days from 1904. */
  readonly from1904: () => boolean;
  /** To be told by the grid. */
  readonly touched: GridEvents["changed"];
}

const SILENT: Told = () => undefined;

/** A host over a grid and the bytes behind it; `wrote` hears of every change the pane made. */
export function benchOver(
  grid: () => Grid,
  locale: string,
  wrote: () => void = () => undefined,
): Bench {
  const held = heldOver(grid);
  const { settle, show, listeners } = held;
  return {
    locale,
    get live() {
      return !held.from1904();
    },
    today: held.today,
    openFile: held.openFile,
    file: async () => (await settle()).bytes(),
    isUnsaved: held.isUnsaved,
    kept: held.kept,
    from1904: held.from1904,
    touched: held.touched,
    async snapshot(say: Told = SILENT): Promise<Snapshot> {
      say(0, "reading");
      return (await settle()).open().snapshot;
    },
    async apply(plan: Plan, say: Told = SILENT): Promise<Receipt> {
      const now = await settle();
      say(0.3, "writing");
      const receipt = now.apply(plan);
      say(0.7, "showing");
      await show();
      wrote();
      return receipt;
    },
    async takeBack(receipt) {
      (await settle()).takeBack(receipt);
      await show();
      wrote();
      return [];
    },
    select(place) {
      grid().select(place);
      return Promise.resolve();
    },
    selected: () => Promise.resolve(grid().selected()),
    selectedBlock: () => Promise.resolve(grid().selectedArea()),
    changed(heard) {
      listeners.add(heard);
      return () => listeners.delete(heard);
    },
  };
}

interface HeldFile extends Pick<
  Bench,
  "openFile" | "today" | "isUnsaved" | "kept" | "touched" | "from1904"
> {
  /** Brings what was typed into the bytes. */
  readonly settle: () => Promise<BookDocument>;
  readonly show: () => Promise<void>;
  readonly listeners: Set<() => void>;
}

/** The file behind the grid, and which cells of the grid may differ from it. */
function heldOver(grid: () => Grid): HeldFile {
  let opened: BookDocument | null = null;
  let touched = new Map<string, Set<number>>();
  let saved: Uint8Array | null = null;
  let day: Day | null = null;
  const listeners = new Set<() => void>();
  const show = async (): Promise<void> => {
    touched = new Map();
    const open = current(opened).open();
    await grid().load(shownBook({ snapshot: open.snapshot, view: viewOf(open) }));
  };
  return {
    listeners,
    show,
    today: () => day ?? wallDay(),
    async openFile(bytes, own) {
      const before = { opened, day, saved };
      opened = documentOf(bytes);
      day = own ?? null;
      saved = bytes;
      try {
        await show();
      } catch (error) {
        ({ opened, day, saved } = before);
        throw error;
      }
    },
    from1904: () => opened?.open().snapshot.dateSystem === 1904,
    isUnsaved: () => touched.size > 0 || (opened !== null && opened.bytes() !== saved),
    kept(bytes) {
      saved = bytes;
    },
    touched(sheet, keys) {
      const known = touched.get(sheet) ?? new Set();
      for (const key of keys) known.add(key);
      if (known.size > 0) touched.set(sheet, known);
      for (const heard of [...listeners]) heard();
    },
    async settle() {
      await grid().settled();
      const now = current(opened);
      const book = now.open().snapshot;
      now.leave(userEdits(book, touched, filedCells(book, grid())));
      touched = new Map();
      return now;
    },
  };
}

function current(opened: BookDocument | null): BookDocument {
  if (opened === null) throw new Error("no workbook is open yet");
  return opened;
}

/** The day on the wall. */
export function wallDay(): Day {
  const now = new Date();
  return civilDay(now.getFullYear(), now.getMonth() + 1, now.getDate());
}
