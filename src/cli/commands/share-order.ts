import { z } from "zod";
import { basename } from "node:path";
import { isoText } from "../../core/day.ts";
import type { Orders } from "../../book/orders/orders.ts";
import { unitOf } from "../../book/records/money-text.ts";
import { CAUTIONS } from "../../book/records/cautions.ts";
import { counted } from "../../book/records/problems.ts";
import { NO_CURRENCY } from "../../book/records/settings.ts";
import { orderCsv, SEPARATORS, type Separator } from "../../book/share/csv.ts";
import { type Purchase, purchaseOf } from "../../book/share/purchase.ts";
import { purchasingPlan } from "../../book/share/purchasing.ts";
import { orderXml } from "../../book/share/ubl.ts";
import { NO_WHAT_IF } from "../../book/year/what-if.ts";
import { newWorkbook } from "../../xlsx/index.ts";
import { type Asked, BOOK, command } from "../command.ts";
import { NODE_CODEC } from "../files.ts";
import { type ExitCode, UsageError } from "../io.ts";
import { doubtFirst, tellFaults, writeBytes } from "../job.ts";
import { openBook } from "../open.ts";
import { choice, type Given, one, text } from "../option.ts";
import { ordersFor, POOL } from "../orders.ts";
import { progressOn } from "../progress.ts";
import { AMOUNT, DATE, DOUBTS, list } from "../result.ts";
import { endingOf, shareTarget } from "../share.ts";

const ENDINGS = [".xlsx", ".csv", ".xml"];

const RESULT = z.strictObject({
  number: z.string(),
  buyer: z.string(),
  seller: z.string(),
  book: z.string(),
  reportDate: DATE,
  currency: z.string(),
  lines: list(
    z.strictObject({
      id: z.int(),
      item: z.string(),
      quantity: z.number(),
      unit: z.string(),
      packs: z.number(),
      price: AMOUNT,
      priceFor: z.number(),
      amount: AMOUNT,
      needBy: DATE,
      site: z.string(),
      shipTo: z.string(),
      costCentre: z.string(),
      ourItem: z.string(),
      supplierItem: z.string(),
      makerItem: z.string(),
      gtin: z.string(),
      supplier: z.string(),
      quote: z.string(),
      note: z.string(),
    }),
  ),
  parts: z.number(),
  freight: z.number(),
  unpriced: list(z.string()),
  doubts: DOUBTS,
  written: z.string().optional(),
});

const OPTIONS = {
  buyer: text("NAME", "who orders; an .xml needs it"),
  seller: text("NAME", "the lines of this supplier only"),
  number: one("TEXT", "number of the order; otherwise made from the date", numberOf),
  separator: choice(
    Object.keys(SEPARATORS) as Separator[],
    "for a .csv; semicolon implies a decimal comma",
  ),
  bom: choice(["yes", "no"], "whether a .csv begins with a byte order mark (default yes)"),
  pool: POOL,
};

/** The lines to go out now, as a file for purchasing. */
export const shareOrder = command({
  name: "share order",
  moment: "The year",
  brief: "the order for purchasing, as a separate file",
  about: `The lines to go out now, for purchasing. .xlsx holds only values (the usual choice: programs that open
a CSV drop the leading zeros of part numbers). .csv is UTF-8 with CRLF. .xml is an OASIS UBL 2.1 order
to one supplier: give --buyer, and --seller if there are several suppliers.`,
  words: BOOK,
  writes: "-o OUT.xlsx|OUT.csv|OUT.xml",
  common: ["json"],
  examples: [
    'share order equipment.xlsx -o order.xlsx --buyer "Velloran programme"',
    "share order equipment.xlsx -o order.csv --separator semicolon",
    'share order equipment.xlsx -o order.xml --buyer "Velloran programme" --seller "Supplier A" --number 2026-17',
  ],
  options: OPTIONS,
  result: RESULT,
  run: writeOrder,
});

