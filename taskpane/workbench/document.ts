import { protectedIn, refusals } from "../../src/book/workbook/expect.ts";
import type { Plan } from "../../src/book/workbook/plan.ts";
import { type Receipt, receiptOf } from "../../src/book/workbook/receipt.ts";
import { takeBackBars } from "../../src/book/workbook/take-back.ts";
import { cellKey, sheetNamed } from "../../src/book/workbook/snapshot.ts";
import {
  applyUserEdits,
  applyPlan,
  type UserEdit,
  openWorkbook,
  type OpenWorkbook,
  WorkbookError,
} from "../../src/xlsx/index.ts";
import { HostError } from "../host.ts";

/** What happened to the file since it was opened, in order: cells somebody left, and plans. */
type Step =
  | { readonly kind: "edits"; readonly cells: readonly UserEdit[] }
  | {
      readonly kind: "plan";
      readonly plan: Plan;
      readonly receipt: Receipt;
      /** The file before the plan: what taking it back starts from. */
      readonly before: Uint8Array;
    };

/** The bytes of a file and how they came about: what stands behind the grid. */
export interface BookDocument {
  readonly bytes: () => Uint8Array;
  readonly open: () => OpenWorkbook;
  /** Takes in cells somebody left in the grid. */
  readonly leave: (cells: readonly UserEdit[]) => void;
  /** Applies a plan whole or not at all. */
  readonly apply: (plan: Plan) => Receipt;
  /** Takes a plan back; what happened since is done once more on the file before it. */
  readonly takeBack: (receipt: Receipt) => void;
}

/** The document of a file just opened. */
export function documentOf(bytes: Uint8Array): BookDocument {
  let now = openTold(bytes);
  let held = bytes;
  let steps: Step[] = [];
  const become = (next: Uint8Array): void => {
    now = openTold(next);
    held = next;
  };
  return {
    bytes: () => held,
    open: () => now,
    leave(cells) {
      if (cells.length === 0) return;
      become(told(() => applyUserEdits(now, cells)));
      steps.push({ kind: "edits", cells });
    },
    apply(plan) {
      const reasons = [...refusals(now.snapshot, plan), ...protectedIn(now.snapshot, plan)];
      if (reasons.length > 0) throw new HostError(`Nothing was changed: ${reasons.join("; ")}.`);
      const receipt = receiptOf(now.snapshot, plan);
      const before = held;
      if (plan.edits.length > 0) become(told(() => applyPlan(now, plan)));
      steps.push({ kind: "plan", plan, receipt, before });
      return receipt;
    },
    takeBack(receipt) {
      const at = steps.findIndex((step) => step.kind === "plan" && step.receipt === receipt);
      const step = steps[at];
      if (step?.kind !== "plan") throw new HostError(GONE);
      const bars = takeBackBars(now.snapshot, receipt);
      if (bars.length > 0) throw new HostError(bars.join(" "));
      const again = redone(step.before, steps.slice(at + 1));
      become(again.bytes);
      steps = [...steps.slice(0, at), ...again.steps];
    },
  };
}

const GONE = "This change belongs to another file: it cannot be undone here.";
const BUILT_ON = "A later change builds on this one: undo that one first.";

/** Does steps once more on another file. */
function redone(start: Uint8Array, steps: readonly Step[]): { bytes: Uint8Array; steps: Step[] } {
  const done: Step[] = [];
  let bytes = start;
  for (const step of steps) {
    const open = openTold(bytes);
    const before = bytes;
    try {
      if (step.kind === "plan") {
        if (step.plan.edits.length > 0) bytes = applyPlan(open, step.plan);
        done.push({ ...step, before });
      } else {
        const cells = step.cells.filter((cell) => stillThere(open, cell));
        if (cells.length > 0) bytes = applyUserEdits(open, cells);
        done.push({ kind: "edits", cells });
      }
    } catch (error) {
      if (error instanceof WorkbookError) throw new HostError(BUILT_ON);
      throw error;
    }
  }
  return { bytes, steps: done };
}

/** A new result belongs to a formula that may have gone with the plan. */
function stillThere(
  { snapshot }: OpenWorkbook,
  { sheet: name, row, column, formula }: UserEdit,
): boolean {
  const sheet = sheetNamed(snapshot, name);
  if (sheet === null) return false;
  return formula !== "kept" || sheet.formulas.has(cellKey(row, column));
}

function openTold(bytes: Uint8Array): OpenWorkbook {
  return told(() => openWorkbook(bytes));
}

/** Troubles of a file are told in the host's own way. */
function told<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof WorkbookError) throw new HostError(error.message);
    throw error;
  }
}
