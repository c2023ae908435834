import type { AddChoices, AddRule } from "../workbook/plan.ts";
import { MARKS } from "./marks.ts";
import { type Area, address } from "../workbook/snapshot.ts";

/**
 * The states as people see them: word, mark, then colour, so that colour is never the only sign. The
 * cell keeps the bare word; the mark is put before it by the rule's number format. Text colours are
 * at least 7:1 on their fill (WCAG 2.2, contrast).
 */
const STATES = [
  { word: "Overdue", look: { bold: true, color: "6A1043", fill: "F8E4EE" } },
  { word: "Due soon", look: { color: "6B3100", fill: "FDEBDD" } },
  { word: "Check row", look: { bold: true, color: "12436D", fill: "E1ECF5" } },
  { word: "Not due", look: {} },
  { word: "Retired", look: { color: "505050" } },
] as const;

/** The native rules of a state column. */
export function stateRule(sheet: string, area: Area): AddRule {
  const cell = address(area.firstRow, area.firstColumn);
  return {
    kind: "addRule",
    sheet,
    area,
    rules: STATES.map(({ word, look }) => ({
      formula: `${cell}="${word}"`,
      look: { ...look, format: `"${MARKS[word]} "@` },
    })),
  };
}

/** The native rule of a row check column: anything but OK stands out. */
export function checkRule(sheet: string, area: Area): AddRule {
  const cell = address(area.firstRow, area.firstColumn);
  return {
    kind: "addRule",
    sheet,
    area,
    rules: [{ formula: `AND(${cell}<>"",${cell}<>"OK")`, look: { bold: true, color: "12436D" } }],
  };
}

/** Only the state words may be typed over a state. */
export function stateChoices(sheet: string, area: Area): AddChoices {
  return {
    kind: "addChoices",
    sheet,
    area,
    choices: { kind: "list", values: STATES.map(({ word }) => word) },
    message: "The state is computed; undo the change.",
  };
}
