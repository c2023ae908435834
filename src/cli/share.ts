import { basename, extname, resolve } from "node:path";
import { isoText } from "../core/day.ts";
import { CAUTIONS } from "../book/records/cautions.ts";
import { describePlan } from "../book/workbook/describe.ts";
import type { Orders } from "../book/orders/orders.ts";
import { counted } from "../book/records/problems.ts";
import { type Copy, copyPlan } from "../book/share/copy.ts";
import { orderCsv, SEPARATORS, type Separator } from "../book/share/csv.ts";
import { type Purchase, purchaseOf } from "../book/share/purchase.ts";
import { orderXml } from "../book/share/ubl.ts";
import { purchasingPlan } from "../book/share/purchasing.ts";
import { applyPlan, newWorkbook, openWorkbook, partsHolding, withoutPanes } from "../xlsx/index.ts";
import { oneOf, type Wish } from "./arguments.ts";
import { NODE_CODEC } from "./files.ts";
import { type ExitCode, type Io, UsageError } from "./io.ts";
import { type Command, say, tellFaults, writeBytes } from "./job.ts";
import { type OpenBook, openBook } from "./open.ts";
import type { OptionName } from "./options.ts";
import { ordersFor } from "./order.ts";
import { type Progress, progressOn } from "./progress.ts";

/** Identifier of the add-in, as manifest.xml says it; files note it where a pane of it was open. */
export const ADD_IN = "ee229c22-7f3f-4844-8a52-15fb6711eda2";

/** How a call of our functions, or the add-in itself, shows in the parts of a file. */
const TRACES = new RegExp(`_xldudf_spare_|${ADD_IN}`, "i");

/** What leaves the programme: an order for purchasing, or a copy that needs no add-in. */
export const share: Command = (wish, io) => {
  const [, what, path, more] = wish.words;
  if (what !== "order" && what !== "copy") {
    throw new UsageError("say what to share: sparespan share order BOOK, or share copy BOOK");
  }
  if (path === undefined) throw new UsageError("say which workbook, or see --help");
  if (more !== undefined) throw new UsageError(`one workbook at a time, got "${more}" too`);
  if (wish.inPlace) throw new UsageError("share never changes the workbook itself; say -o");
  const sharing: Sharing = { wish, io, target: targetOf(wish, path, what), path };
  return what === "order" ? shareOrder(sharing) : shareCopy(sharing);
};

interface Sharing {
  readonly wish: Wish;
  readonly io: Io;
  /** Null when nothing is to be written. */
  readonly target: string | null;
  readonly path: string;
}

const ENDINGS = { order: [".xlsx", ".csv", ".xml"], copy: [".xlsx", ".xlsm"] } as const;
const OF_ORDER: readonly OptionName[] = ["separator", "bom", "pool", "buyer", "seller", "number"];

/** Where to write; an option that would be ignored is refused. */
function targetOf(wish: Wish, path: string, what: keyof typeof ENDINGS): string | null {
  const { output, dryRun } = wish;
  if (output === null && !dryRun) {
    throw new UsageError(`say where to write: -o OUT${ENDINGS[what].join(" or -o OUT")}`);
  }
  if (output !== null && resolve(output) === resolve(path)) {
    throw new UsageError("-o names the workbook itself; choose another name");
  }
  const said = (option: OptionName): boolean => wish.text(option) !== null || wish.flag(option);
  const foreign = what === "order" ? (["values"] as const) : OF_ORDER;
  const idle = foreign.find(said);
  if (idle !== undefined) throw new UsageError(`share ${what} takes no --${idle}`);
  if (output === null) return null;
  const ending = extname(output).toLowerCase();
  const endings: readonly string[] = what === "order" ? ENDINGS.order : [endingOf(path)];
  if (!endings.includes(ending)) {
    throw new UsageError(`${output} must end in ${endings.join(", ")}`);
  }
  for (const option of ["separator", "bom"] as const) {
    if (ending !== ".csv" && said(option)) throw new UsageError(`--${option} is for .csv only`);
  }
  return output;
}

function endingOf(path: string): string {
  return extname(path).toLowerCase();
}

function shareOrder({ wish, io, target, path }: Sharing): ExitCode {
  const progress = progressOn(io);
  const book = openBook(path, wish, io, progress);
  progress.step("working out the order");
  const orders = ordersFor(book, wish);
  const purchase = purchaseOf(orders, {
    book: basename(path),
    buyer: wish.text("buyer") ?? "",
    seller: wish.text("seller"),
    number: numberOf(wish),
  });
  const bytes = purchase.lines.length === 0 ? null : orderBytes(purchase, orders, { target, wish });
  const { lines } = purchase;
  const summary = `order ${purchase.number} of ${isoText(purchase.reportDate)}: ${counted(lines.length, "line")}, ${(purchase.parts + purchase.freight).toFixed(2)} ${purchase.currency}`;
  const written =
    target === null || bytes === null || wish.dryRun
      ? []
      : writeBytes(bytes, { read: book.bytes, summary, target, wish, io });
  say(
    io,
    wish,
    () => [...orderLines(purchase, orders), ...written],
    () => ({ ...orderJson(purchase), ...(written.length > 0 ? { written: target } : {}) }),
  );
  return tellFaults(book, io);
}

