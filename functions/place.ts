import { InputError } from "../src/core/errors.ts";
import { placeSpares, type Site } from "../src/core/place.ts";
import { define } from "./define.ts";

/** Spares for the sites. */
export const PLACESPARES = define({
  id: "PLACESPARES",
  about:
    "Spares for each site: floor (default 1) each, then one at a time where a spare lowers the expected shortage most for its cost, within budget. #N/A when the floors alone cost more.",
  args: {
    perMonth: {
      kind: "number",
      about: "Unplanned units a month of each site; a site left blank gets a blank.",
      least: 0,
      most: 10_000,
      takes: "range",
      blank: "kept",
    },
    leadMonths: {
      kind: "number",
      about:
        "Months from order to shelf, up to 120: one cell, or one a site. A zero counts as blank.",
      least: 0,
      most: 120,
      takes: "range",
      blank: "kept",
      zero: "blank",
    },
    unitCost: {
      kind: "number",
      about: "Cost of one spare, 0.01 or more: one cell, or one a site. A zero counts as blank.",
      least: 0.01,
      most: 1e9,
      takes: "range",
      blank: "kept",
      zero: "blank",
    },
    budget: { kind: "number", about: "Money for all spares.", least: 0, most: 1e12 },
    floor: {
      kind: "whole",
      about: "Spares that each site always has, default 1.",
      least: 0,
      most: 10_000,
      optional: true,
      default: 1,
    },
  },
  gives: {
    kind: "rows",
    about: "Spares, one row a site.",
    columns: [{ name: "units", kind: "number" }],
  },
  see: "Marginal analysis of expected shortages (Sherbrooke, Optimal Inventory Modeling, from memory).",
  examples: [
    { cells: [[0.5, 0.1], 2, 100, 400], gives: [[3], [1]] },
    { cells: [[0.5, null, 0.1], 2, 100, 200], gives: [[1], [""], [1]] },
    {
      cells: [[0.5, 0.1], 2, 100, 150],
      gives: { error: "#N/A", message: "needs a budget of 200 for the floor of every site" },
    },
  ],
  run: ({ perMonth, leadMonths, unitCost, budget, floor }) => {
    const sites: Site[] = [];
    const asked = perMonth.map((rate, index) => {
      const lead = cellOf("leadMonths", leadMonths, index, perMonth.length);
      const cost = cellOf("unitCost", unitCost, index, perMonth.length);
      // Below the list all is blank; some hosts hand that over as zero.
      if (rate === null || (rate === 0 && lead === null && cost === null)) return false;
      if (lead === null) throw new InputError("leadMonths", "given for every site", null);
      if (cost === null) throw new InputError("unitCost", "given for every site", null);
      sites.push({ perMonth: rate, leadMonths: lead, unitCost: cost });
      return true;
    });
    const spares = placeSpares(sites, budget, floor);
    let next = 0;
    return asked.map((one) => [one ? (spares[next++] ?? "") : ""]);
  },
});

/** The cell of a site in a range; a single cell holds for all of them. */
function cellOf(
  name: string,
  cells: readonly (number | null)[],
  index: number,
  height: number,
): number | null {
  if (cells.length !== 1 && cells.length !== height) {
    throw new InputError(name, `a single cell or as many as perMonth (${height})`, cells.length);
  }
  return (cells.length === 1 ? cells[0] : cells[index]) ?? null;
}
