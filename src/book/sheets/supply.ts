import { DEFAULT_SUPPLY } from "../records/parts.ts";
import type { Supply } from "../records/records.ts";
import { DAY_UNITS, MONTH_UNITS, moneyMeant, PIECE_UNITS } from "../workbook/number-text.ts";
import { type InputColumn, type InputColumns, meant, number, numberIfAny, text } from "./column.ts";
import { least, most } from "./heard.ts";

const COUNT = { kind: "number", from: "1", to: "100000", whole: true } as const;
const DAYS = { kind: "number", from: "0", to: "3660", whole: true } as const;
const SPREAD = { kind: "number", from: "0", to: "3660", whole: false } as const;
const MONTHS = { kind: "number", from: "1", to: "1200", whole: false } as const;
const MONEY = { kind: "number", from: "0", to: "1000000000", whole: false } as const;
/** Item numbers are text: a number would lose its leading zeros. */
const TEXT = "@";

/** A price that cannot be read is no price: what it belongs to is said to be incomplete. */
const NO_PRICE = {
  blank: null,
  meant: moneyMeant,
  careful: () => null,
  carefully: "no price is taken, so sums of money are not complete",
} as const;

/** The columns of the Parts sheet that say how a part is bought. */
export const SUPPLY_COLUMNS: InputColumns<Supply> = {
  unit: unit({
    heading: "Unit",
    width: 8,
  }),
  perReplacement: number({
    heading: "Units a replacement",
    width: 12,
    choices: COUNT,
    blank: DEFAULT_SUPPLY.perReplacement,
    units: PIECE_UNITS,
    careful: most(DEFAULT_SUPPLY.perReplacement),
  }),
  pack: number({
    heading: "Pack size",
    width: 10,
    choices: COUNT,
    blank: DEFAULT_SUPPLY.pack,
    units: PIECE_UNITS,
    // Small packs cost the most a unit, and no order is larger than its need.
    careful: () => DEFAULT_SUPPLY.pack,
  }),
  packPrice: numberIfAny({
    heading: "Pack price",
    width: 12,
    format: "#,##0.00",
    choices: MONEY,
    ...NO_PRICE,
  }),
  earlyCost: numberIfAny({
    heading: "Early replacement cost",
    width: 12,
    format: "#,##0.00",
    choices: MONEY,
    ...NO_PRICE,
    carefully: "no cost is taken, so no interval is advised",
  }),
  leadDays: number({
    heading: "Lead time (days)",
    width: 12,
    choices: DAYS,
    blank: DEFAULT_SUPPLY.leadDays,
    units: DAY_UNITS,
    careful: most(DEFAULT_SUPPLY.leadDays),
  }),
  leadSpread: number({
    heading: "Lead time spread (days)",
    width: 12,
    choices: SPREAD,
    blank: DEFAULT_SUPPLY.leadSpread,
    units: DAY_UNITS,
    careful: most(DEFAULT_SUPPLY.leadSpread),
  }),
  shelfMonths: numberIfAny({
    heading: "Shelf life (months)",
    width: 12,
    choices: MONTHS,
    blank: null,
    units: MONTH_UNITS,
    careful: least(1),
  }),
  ourItem: text({
    heading: "Our item number",
    width: 16,
    format: TEXT,
  }),
  supplierItem: text({
    heading: "Supplier's item number",
    width: 16,
    format: TEXT,
  }),
  makerItem: text({
    heading: "Maker's item number",
    width: 16,
    format: TEXT,
  }),
  gtin: text({
    heading: "GTIN",
    width: 16,
    format: TEXT,
  }),
  costCentre: text({
    heading: "Cost centre",
    width: 14,
    format: TEXT,
  }),
  supplier: text({ heading: "Supplier", width: 20 }),
  quote: text({
    heading: "Quote",
    width: 16,
    format: TEXT,
  }),
};

/** A unit code in capitals; a blank is one piece. */
function unit(looks: Parameters<typeof text>[0]): InputColumn<string> {
  const { hear, ...column } = text(looks);
  return {
    ...column,
    hear: (value, system) => {
      const heard = hear(value, system);
      return heard.as === "doubtful"
        ? heard
        : meant(heard.value.toUpperCase() || DEFAULT_SUPPLY.unit);
    },
    careful: () => DEFAULT_SUPPLY.unit,
    carefully: `it is taken as ${DEFAULT_SUPPLY.unit}`,
  };
}
