import type { GrowFilter } from "../../book/workbook/plan.ts";
import { type Area, areaText, sheetInFormula } from "../../book/workbook/snapshot.ts";
import { areaOf } from "../read/areas.ts";
import { definedAs, defineName } from "./book-text.ts";
import { type Change, sheetDraft } from "./change.ts";
import { WorkbookError } from "../file/errors.ts";
import { attributeAt, childrenOf, type Splice, spliced, withAttributes } from "../xml/outline.ts";

/** The name a program keeps for a sheet's filter: it finds the filter's rows by it. */
const FILTER_NAME = "_xlnm._FilterDatabase";

/** Widens a sheet's own filter, with the last sorting it remembers and the name kept for it. */
export function growFilter(change: Change, { sheet: name, from, area }: GrowFilter): void {
  const sheet = sheetDraft(change, name);
  const { text, path, content } = sheet;
  const place = content.outline.children.find((child) => child.name === "autoFilter");
  if (place === undefined || attributeAt(text, place, "ref") !== areaText(from)) {
    throw new WorkbookError(
      `The filter of ${name} is not where the plan expects it: make the plan again.`,
    );
  }
  const tag = withAttributes(text, place, { ref: areaText(area) });
  const splices: Splice[] = [{ start: place.start, end: place.openEnd, xml: tag }];
  for (const child of place.empty ? [] : childrenOf(text, place, path)) {
    const sorted = child.name === "sortState" ? areaOf(attributeAt(text, child, "ref")) : null;
    if (sorted?.lastColumn !== from.lastColumn) continue;
    const ref = areaText({ ...sorted, lastColumn: area.lastColumn });
    splices.push({
      start: child.start,
      end: child.openEnd,
      xml: withAttributes(text, child, { ref }),
    });
  }
  const whole = splices.map(({ start, end, xml }) => ({
    ...{ start: start - place.start, end: end - place.start, xml },
  }));
  sheet.replaced.set("autoFilter", spliced(text.slice(place.start, place.end), whole));
  const key = name.toLowerCase();
  const entry = {
    name: FILTER_NAME,
    sheet: change.order.findIndex((one) => one.toLowerCase() === key),
  };
  if (definedAs(change, entry) === null) return;
  defineName(change, { ...entry, refersTo: `${sheetInFormula(sheet.name)}!${fixed(area)}` });
}

/** An area as a name holds it: $A$3:$N$60. */
function fixed(area: Area): string {
  return areaText(area).replaceAll(/[A-Z]+|\d+/g, "$$$&");
}
