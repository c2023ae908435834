import { DEFAULT_SUPPLY } from "../records/parts.ts";
import type { Supply } from "../records/records.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import { amountOf, type Layout, textOf } from "./layout.ts";

const COUNT = { kind: "number", from: "1", to: "100000", whole: true } as const;
const DAYS = { kind: "number", from: "0", to: "3660", whole: true } as const;
const MONEY = { kind: "number", from: "0", to: "1000000000", whole: false } as const;
/** Item numbers are text: a number would lose its leading zeros. */
const TEXT = "@";

/** The columns of the Parts sheet that say how a part is bought. */
export const SUPPLY_COLUMNS: Layout["columns"] = [
  {
    heading: "Unit",
    width: 8,
    about: "Unit code of UN/ECE Recommendation 20: SET for a complete set, EA for one piece.",
  },
  {
    heading: "Units a replacement",
    width: 12,
    choices: COUNT,
    about: "Units one replacement takes; blank is 1.",
  },
  { heading: "Pack size", width: 10, choices: COUNT, about: "Units in a pack; blank is 1." },
  {
    heading: "Pack price",
    width: 12,
    format: "#,##0.00",
    choices: MONEY,
    about: "Price of a pack.",
  },
  {
    heading: "Early replacement cost",
    width: 12,
    format: "#,##0.00",
    choices: MONEY,
    about: "Cost in all of a replacement before its due date, the part included; for advice only.",
  },
  {
    heading: "Lead time (days)",
    width: 12,
    choices: DAYS,
    about: "Days from order to delivery, on average; blank is 30.",
  },
  {
    heading: "Lead time spread (days)",
    width: 12,
    choices: DAYS,
    about: "Standard deviation of the lead time; blank is 0.",
  },
  {
    heading: "Shelf life (months)",
    width: 12,
    choices: COUNT,
    about: "Months a spare may lie on the shelf; blank for no limit.",
  },
  { heading: "Our item number", width: 16, format: TEXT, about: "Number in our own catalogue." },
  {
    heading: "Supplier's item number",
    width: 16,
    format: TEXT,
    about: "Number in the supplier's catalogue.",
  },
  { heading: "Maker's item number", width: 16, format: TEXT, about: "Number given by the maker." },
  { heading: "GTIN", width: 16, format: TEXT, about: "Trade item number on the label." },
  { heading: "Cost centre", width: 14, format: TEXT, about: "Who pays, unless the site says." },
  { heading: "Supplier", width: 20, about: "Who is asked to deliver." },
  { heading: "Quote", width: 16, format: TEXT, about: "Number of the quote the price is from." },
];

/** Cells of a part's supply, in the order of the columns. */
export function supplyCells(supply: Supply): CellValue[] {
  return [
    supply.unit,
    supply.perReplacement,
    supply.pack,
    supply.packPrice,
    supply.earlyCost,
    supply.leadDays,
    supply.leadSpread,
    supply.shelfMonths,
    supply.ourItem || null,
    supply.supplierItem || null,
    supply.makerItem || null,
    supply.gtin || null,
    supply.costCentre || null,
    supply.supplier || null,
    supply.quote || null,
  ];
}

/** How a part is bought as its row says; what is blank or no number keeps its default. */
export function readSupply(values: ReadonlyMap<string, CellValue>): Supply {
  const text = (heading: string): string => textOf(values.get(heading));
  const amount = (heading: string): number | null => amountOf(values.get(heading));
  const count = (heading: string, usual: number): number =>
    Math.max(1, Math.ceil(amount(heading) ?? usual));
  return {
    unit: text("Unit").toUpperCase() || DEFAULT_SUPPLY.unit,
    perReplacement: count("Units a replacement", DEFAULT_SUPPLY.perReplacement),
    pack: count("Pack size", DEFAULT_SUPPLY.pack),
    packPrice: amount("Pack price"),
    earlyCost: amount("Early replacement cost"),
    leadDays: Math.ceil(amount("Lead time (days)") ?? DEFAULT_SUPPLY.leadDays),
    leadSpread: amount("Lead time spread (days)") ?? DEFAULT_SUPPLY.leadSpread,
    shelfMonths: amount("Shelf life (months)"),
    ourItem: text("Our item number"),
    supplierItem: text("Supplier's item number"),
    makerItem: text("Maker's item number"),
    gtin: text("GTIN"),
    costCentre: text("Cost centre"),
    supplier: text("Supplier"),
    quote: text("Quote"),
  };
}