function writeOrder(asked: Asked<string, typeof OPTIONS, z.infer<typeof RESULT>>): ExitCode {
  const { words: path, given, request, io, say } = asked;
  const target = shareTarget(request, path, { named: ENDINGS, taken: ENDINGS });
  for (const option of ["separator", "bom"] as const) {
    if (target === null || endingOf(target) === ".csv" || given[option] === null) continue;
    throw new UsageError(`--${option} is for .csv only`);
  }
  const progress = progressOn(io);
  const book = openBook(path, request, io, progress);
  progress.step("working out the order");
  const orders = ordersFor(book, { pooled: given.pool, whatIf: NO_WHAT_IF });
  const purchase = purchaseOf(orders, {
    book: basename(path),
    buyer: given.buyer ?? "",
    seller: given.seller,
    number: given.number,
  });
  const bytes =
    purchase.lines.length === 0 ? null : orderBytes(purchase, orders, { target, given });
  const { lines } = purchase;
  const summary = `order ${numberText(purchase)}: ${counted(lines.length, "line")}, ${(purchase.parts + purchase.freight).toFixed(2)}${unitOf(purchase.currency)}`;
  const written =
    target === null || bytes === null || request.dryRun
      ? []
      : writeBytes(bytes, {
          read: book.bytes,
          ending: endingOf(target),
          summary,
          target,
          request,
          io,
        });
  doubtFirst(book, say)(
    () => [...orderLines(purchase, orders), ...written],
    () => ({
      ...orderJson(purchase),
      ...(written.length > 0 && target !== null ? { written: target } : {}),
    }),
  );
  return tellFaults(book, io);
}

function numberOf(said: string): string {
  const found = said.trim();
  if (found === "") throw new UsageError("--number must not be empty");
  return found;
}

function orderBytes(
  purchase: Purchase,
  orders: Orders,
  { target, given }: { readonly target: string | null; readonly given: Given<typeof OPTIONS> },
): Uint8Array {
  switch (target === null ? ".xlsx" : endingOf(target)) {
    case ".csv": {
      const { separator, bom } = given;
      const csv = { separator: separator ?? "comma", mark: bom !== "no" };
      return Buffer.from(orderCsv(purchase, csv), "utf8");
    }
    case ".xml":
      return Buffer.from(orderXml(purchase), "utf8");
    default:
      return newWorkbook(purchasingPlan(purchase, orders), { codec: NODE_CODEC });
  }
}

/** The order by its number, and its day where the number is not the day itself. */
function numberText({ number, reportDate }: Purchase): string {
  const date = isoText(reportDate);
  return number === date ? date : `${number} of ${date}`;
}

function orderLines(purchase: Purchase, orders: Orders): string[] {
  const { lines, parts, freight, currency, unpriced, number } = purchase;
  if (lines.length === 0) {
    return ["Nothing needs to be ordered now; no order was written."];
  }
  const nobody = lines.filter(({ supplier }) => supplier === "").length;
  const others = orders.now.length - lines.length;
  return [
    `Order ${number}: ${counted(lines.length, "line")}, complete sets only.`,
    `Parts ${parts.toFixed(2)}, freight ${freight.toFixed(2)}, together ${(parts + freight).toFixed(2)}${unitOf(currency)}.`,
    ...(unpriced.length === 0 ? [] : [`No price on Parts: ${unpriced.join(", ")}.`]),
    ...(nobody === 0 ? [] : [`No supplier on Parts: ${nobody} lines.`]),
    ...(currency === NO_CURRENCY ? ["No currency is set in Setup."] : []),
    ...(others === 0 ? [] : [`Not included, for other suppliers: ${others} lines.`]),
    CAUTIONS.planningAid,
    "",
  ];
}

function orderJson({ lines, reportDate, ...purchase }: Purchase): z.infer<typeof RESULT> {
  return {
    ...purchase,
    reportDate: isoText(reportDate),
    lines: lines.map(({ needBy, ...line }) => ({ ...line, needBy: isoText(needBy) })),
  };
}
