import { refusals } from "../../src/book/expect.ts";
import type { Plan } from "../../src/book/plan.ts";
import { receiptOf, takeBackBars } from "../../src/book/receipt.ts";
import { civilDay, type Day } from "../../src/core/day.ts";
import { type Host, HostError, type Place, type Told } from "../host.ts";
import { MOST_CELLS } from "./area.ts";
import { putBack } from "./back.ts";
import { told as toldFault } from "./faults.ts";
import { readSnapshot } from "./read.ts";
import { putEdit, type Writer } from "./write.ts";

type Context = Excel.RequestContext;

const SILENT: Told = () => undefined;

/** What is known of the Excel at hand. */
export interface ExcelHere {
  readonly locale: string;
  /** The workbook counts days from 1900 and knows our functions. */
  readonly live: boolean;
  /** ExcelApi 1.20: one plan is one step of Excel's own undo. */
  readonly groupsUndo: boolean;
}

/** The host over Excel's own script. */
export function excelHost({ locale, live, groupsUndo }: ExcelHere): Host {
  const run = async <T>(work: (context: Context) => Promise<T>, grouped = false): Promise<T> => {
    const options = {
      delayForCellEdit: true,
      ...(grouped && groupsUndo ? { mergeUndoGroup: true } : {}),
    };
    try {
      return await Excel.run(options, work);
    } catch (error) {
      throw toldFault(error);
    }
  };
  return {
    locale,
    live,
    today,
    snapshot: (told = SILENT) => run((context) => readSnapshot(context, told)),
    apply: (plan, told = SILENT) => run((context) => applyPlan(context, plan, told), true),
    takeBack: (receipt) =>
      run(async (context) => {
        const bars = takeBackBars(await readSnapshot(context, SILENT), receipt);
        if (bars.length > 0) throw new HostError(bars.join(" "));
        const writer = writerOn(context);
        await putBack(receipt, writer);
        await context.sync();
      }),
    select: (place) => run((context) => selectCell(context, place)),
    selected: () => run(selectedCell),
    changed: (heard) => listen(heard),
  };
}

/** Reads again, looks whether all that the plan expects still holds, then writes it block by block. */
async function applyPlan(context: Context, plan: Plan, told: Told) {
  const before = await readSnapshot(context, SILENT);
  const reasons = refusals(before, plan);
  if (reasons.length > 0) {
    throw new HostError(`Nothing was changed: ${reasons.join("; ")}.`);
  }
  const receipt = receiptOf(before, plan);
  const writer = writerOn(context);
  for (const [at, edit] of plan.edits.entries()) {
    told(at / plan.edits.length, "writing");
    await putEdit(edit, writer);
  }
  await context.sync();
  return receipt;
}

/** Gathers actions and sends them before a request grows too large. */
function writerOn(context: Context): Writer {
  let cells = 0;
  return {
    context,
    async count(more) {
      cells += more;
      if (cells < MOST_CELLS) return;
      cells = 0;
      await context.sync();
    },
  };
}

function today(): Day {
  const now = new Date();
  return civilDay(now.getFullYear(), now.getMonth() + 1, now.getDate());
}

async function selectCell(context: Context, { sheet, row, column }: Place): Promise<void> {
  const found = context.workbook.worksheets.getItem(sheet);
  found.activate();
  found.getRangeByIndexes(row, column, 1, 1).select();
  await context.sync();
}

async function selectedCell(context: Context): Promise<Place | null> {
  const range = context.workbook.getSelectedRange().load("rowIndex,columnIndex,worksheet/name");
  await context.sync();
  return { sheet: range.worksheet.name, row: range.rowIndex, column: range.columnIndex };
}

/** Listens for changes by anybody; the one who listens must neither write nor ask. */
function listen(heard: () => void): () => void {
  let stopped = false;
  const added = Excel.run(async (context) => {
    const handler = context.workbook.worksheets.onChanged.add(() => {
      if (!stopped) heard();
      return Promise.resolve();
    });
    await context.sync();
    return handler;
  });
  return () => {
    stopped = true;
    void added.then((handler) =>
      Excel.run(handler.context, async (context) => {
        handler.remove();
        await context.sync();
      }),
    );
  };
}
