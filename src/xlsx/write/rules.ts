import type { AddRule } from "../../book/workbook/plan.ts";
import { areaText } from "../../book/workbook/snapshot.ts";
import { type Change, sheetDraft } from "./change.ts";
import { cellText } from "../xml/escape.ts";
import { storedFormula } from "../read/formulas.ts";
import { addElement, type SheetDraft } from "./sheet-draft.ts";
import { ruleStyle } from "../read/styles.ts";
import { numberOf } from "../xml/attributes.ts";
import { next, readXml } from "../xml/xml.ts";

/** Adds conditional formats after all the sheet has. */
export function addRule(change: Change, edit: AddRule): void {
  const sheet = sheetDraft(change, edit.sheet);
  const p = sheet.content.outline.prefix;
  let priority = sheet.nextPriority ?? largestPriority(sheet) + 1;
  const rules = edit.rules.map(({ formula, look }) => {
    const style = ruleStyle(change.styles, look);
    const text = cellText(storedFormula(formula));
    const head = `<${p}cfRule type="expression" dxfId="${style}" priority="${priority}">`;
    priority += 1;
    return `${head}<${p}formula>${text}</${p}formula></${p}cfRule>`;
  });
  sheet.nextPriority = priority;
  const tag = `${p}conditionalFormatting`;
  const xml = `<${tag} sqref="${areaText(edit.area)}">${rules.join("")}</${tag}>`;
  addElement(sheet, "conditionalFormatting", xml);
}

/** Rules of both forms share one numbering: those of the sheet and those of its extensions. */
function largestPriority(sheet: SheetDraft): number {
  let largest = 0;
  for (const { name, start, end } of sheet.content.outline.children) {
    if (name !== "conditionalFormatting" && name !== "extLst") continue;
    const xml = readXml(sheet.text.slice(start, end), sheet.path);
    while (next(xml)) {
      if (xml.kind === "open" && xml.name === "cfRule") {
        largest = Math.max(largest, numberOf(xml, "priority") ?? 0);
      }
    }
  }
  return largest;
}