/** The number that was said; null for the one that is made of the date. */
function numberOf(wish: Wish): string | null {
  const said = wish.text("number")?.trim() ?? null;
  if (said === "") throw new UsageError("--number must not be empty");
  return said;
}

function orderBytes(
  purchase: Purchase,
  orders: Orders,
  { target, wish }: Pick<Sharing, "target" | "wish">,
): Uint8Array {
  switch (target === null ? ".xlsx" : endingOf(target)) {
    case ".csv": {
      const separator = oneOf(
        "separator",
        wish.text("separator") ?? "comma",
        Object.keys(SEPARATORS) as Separator[],
      );
      const mark = oneOf("bom", wish.text("bom") ?? "yes", ["yes", "no"] as const) === "yes";
      return Buffer.from(orderCsv(purchase, { separator, mark }), "utf8");
    }
    case ".xml":
      return Buffer.from(orderXml(purchase), "utf8");
    default:
      return newWorkbook(purchasingPlan(purchase, orders), { codec: NODE_CODEC });
  }
}

function orderLines(purchase: Purchase, orders: Orders): string[] {
  const { lines, parts, freight, currency, unpriced, number } = purchase;
  if (lines.length === 0) {
    return ["Nothing has to be ordered now; no order was written."];
  }
  const nobody = lines.filter(({ supplier }) => supplier === "").length;
  const others = orders.now.length - lines.length;
  return [
    `Order ${number}: ${counted(lines.length, "line")}, complete sets only.`,
    `Parts ${parts.toFixed(2)}, freight ${freight.toFixed(2)}, together ${(parts + freight).toFixed(2)} ${currency}.`,
    ...(unpriced.length === 0 ? [] : [`No price on Parts: ${unpriced.join(", ")}.`]),
    ...(nobody === 0 ? [] : [`No supplier on Parts: ${nobody} lines.`]),
    ...(currency === "XXX" ? ["No currency is set; XXX stands for none. Set it in Setup."] : []),
    ...(others === 0 ? [] : [`For other suppliers, not in it: ${others} lines.`]),
    CAUTIONS.planningAid,
    "",
  ];
}

function orderJson({ lines, reportDate, ...purchase }: Purchase): object {
  return {
    ...purchase,
    reportDate: isoText(reportDate),
    lines: lines.map(({ needBy, ...line }) => ({ ...line, needBy: isoText(needBy) })),
  };
}

function shareCopy({ wish, io, target, path }: Sharing): ExitCode {
  const progress = progressOn(io);
  const book = openBook(path, wish, io, progress);
  progress.step("making the copy");
  const copy = copyPlan(book.workbook.snapshot, book.reading, {
    values: wish.flag("values"),
    book: basename(path),
    today: io.today(),
  });
  const bytes = copyBytes(book, copy, progress);
  const { summary } = copy.plan;
  const written =
    target === null || wish.dryRun
      ? describePlan(copy.plan)
      : writeBytes(bytes, { read: book.bytes, summary, target, wish, io });
  say(
    io,
    wish,
    () => [...copyLines(copy), ...written],
    () => ({
      columns: copy.columns,
      fixed: copy.fixed,
      unanswered: copy.unanswered,
      ...(target === null || wish.dryRun ? { edits: written } : { written: target }),
    }),
  );
  return tellFaults(book, io);
}

/** The copy's bytes, refused when anything in them would still lead to the add-in. */
function copyBytes(book: OpenBook, { plan }: Copy, progress: Progress): Uint8Array {
  const options = { codec: NODE_CODEC };
  const changed = applyPlan(book.workbook, plan);
  progress.step("looking for what is left of the add-in");
  const open = openWorkbook(changed, options);
  const cleared = withoutPanes(open, ADD_IN);
  const left = partsHolding(cleared === null ? open : openWorkbook(cleared, options), TRACES);
  if (left.length === 0) return cleared ?? changed;
  throw new UsageError(
    `no copy was made: the add-in would still be called from ${left.join(", ")} in the file; take these calls out in your spreadsheet program first`,
  );
}

function copyLines({ columns, fixed, unanswered }: Copy): string[] {
  return [
    columns === null
      ? "The register has no columns of ours."
      : `Computed columns: ${columns === "portable" ? "native formulas" : "values"}.`,
    fixed.length === 0
      ? "No other cell called the add-in."
      : `Calls of the add-in now values: ${fixed.join(", ")}.`,
    ...(unanswered.length === 0
      ? []
      : [`The add-in had not answered there, they show an error: ${unanswered.join(", ")}.`]),
    "",
  ];
}
