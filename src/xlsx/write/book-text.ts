import { sameFormula } from "../../book/workbook/same-formula.ts";
import { type Change, relationAttribute } from "./change.ts";
import { draftText, setPart, splicePart } from "../package/draft.ts";
import { WorkbookError } from "../file/errors.ts";
import { escaped } from "../xml/escape.ts";
import { shownFormula, storedFormula } from "../read/formulas.ts";
import {
  appendTo,
  attributeAt,
  childrenOf,
  openingTag,
  outlineOf,
  type Place,
  positionOf,
  spliced,
  withAttributes,
} from "../xml/outline.ts";
import { plain } from "../xml/references.ts";
import { numberOf } from "../xml/attributes.ts";

/** The children of a workbook in the order the format prescribes. Source: ECMA-376 part 1, 18.2.27. */
const ORDER = (
  "fileVersion fileSharing workbookPr workbookProtection bookViews sheets functionGroups externalReferences " +
  "definedNames calcPr oleSize customWorkbookViews pivotCaches smartTagPr smartTagTypes webPublishing " +
  "fileRecoveryPr webPublishObjects extLst"
).split(" ");

/** Lists a new sheet after the last one. */
export function listSheet(change: Change, name: string, relation: string): void {
  const { path } = change.book;
  const text = draftText(change.draft, path);
  const outline = outlineOf(text, path, "workbook");
  const sheets = outline.children.find((child) => child.name === "sheets");
  if (!sheets) throw new WorkbookError("This workbook lists no sheets: save it again and retry.");
  let largest = 0;
  for (const place of childrenOf(text, sheets, path)) {
    largest = Math.max(largest, numberOf(openingTag(text, place), "sheetId") ?? 0);
  }
  const xml = `<${outline.prefix}sheet name="${escaped(name)}" sheetId="${largest + 1}" ${relationAttribute(change, relation)}/>`;
  splicePart(change.draft, path, appendTo(text, sheets, xml));
  change.order.push(name);
}

/** A name to be defined; sheet is an index into the order of all sheets, or null for the whole book. */
export interface NewName {
  readonly name: string;
  readonly sheet: number | null;
  readonly refersTo: string;
}

/** Defines a name in its alphabetical place; one that is there with the same meaning stays as it is. */
export function defineName(change: Change, entry: NewName): void {
  const { path } = change.book;
  const text = draftText(change.draft, path);
  const outline = outlineOf(text, path, "workbook");
  const p = outline.prefix;
  const refersTo = storedFormula(entry.refersTo);
  const scope = entry.sheet === null ? "" : ` localSheetId="${entry.sheet}"`;
  const xml = `<${p}definedName name="${escaped(entry.name)}"${scope}>${escaped(refersTo)}</${p}definedName>`;
  const list = outline.children.find((child) => child.name === "definedNames");
  if (!list) {
    const at = positionOf(outline, ORDER, "definedNames");
    const whole = `<${p}definedNames>${xml}</${p}definedNames>`;
    splicePart(change.draft, path, [{ start: at, end: at, xml: whole }]);
    return;
  }
  const places = childrenOf(text, list, path);
  const same = places.find((place) => isSame(text, place, entry));
  if (same) {
    const old = plain(text.slice(same.openEnd, same.closeStart));
    if (sameFormula(shownFormula(old), shownFormula(refersTo))) return;
    // What else is said of the name stays, such as that it is hidden.
    const splice = same.empty
      ? { start: same.start, end: same.end, xml }
      : { start: same.openEnd, end: same.closeStart, xml: escaped(refersTo) };
    splicePart(change.draft, path, [splice]);
    return;
  }
  const key = entry.name.toLowerCase();
  const later = places.find(
    (place) => (attributeAt(text, place, "name") ?? "").toLowerCase() > key,
  );
  const splices = later
    ? [{ start: later.start, end: later.start, xml }]
    : appendTo(text, list, xml);
  splicePart(change.draft, path, splices);
}

/** What a name means in the file, or null when nobody defined it. */
export function definedAs(change: Change, entry: Omit<NewName, "refersTo">): string | null {
  const { path } = change.book;
  const text = draftText(change.draft, path);
  const list = outlineOf(text, path, "workbook").children.find(
    (child) => child.name === "definedNames",
  );
  const place = list && childrenOf(text, list, path).find((one) => isSame(text, one, entry));
  return place ? plain(text.slice(place.openEnd, place.closeStart)) : null;
}

function isSame(text: string, place: Place, entry: Omit<NewName, "refersTo">): boolean {
  const tag = openingTag(text, place);
  return (
    numberOf(tag, "localSheetId") === entry.sheet &&
    (attributeAt(text, place, "name") ?? "").toLowerCase() === entry.name.toLowerCase()
  );
}

/** Asks the spreadsheet program to calculate everything when it opens the book. */
export function askForCalculation(change: Change): void {
  const { path } = change.book;
  const text = draftText(change.draft, path);
  const outline = outlineOf(text, path, "workbook");
  const place = outline.children.find((child) => child.name === "calcPr");
  const at = positionOf(outline, ORDER, "calcPr");
  const splice = place
    ? {
        start: place.start,
        end: place.openEnd,
        xml: withAttributes(text, place, { fullCalcOnLoad: "1" }),
      }
    : { start: at, end: at, xml: `<${outline.prefix}calcPr fullCalcOnLoad="1"/>` };
  setPart(change.draft, path, spliced(text, [splice]));
}
