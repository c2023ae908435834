import { refusals } from "../../src/book/workbook/expect.ts";
import { receiptOf } from "../../src/book/workbook/receipt.ts";
import { takeBackBars } from "../../src/book/workbook/take-back.ts";
import type { CellValue, Snapshot } from "../../src/book/workbook/snapshot.ts";
import type { Day } from "../../src/core/day.ts";
import { told } from "../../taskpane/excel/faults.ts";
import { type Block, type Host, HostError, type Place } from "../../taskpane/host.ts";
import { offPaper, onPaper } from "../../taskpane/paper.ts";

/** A workbook on paper as a host, with what a test needs to look at and to meddle with. */
export interface PaperHost extends Host {
  readonly book: () => Snapshot;
  /** What the pane selected, in order. */
  readonly shown: readonly Place[];
  /** The person at the cells: selects some, or types into one. */
  readonly pick: (block: Block) => void;
  readonly type: (place: Place, value: CellValue) => void;
  /** Makes every reading take so many milliseconds, in steps. */
  readonly slow: (milliseconds: number) => void;
  /** From now on the workbook may not be changed, as when it is protected. */
  readonly lock: () => void;
}

/** The host over a workbook in memory. */
export function paperHost(beginning: Snapshot, today: Day): PaperHost {
  let book = beginning;
  let picked: Block | null = null;
  let pause = 0;
  let locked = false;
  let on = true;
  const shown: Place[] = [];
  const heard = new Set<() => void>();
  const refuse = (reasons: readonly string[]): void => {
    if (locked) throw told({ code: "AccessDenied" });
    if (reasons.length > 0) throw new HostError(reasons.join(" "));
  };
  return {
    locale: "en-GB",
    live: true,
    today: () => today,
    book: () => book,
    shown,
    startup: {
      get: () => Promise.resolve(on),
      set(wanted) {
        on = wanted;
        return Promise.resolve();
      },
    },
    async snapshot(told) {
      const steps = pause === 0 ? 0 : 10;
      for (let step = 0; step < steps; step += 1) {
        told?.(step / steps, "cells");
        await new Promise((resolve) => setTimeout(resolve, pause / steps));
      }
      return book;
    },
    // eslint-disable-next-line @typescript-eslint/require-await -- a refusal must come as a rejection
    async apply(plan) {
      const reasons = refusals(book, plan);
      refuse(reasons.length > 0 ? [`Nothing was changed: ${reasons.join("; ")}.`] : []);
      const receipt = receiptOf(book, plan);
      book = onPaper(book, plan);
      return receipt;
    },
    // eslint-disable-next-line @typescript-eslint/require-await -- a refusal must come as a rejection
    async takeBack(receipt) {
      refuse(takeBackBars(book, receipt));
      book = offPaper(book, receipt);
      return [];
    },
    select(place) {
      shown.push(place);
      return Promise.resolve();
    },
    selected() {
      if (picked === null) return Promise.resolve(null);
      const { sheet, area } = picked;
      return Promise.resolve({ sheet, row: area.firstRow, column: area.firstColumn });
    },
    selectedBlock: () => Promise.resolve(picked),
    changed(one) {
      heard.add(one);
      return () => heard.delete(one);
    },
    pick(block) {
      picked = block;
    },
    type({ sheet, row, column }, value) {
      const blocks = [{ column, rows: [row], values: [value] }];
      const edit = { kind: "fillCells", sheet, blocks, expects: {} } as const;
      book = onPaper(book, { summary: "typed", edits: [edit] });
      for (const one of heard) one();
    },
    slow(milliseconds) {
      pause = milliseconds;
    },
    lock() {
      locked = true;
    },
  };
}
