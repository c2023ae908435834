import { DataValidationRenderMode } from "@univerjs/core";
import { cellKey, type DefinedName, type Sheet } from "../../../src/book/workbook/snapshot.ts";
import type { SheetView } from "../../../src/xlsx/index.ts";
import { rangeOf, styleOf } from "./cells.ts";

/** How the grid says that a name belongs to the whole book. */
const EVERYWHERE = "AllDefaultWorkbook";

/** Names, rules and choices of a book, as the grid takes them along with a book. */
export function extras(
  names: readonly DefinedName[],
  sheets: readonly {
    readonly id: string;
    readonly view: SheetView;
    readonly formulas: Sheet["formulas"];
  }[],
): { readonly name: string; readonly data: string }[] {
  const rules: Record<string, object[]> = {};
  const choices: Record<string, object[]> = {};
  for (const { id, view, formulas } of sheets) {
    // The grid puts the first of its list on top, as files do.
    rules[id] = view.rules.map(({ areas, formula, look, stops }, at) => ({
      cfId: `${id}r${at}`,
      ranges: areas.map(rangeOf),
      stopIfTrue: stops,
      rule: {
        type: "highlightCell",
        subType: "formula",
        value: `=${formula}`,
        style: styleOf(look, "General"),
      },
    }));
    choices[id] = view.choices.map(({ areas, from }, at) => ({
      uid: `${id}c${at}`,
      ranges: areas.map(rangeOf),
      type: "list",
      formula1: from.startsWith('"') ? from.slice(1, -1) : `=${from}`,
      showDropDown: true,
      // What a formula says is not to be chosen.
      renderMode: areas.every(({ firstRow, firstColumn }) =>
        formulas.has(cellKey(firstRow, firstColumn)),
      )
        ? DataValidationRenderMode.TEXT
        : DataValidationRenderMode.ARROW,
      showErrorMessage: true,
      errorStyle: 1,
    }));
  }
  const known = names
    .filter(({ refersTo }) => !refersTo.includes("#REF!"))
    .map(({ name, sheet, refersTo }, at) => {
      const local = sheets.find(({ view }) => view.name === sheet)?.id ?? EVERYWHERE;
      return [`n${at}`, { id: `n${at}`, name, formulaOrRefString: refersTo, localSheetId: local }];
    });
  return [
    {
      name: "SHEET_DEFINED_NAME_PLUGIN",
      data: JSON.stringify(Object.fromEntries(known)),
    },
    { name: "SHEET_CONDITIONAL_FORMATTING_PLUGIN", data: JSON.stringify(rules) },
    { name: "SHEET_DATA_VALIDATION_PLUGIN", data: JSON.stringify(choices) },
  ];
}
