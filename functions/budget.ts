import { type BudgetLine, budgetAt } from "../src/core/budget.ts";
import { packCost } from "../src/core/cost.ts";
import { InputError, NoAnswerError } from "../src/core/errors.ts";
import { define, defineRow } from "./define.ts";

const units = { kind: "number", least: 0, most: 1e9, takes: "row" } as const;

/** What the packs for a need cost. */
export const PACKCOST = defineRow({
  id: "PACKCOST",
  about:
    "Cost of the whole packs for need plus endStock less onHand, at packPrice * (1 + rise) ^ years; never below 0.",
  args: {
    need: { ...units, about: "Units needed in the period." },
    pack: {
      kind: "number",
      about: "Units in a pack, 1 or more.",
      least: 1,
      most: 1e6,
      takes: "row",
    },
    packPrice: {
      ...units,
      about: "Price of a pack today. A zero counts as blank.",
      zero: "blank",
    },
    onHand: {
      ...units,
      about: "Units on the shelf at the start, default 0.",
      optional: true,
      default: 0,
    },
    endStock: {
      ...units,
      about: "Units to be on the shelf at the end, default 0.",
      optional: true,
      default: 0,
    },
    rise: {
      kind: "number",
      about: "Price rise a year, 0.04 for 4%, -0.9 to 1, default 0.",
      least: -0.9,
      most: 1,
      takes: "row",
      optional: true,
      default: 0,
    },
    years: {
      kind: "number",
      about: "Years of that rise, up to 50, default 1.",
      least: 0,
      most: 50,
      takes: "row",
      optional: true,
      default: 1,
    },
  },
  gives: { kind: "number", about: "Cost, in the currency of packPrice." },
  see: "Definition.",
  examples: [
    { cells: [38, 10, 400, 6, 4, 0.04], gives: 1664 },
    { cells: [[38, 3, null], 10, 400, 6], gives: [[1600], [0], [""]] },
  ],
  run: () => (row) => packCost(row).cost,
});

/** The cost that is probably enough. */
export const BUDGETAT = define({
  id: "BUDGETAT",
  about:
    "Cost that is enough with chance level (default 0.8): counts with the expected units, Poisson or spread more with variance, at their prices, added up exactly (else rounded up, under 0.5%).",
  args: {
    expected: {
      kind: "number",
      about: "Expected units, one cell a line, together at most a million.",
      least: 0,
      most: 1e6,
      takes: "range",
      blank: "kept",
    },
    price: {
      kind: "number",
      about: "Price of a unit, 0.01 or more, one cell a line. A zero counts as blank.",
      least: 0.01,
      most: 1e9,
      takes: "range",
      blank: "kept",
      zero: "blank",
    },
    level: {
      kind: "number",
      about: "Chance that the cost is enough, above 0 up to 0.9999, default 0.8.",
      least: 0,
      most: 0.9999,
      optional: true,
      default: 0.8,
    },
    variance: {
      kind: "number",
      about:
        "Variance of the units, one cell a line, at most 1,000 times expected; default Poisson.",
      least: 0,
      most: 1e9,
      takes: "range",
      optional: true,
      blank: "kept",
    },
  },
  gives: { kind: "number", about: "Cost, in the currency of price." },
  see: "Sum of independent counts, chance by chance.",
  examples: [
    { cells: [[1], [100]], gives: 200 },
    {
      cells: [[1.25, 3], [400, 41.5], 0.9],
      gives: 1283,
    },
  ],
  run: ({ expected, price, level, variance }) => {
    requireHeight("price", price, expected.length);
    // Nothing given at all arrives as one blank.
    const spread = variance.some((one) => one !== null) ? variance : null;
    if (spread) requireHeight("variance", spread, expected.length);
    const lines: BudgetLine[] = [];
    expected.forEach((units, index) => {
      const cost = price[index] ?? null;
      if (cost === null && (units === null || units === 0)) return;
      if (units === null) throw new InputError("expected", "given for every price", null);
      if (cost === null) throw new InputError("price", "given for every line", null);
      lines.push({ expected: units, price: cost, variance: spread?.[index] ?? null });
    });
    if (lines.length === 0) throw new NoAnswerError("needs at least one line");
    return budgetAt(lines, level);
  },
});

function requireHeight(name: string, cells: readonly unknown[], height: number): void {
  if (cells.length !== height) {
    throw new InputError(name, `as many cells as expected (${height})`, cells.length);
  }
}
