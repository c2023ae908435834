import type { PrintSetup } from "../../book/workbook/plan.ts";
import { columnLetters, sheetInFormula } from "../../book/workbook/snapshot.ts";
import { definedAs, defineName } from "./book-text.ts";
import { type Change, sheetDraft } from "./change.ts";
import { WorkbookError } from "../file/errors.ts";
import { cellText } from "../xml/escape.ts";
import { childrenOf, type Place, withAttributes } from "../xml/outline.ts";
import type { SheetDraft } from "./sheet-draft.ts";

const LONGEST_FOOTER = 255;
const TITLE_COLUMNS = /(?:'(?:[^']|'')*'|[^,!']+)!\$[A-Z]{1,3}:\$[A-Z]{1,3}/;

/** Millimetres from the edge of the paper that every printer reaches, in the inches of the format. */
const MARGINS = {
  left: "0.4",
  right: "0.4",
  top: "0.5",
  bottom: "0.6",
  header: "0.3",
  footer: "0.3",
};

/** Sets a sheet up for paper: its side, pages wide, headings on each page, a footer. */
export function setUpPrint(change: Change, edit: PrintSetup): void {
  const sheet = sheetDraft(change, edit.sheet);
  if (edit.footer.length > LONGEST_FOOTER) {
    throw new WorkbookError(
      `The footer of ${edit.sheet} is longer than ${LONGEST_FOOTER} characters.`,
    );
  }
  sheet.replaced.set("sheetPr", fitted(sheet));
  sheet.replaced.set("pageMargins", margins(sheet));
  sheet.replaced.set("pageSetup", pages(sheet, edit));
  sheet.replaced.set("headerFooter", footed(sheet, edit.footer));
  if (edit.titleRows) {
    const { first, last } = edit.titleRows;
    const key = sheet.name.toLowerCase();
    const titles = {
      name: "_xlnm.Print_Titles",
      sheet: change.order.findIndex((name) => name.toLowerCase() === key),
    };
    const rows = `${sheetInFormula(sheet.name)}!$${first + 1}:$${last + 1}`;
    const own = `${sheetInFormula(sheet.name)}!$A:$${columnLetters(edit.titleColumns - 1)}`;
    // Columns that repeat already go on repeating.
    const columns =
      edit.titleColumns > 0 ? own : TITLE_COLUMNS.exec(definedAs(change, titles) ?? "")?.[0];
    defineName(change, { ...titles, refersTo: columns ? `${columns},${rows}` : rows });
  }
}

function placed(sheet: SheetDraft, name: string): Place | undefined {
  return sheet.content.outline.children.find((child) => child.name === name);
}

/** The sheet's properties with fitting to pages turned on; it is their last element. */
function fitted(sheet: SheetDraft): string {
  const { text, path } = sheet;
  const p = sheet.content.outline.prefix;
  const place = placed(sheet, "sheetPr");
  if (!place) return `<${p}sheetPr><${p}pageSetUpPr fitToPage="1"/></${p}sheetPr>`;
  const children = childrenOf(text, place, path);
  const old = children.find(({ name }) => name === "pageSetUpPr");
  const own = old
    ? withAttributes(text, old, { fitToPage: "1" })
    : `<${p}pageSetUpPr fitToPage="1"/>`;
  const kept = children
    .filter((child) => child !== old)
    .map(({ start, end }) => text.slice(start, end));
  const tag = text.slice(place.start, place.openEnd);
  const open = place.empty ? `${tag.slice(0, -2)}>` : tag;
  return `${open}${kept.join("")}${own}</${p}sheetPr>`;
}

function margins(sheet: SheetDraft): string {
  const place = placed(sheet, "pageMargins");
  if (place) return withAttributes(sheet.text, place, MARGINS);
  const written = Object.entries(MARGINS).map(([name, inches]) => ` ${name}="${inches}"`);
  return `<${sheet.content.outline.prefix}pageMargins${written.join("")}/>`;
}

function pages(sheet: SheetDraft, { orientation, pagesWide, pagesTall = 0 }: PrintSetup): string {
  const p = sheet.content.outline.prefix;
  const place = placed(sheet, "pageSetup");
  const wanted = { orientation, fitToWidth: String(pagesWide), fitToHeight: String(pagesTall) };
  if (place) {
    // A printer's own settings would speak against ours through usePrinterDefaults.
    const tag = withAttributes(sheet.text, place, {
      ...wanted,
      scale: null,
      usePrinterDefaults: null,
    });
    return tag + sheet.text.slice(place.openEnd, place.end);
  }
  return `<${p}pageSetup orientation="${orientation}" fitToWidth="${pagesWide}" fitToHeight="${pagesTall}"/>`;
}

const FOOTER_ORDER = [
  "oddHeader",
  "oddFooter",
  "evenHeader",
  "evenFooter",
  "firstHeader",
  "firstFooter",
];

function footed(sheet: SheetDraft, footer: string): string {
  const { text, path } = sheet;
  const p = sheet.content.outline.prefix;
  // Without a section of its own the text stands in the middle; saying so suits every reader.
  const centred = /^&[LCR]/.test(footer) ? footer : `&C${footer}`;
  const own = `<${p}oddFooter>${cellText(centred)}</${p}oddFooter>`;
  const place = placed(sheet, "headerFooter");
  if (!place) return `<${p}headerFooter>${own}</${p}headerFooter>`;
  const pieces = new Map(
    childrenOf(text, place, path).map(({ name, start, end }) => [name, text.slice(start, end)]),
  );
  pieces.set("oddFooter", own);
  const tag = text.slice(place.start, place.openEnd);
  const open = place.empty ? `${tag.slice(0, -2)}>` : tag;
  return `${open}${FOOTER_ORDER.map((name) => pieces.get(name) ?? "").join("")}</${p}headerFooter>`;
}
