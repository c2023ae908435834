import { civilDay, type Day } from "../../src/core/day.ts";
import { address } from "../../src/book/workbook/snapshot.ts";
import { type Block, type Host, HostError, type Place, type Told } from "../host.ts";
import { areaOf } from "./area.ts";
import { onDemand } from "../on-demand.ts";
import type { Job } from "./apply.ts";
import { isExcelFault, told as toldFault } from "./faults.ts";
import { readSnapshot } from "./read.ts";
import { counted } from "./tally.ts";

type Context = Excel.RequestContext;

const SILENT: Told = () => undefined;

/** What writes: it comes once somebody has something to read. */
const writing = onDemand(() => import("./apply.ts"));

async function writer(): ReturnType<typeof writing.fetched> {
  try {
    return await writing.fetched();
  } catch (error) {
    throw new HostError(
      "What changes the workbook could not be loaded, so nothing was changed. Check the connection, then try again.",
      { cause: error },
    );
  }
}

/** What is known of the Excel at hand. */
export interface ExcelHere {
  readonly locale: string;
  /** The workbook counts days from 1900 and knows our functions. */
  readonly live: boolean;
  /** ExcelApi 1.20: one plan is one step of Excel's own undo. */
  readonly groupsUndo: boolean;
  /** Whether the pane starts with the workbook; absent where Excel does not offer it. */
  readonly startup?: NonNullable<Host["startup"]>;
  /** What may help to find a fault. */
  readonly report?: () => Promise<string>;
  /** Excel on a Mac saves nothing that a page offers. */
  readonly savesFiles?: false;
}

/** The host over Excel's own script. */
export function excelHost({ groupsUndo, ...here }: ExcelHere): Host {
  const run = async <T>(work: (context: Context) => Promise<T>, grouped = false): Promise<T> => {
    const options: Excel.RunOptions = {
      delayForCellEdit: true,
      ...(grouped && groupsUndo ? { mergeUndoGroup: true } : {}),
    };
    try {
      return await Excel.run(options, (context) => work(counted(context)));
    } catch (error) {
      throw toldFault(error);
    }
  };
  return {
    ...here,
    today,
    async snapshot(told = SILENT) {
      const book = await run((context) => readSnapshot(context, told));
      // It is on its way while people look at what was read.
      writing.fetched().catch(() => undefined);
      return book;
    },
    apply: async (plan, told = SILENT) => {
      const { applyPlan, halfDone, undone } = await writer();
      const job: Job = { plan, told, begun: null };
      try {
        return await run((context) => applyPlan(context, job), true);
      } catch (error) {
        if (job.begun === null) throw error;
        throw await run((context) => undone(context, job.begun, error)).catch(() =>
          halfDone(error),
        );
      }
    },
    takeBack: async (receipt) => {
      const { removeAdded, takeBack } = await writer();
      const left = await run((context) => takeBack(context, receipt), true);
      if (receipt.sheets.length > 0) await run((context) => removeAdded(context, receipt));
      return left;
    },
    select: (place) => run((context) => selectCell(context, place)),
    selected: () => run(selectedCell),
    selectedBlock: () => run(selectedBlock),
    changed: (heard) => listen(heard),
  };
}

function today(): Day {
  const now = new Date();
  return civilDay(now.getFullYear(), now.getMonth() + 1, now.getDate());
}

async function selectCell(context: Context, { sheet, row, column }: Place): Promise<void> {
  const found = context.workbook.worksheets.getItem(sheet).load("visibility");
  await context.sync();
  if (found.visibility !== "Visible") {
    throw new HostError(`The sheet ${sheet} is hidden: unhide it to see ${address(row, column)}.`);
  }
  found.activate();
  found.getRangeByIndexes(row, column, 1, 1).select();
  await context.sync();
}

/** Codes for a selection that is no range: a chart, or cells here and there. */
const NO_RANGE: readonly unknown[] = ["InvalidSelection", "InvalidOperation", "ItemNotFound"];

async function selectedCell(context: Context): Promise<Place | null> {
  const block = await selectedBlock(context);
  if (block === null) return null;
  return { sheet: block.sheet, row: block.area.firstRow, column: block.area.firstColumn };
}

/** The selected cells as one rectangle; null for a chart, or cells here and there. */
async function selectedBlock(context: Context): Promise<Block | null> {
  const range = context.workbook
    .getSelectedRange()
    .load("rowIndex,columnIndex,rowCount,columnCount,worksheet/name");
  try {
    await context.sync();
  } catch (error) {
    if (isExcelFault(error) && NO_RANGE.includes(error.code)) return null;
    throw error;
  }
  return { sheet: range.worksheet.name, area: areaOf(range) };
}

/** Listens for changes by anybody; the one who listens must neither write nor ask. */
function listen(heard: () => void): () => void {
  let stopped = false;
  const added = Excel.run({ delayForCellEdit: true }, async (context) => {
    const handler = context.workbook.worksheets.onChanged.add(() => {
      if (!stopped) heard();
      return Promise.resolve();
    });
    await context.sync();
    return handler;
  });
  // Without the event the pane is only less quick to notice; every plan looks again before it writes.
  added.catch(() => undefined);
  return () => {
    stopped = true;
    const removed = added.then((handler) =>
      Excel.run(handler.context, async (context) => {
        handler.remove();
        await context.sync();
      }),
    );
    removed.catch(() => undefined);
  };
}
