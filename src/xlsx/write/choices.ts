import type { AddChoices, Choices } from "../../book/workbook/plan.ts";
import { areaText } from "../../book/workbook/snapshot.ts";
import { type Change, sheetDraft } from "./change.ts";
import { WorkbookError } from "../file/errors.ts";
import { cellText } from "../xml/escape.ts";
import { storedFormula } from "../read/formulas.ts";
import { addElement } from "./sheet-draft.ts";

const LONGEST_LIST = 255;
const LONGEST_MESSAGE = 225;

/** Adds a native validation; blank cells stay allowed and a wrong entry is refused with the message. */
export function addChoices(change: Change, edit: AddChoices): void {
  const sheet = sheetDraft(change, edit.sheet);
  const p = sheet.content.outline.prefix;
  if (edit.message.length > LONGEST_MESSAGE) {
    throw new WorkbookError(
      `A message for choices on ${edit.sheet} is longer than ${LONGEST_MESSAGE} characters.`,
    );
  }
  const { type, formulas } = described(edit.choices, edit.sheet);
  const body = formulas
    .map((text, index) => `<${p}formula${index + 1}>${cellText(text)}</${p}formula${index + 1}>`)
    .join("");
  const xml =
    `<${p}dataValidation type="${type}" errorStyle="stop" allowBlank="1" showErrorMessage="1" ` +
    `error="${cellText(edit.message)}" sqref="${areaText(edit.area)}">${body}</${p}dataValidation>`;
  addElement(sheet, "dataValidations", xml);
}

function described(choices: Choices, sheet: string): { type: string; formulas: string[] } {
  switch (choices.kind) {
    case "list": {
      const list = choices.values.join(",").replaceAll('"', '""');
      if (list.length > LONGEST_LIST || choices.values.some((value) => value.includes(","))) {
        throw new WorkbookError(
          `A list of choices on ${sheet} is longer than ${LONGEST_LIST} characters or holds a comma: keep the choices in cells instead.`,
        );
      }
      return { type: "list", formulas: [`"${list}"`] };
    }
    case "listFrom":
      return { type: "list", formulas: [storedFormula(choices.refersTo)] };
    case "date":
      return { type: "date", formulas: [storedFormula(choices.from), storedFormula(choices.to)] };
    case "number": {
      const type = choices.whole ? "whole" : "decimal";
      return { type, formulas: [storedFormula(choices.from), storedFormula(choices.to)] };
    }
  }
}
