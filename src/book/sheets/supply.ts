import { DEFAULT_SUPPLY } from "../records/parts.ts";
import type { Supply } from "../records/records.ts";
import { amount, amountOr, countOr, type InputColumns, text } from "./column.ts";
import { textOf } from "./layout.ts";

const COUNT = { kind: "number", from: "1", to: "100000", whole: true } as const;
const DAYS = { kind: "number", from: "0", to: "3660", whole: true } as const;
const MONEY = { kind: "number", from: "0", to: "1000000000", whole: false } as const;
/** Item numbers are text: a number would lose its leading zeros. */
const TEXT = "@";

/** The columns of the Parts sheet that say how a part is bought. */
export const SUPPLY_COLUMNS: InputColumns<Supply> = {
  unit: {
    ...text({
      heading: "Unit",
      width: 8,
      about: "Unit code from UN/ECE Recommendation 20: SET for a complete set, EA for one piece.",
    }),
    read: (value) => textOf(value).toUpperCase() || DEFAULT_SUPPLY.unit,
  },
  perReplacement: countOr(DEFAULT_SUPPLY.perReplacement, {
    heading: "Units a replacement",
    width: 12,
    choices: COUNT,
    about: "Units needed for one replacement; blank means 1.",
  }),
  pack: countOr(DEFAULT_SUPPLY.pack, {
    heading: "Pack size",
    width: 10,
    choices: COUNT,
    about: "Units in a pack; blank means 1.",
  }),
  packPrice: amount({
    heading: "Pack price",
    width: 12,
    format: "#,##0.00",
    choices: MONEY,
    about: "Price of a pack.",
  }),
  earlyCost: amount({
    heading: "Early replacement cost",
    width: 12,
    format: "#,##0.00",
    choices: MONEY,
    about: "Total cost of a replacement before its due date, including the part; for advice only.",
  }),
  leadDays: countOr(
    DEFAULT_SUPPLY.leadDays,
    {
      heading: "Lead time (days)",
      width: 12,
      choices: DAYS,
      about: "Days from order to delivery, on average; blank means 30.",
    },
    0,
  ),
  leadSpread: amountOr(DEFAULT_SUPPLY.leadSpread, {
    heading: "Lead time spread (days)",
    width: 12,
    choices: DAYS,
    about: "Standard deviation of the lead time; blank means 0.",
  }),
  shelfMonths: amount({
    heading: "Shelf life (months)",
    width: 12,
    choices: COUNT,
    about: "Months a spare may be kept on the shelf; blank for no limit.",
  }),
  ourItem: text({
    heading: "Our item number",
    width: 16,
    format: TEXT,
    about: "Number in our own catalogue.",
  }),
  supplierItem: text({
    heading: "Supplier's item number",
    width: 16,
    format: TEXT,
    about: "Number in the supplier's catalogue.",
  }),
  makerItem: text({
    heading: "Maker's item number",
    width: 16,
    format: TEXT,
    about: "Number given by the maker.",
  }),
  gtin: text({
    heading: "GTIN",
    width: 16,
    format: TEXT,
    about: "Trade item number on the label.",
  }),
  costCentre: text({
    heading: "Cost centre",
    width: 14,
    format: TEXT,
    about: "Who pays, unless Sites says otherwise.",
  }),
  supplier: text({ heading: "Supplier", width: 20, about: "Who delivers it." }),
  quote: text({
    heading: "Quote",
    width: 16,
    format: TEXT,
    about: "Number of the quote that gave the price.",
  }),
};
