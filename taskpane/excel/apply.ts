import { isFiltered, protectedIn, refusalSteps } from "../../src/book/workbook/expect.ts";
import type { Plan } from "../../src/book/workbook/plan.ts";
import { type Receipt, receiptSteps, standing } from "../../src/book/workbook/receipt.ts";
import type { Snapshot } from "../../src/book/workbook/snapshot.ts";
import { stillThere, takeBackSteps } from "../../src/book/workbook/take-back.ts";
import { HostError, type Told } from "../host.ts";
import { newPace, paced } from "../pace.ts";
import { giveBack, putBack, removeSheets } from "./back.ts";
import { MOST_CHARACTERS } from "./cells.ts";
import { isExcelFault } from "./faults.ts";
import { readSnapshot } from "./read.ts";
import { leftToThem, placeText, type Theirs, witnessOf } from "./witness.ts";
import { loadModels, putEdit, type Writer } from "./write.ts";

type Context = Excel.RequestContext;

/** A plan on its way; the receipt is there from the moment something may have been written. */
export interface Job {
  readonly plan: Plan;
  readonly told: Told;
  begun: Receipt | null;
}

/** What share of applying a plan is reading the workbook once more. */
const READING = 0.4;

const SILENT: Told = () => undefined;

/** Reads again, looks whether all that the plan expects still holds, then writes it block by block. */
export async function applyPlan(context: Context, job: Job): Promise<Receipt> {
  const { plan, told } = job;
  const before = await readSnapshot(context, (share, doing) => {
    told(share * READING, doing);
  });
  const reasons = [...(await paced(refusalSteps(before, plan))), ...protectedIn(before, plan)];
  if (reasons.length > 0) {
    throw new HostError(`Nothing was changed: ${reasons.join("; ")}.`);
  }
  const receipt = await paced(receiptSteps(before, plan));
  const models = loadModels(context, plan);
  if (models.size > 0) await context.sync();
  const names = before.names.filter(({ sheet }) => sheet === null);
  const witness = witnessOf(context, plan.edits, receipt);
  const writer = writerOn(context, {
    models,
    witness,
    names: new Map(names.map(({ name, refersTo }) => [name.toLowerCase(), refersTo])),
    filtered: new Set(before.sheets.filter(isFiltered).map(({ name }) => name.toLowerCase())),
  });
  job.begun = receipt;
  witness.rows();
  for (const [at, edit] of plan.edits.entries()) {
    told(READING + ((1 - READING) * at) / plan.edits.length, "writing");
    if (edit.kind !== "printSetup") await putEdit(edit, writer);
  }
  witness.rows();
  await context.sync();
  const { reasons: changed, theirs } = witness.told();
  const [reason] = changed;
  if (reason !== undefined) {
    job.begun = leftToThem(receipt, theirs);
    throw new HostError(`${reason} changed by somebody else at the same moment; try again.`);
  }
  if (before.calculation === "manual") await calculateWritten(context, plan);
  await setUpPrint(plan, writer);
  return receipt;
}

/** Where Excel calculates only when asked, a copied formula shows what the cell it was copied from shows. */
async function calculateWritten(context: Context, { edits }: Plan): Promise<void> {
  const names = new Set(edits.flatMap((edit) => ("sheet" in edit ? [edit.sheet] : [])));
  for (const name of names) context.workbook.worksheets.getItem(name).calculate(false);
  await context.sync();
}

/** Page set-up comes last and alone: without a printer Excel may refuse it, and nothing is lost by that. */
async function setUpPrint({ edits }: Plan, writer: Writer): Promise<void> {
  const setups = edits.filter(({ kind }) => kind === "printSetup");
  if (setups.length === 0) return;
  for (const edit of setups) await putEdit(edit, writer);
  try {
    await writer.context.sync();
  } catch (error) {
    if (!isExcelFault(error)) throw error;
  }
}

/**
 * Takes an applied plan back but for the sheets it added, unless something it wrote was changed since. Gives the
 * cells that were left to others, who changed them in that very moment.
 */
export async function takeBack(context: Context, receipt: Receipt): Promise<readonly string[]> {
  const now = await readSnapshot(context, SILENT);
  await refuseChanged(now, receipt);
  return (await undo(context, now, receipt)).map(placeText);
}

/** Removes the sheets an applied plan added, unless somebody typed into them since they were looked at. */
export async function removeAdded(context: Context, receipt: Receipt): Promise<void> {
  const now = await readSnapshot(context, SILENT);
  await refuseChanged(now, { ...receipt, cells: [], tables: [] });
  removeSheets(context, stillThere(now, receipt));
  await context.sync();
}

async function refuseChanged(now: Snapshot, receipt: Receipt): Promise<void> {
  const bars = await paced(takeBackSteps(now, receipt));
  const [kept] = stillThere(now, receipt).sheets;
  if (kept !== undefined && now.fixedSheets === true) {
    bars.push(
      `The workbook's structure is protected, so the sheet ${kept} cannot be removed; unprotect it first.`,
    );
  }
  if (bars.length > 0) throw new HostError(bars.join(" "));
}

/** Takes back what there is of a plan that failed on its way; gives the error that is to be told. */
export async function undone(
  context: Context,
  receipt: Receipt | null,
  error: unknown,
): Promise<HostError> {
  if (receipt === null) return halfDone(error);
  const now = await readSnapshot(context, SILENT);
  await undo(context, now, receipt);
  removeSheets(context, stillThere(now, receipt));
  await context.sync();
  return new HostError(`${textOf(error)} What had been written has been undone.`, { cause: error });
}

/** The error of a plan that failed on its way and could not be taken back. */
export function halfDone(error: unknown): HostError {
  const advice = "Part of it may have been written: check, or use Excel's own undo.";
  return new HostError(`${textOf(error)} ${advice}`, { cause: error });
}

function textOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

/** Puts back what is still there; what others typed meanwhile is given back to them, and told. */
async function undo(context: Context, now: Snapshot, receipt: Receipt): Promise<readonly Theirs[]> {
  const witness = witnessOf(context, [], standing(now, receipt));
  const known = { models: new Map(), names: new Map(), filtered: new Set<string>(), witness };
  await putBack(stillThere(now, receipt), writerOn(context, known));
  await context.sync();
  const { theirs } = witness.told();
  giveBack(context, theirs);
  if (theirs.length > 0) await context.sync();
  return theirs;
}

type Known = Pick<Writer, "models" | "names" | "filtered" | "witness">;

/** Gathers actions, sends them before a request grows too large, and lets the page breathe. */
function writerOn(context: Context, known: Known): Writer {
  const pace = newPace();
  const { application } = context.workbook;
  let gathered = 0;
  return {
    context,
    ...known,
    async count(characters) {
      // Formulas are calculated once a request, not once a block.
      if (gathered === 0) application.suspendApiCalculationUntilNextSync();
      gathered += characters;
      if (gathered >= MOST_CHARACTERS) {
        gathered = 0;
        await context.sync();
      }
      if (pace.isDue()) await pace.rest();
    },
  };
}
