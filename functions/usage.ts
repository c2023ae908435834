import { replacementInterval } from "../src/core/usage.ts";
import { defineRow } from "./define.ts";

/** Months between replacements. */
export const SPAN = defineRow({
  id: "SPAN",
  about:
    "Whole months between replacements: useBudget / usesPerMonth kept between shortest and longest, or the ramp from lightUse to heavyUse, rounded down. Usage blank or zero, or neither curve given: shortest.",
  args: {
    usesPerMonth: {
      kind: "number",
      about: "Uses of the part a month. Blank or zero counts as unknown and gives shortest.",
      least: 0,
      takes: "row",
      blank: "kept",
      zero: "blank",
    },
    shortest: {
      kind: "number",
      about: "Months under heavy use or in doubt, 1 to 1200.",
      least: 1,
      most: 1200,
      takes: "row",
    },
    longest: {
      kind: "number",
      about: "Months under light use, not below shortest, up to 1200.",
      least: 1,
      most: 1200,
      takes: "row",
    },
    useBudget: {
      kind: "number",
      about: "Uses one part lasts; the programme's own number.",
      takes: "row",
      optional: true,
    },
    lightUse: {
      kind: "number",
      about: "Uses a month up to which longest holds; only together with heavyUse.",
      takes: "row",
      optional: true,
    },
    heavyUse: {
      kind: "number",
      about: "Uses a month from which shortest holds, not below lightUse.",
      takes: "row",
      optional: true,
    },
  },
  gives: { kind: "number", about: "Whole months; with both curves the shorter." },
  see: "The curve is the programme's own setting; no public source states one.",
  examples: [
    { cells: [120, 3, 6, 600], gives: 5 },
    { cells: [130, 6, 9, null, 100, 200], gives: 8 },
    { cells: [null, 3, 6, 600], gives: 3 },
    { cells: [[50, 150, 400], 3, 6, 600], gives: [[6], [4], [3]] },
  ],
  run: () => replacementInterval,
});
