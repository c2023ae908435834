import { keyOf } from "../workbook/cells.ts";
import type { Part, Supply } from "./records.ts";

/** How a part is bought until the programme says so: one at a time, a month away, no price. */
export const DEFAULT_SUPPLY: Supply = {
  unit: "EA",
  perReplacement: 1,
  pack: 1,
  packPrice: null,
  earlyCost: null,
  leadDays: 30,
  leadSpread: 0,
  shelfMonths: null,
  ourItem: "",
  supplierItem: "",
  makerItem: "",
  gtin: "",
  costCentre: "",
  supplier: "",
  quote: "",
};

/**
 * The kinds of part a new programme starts with. The month ranges and the two inspections a week are
 * common practice in the trade, no published source; every value is an editable cell of the Parts
 * sheet. No use budget is set: until the programme states one, the short end applies.
 */
export const DEFAULT_PARTS: readonly Part[] = [
  {
    code: "SET",
    name: "Electrode set",
    shortest: 3,
    longest: 6,
    useBudget: null,
    lightUse: null,
    heavyUse: null,
    perWeek: 2,
    vinyl: false,
    task: false,
    supply: { ...DEFAULT_SUPPLY, unit: "SET" },
    doubts: [],
  },
  {
    code: "CUSHION",
    name: "Ear cushion",
    shortest: 6,
    longest: 9,
    useBudget: null,
    lightUse: null,
    heavyUse: null,
    perWeek: 2,
    vinyl: true,
    task: false,
    supply: DEFAULT_SUPPLY,
    doubts: [],
  },
  {
    code: "CALIBRATION",
    name: "Calibration",
    shortest: 12,
    longest: 12,
    useBudget: null,
    lightUse: null,
    heavyUse: null,
    perWeek: 0,
    vinyl: false,
    task: true,
    supply: DEFAULT_SUPPLY,
    doubts: [],
  },
];

/** The part meant by a code or a name, in whatever spelling that looks alike; null when there is none. */
export function partNamed(parts: readonly Part[], text: string): Part | null {
  const wanted = keyOf(text);
  return parts.find((part) => keyOf(part.code) === wanted || keyOf(part.name) === wanted) ?? null;
}
