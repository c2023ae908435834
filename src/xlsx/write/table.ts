import type { AddTable, GrowTable } from "../../book/workbook/plan.ts";
import { type Area, areaText } from "../../book/workbook/snapshot.ts";
import { bookFolder, type Change, relationAttribute, sheetDraft } from "./change.ts";
import { addPart, addRelation, draftText, splicePart } from "../package/draft.ts";
import { WorkbookError } from "../file/errors.ts";
import { cellText } from "../xml/escape.ts";
import { formulaAt, rowFormula } from "../read/formulas.ts";
import {
  appendTo,
  childrenOf,
  openingTag,
  outlineOf,
  type Splice,
  withAttributes,
} from "../xml/outline.ts";
import { readTable } from "../read/read-table.ts";
import { addElement, type SheetDraft, valueInDraft } from "./sheet-draft.ts";
import { numberOf } from "../xml/attributes.ts";

const TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.table+xml";

/** Makes a native table of cells that are there. */
export function addTable(change: Change, edit: AddTable): void {
  const sheet = sheetDraft(change, edit.sheet);
  const { area } = edit;
  if (area.lastRow <= area.firstRow || width(area) !== edit.headings.length) {
    throw new WorkbookError(
      `The table ${edit.name} needs a heading for each column and a row below.`,
    );
  }
  const key = edit.name.toLowerCase();
  const named = change.book.snapshot.names.some(({ name }) => name.toLowerCase() === key);
  if (change.tables.has(key) || named) {
    throw new WorkbookError(
      `The name ${edit.name} is taken: make the plan again with another one.`,
    );
  }
  if (sheet.before?.tables.some((table) => overlaps(table.area, area))) {
    throw new WorkbookError(`The place of the table ${edit.name} is part of another table.`);
  }
  checkHeadings(sheet, area, area.firstColumn, edit.headings);
  const id = Math.max(0, ...[...change.tables.values()].map((table) => table.id)) + 1;
  const columns = edit.headings.map(
    (title, index) => `<tableColumn id="${index + 1}" name="${attributeText(title)}"/>`,
  );
  const ref = areaText(area);
  const text =
    `<table xmlns="${change.book.space}" id="${id}" name="${edit.name}" displayName="${edit.name}" ref="${ref}" totalsRowShown="0">` +
    `${edit.buttonless ? "" : `<autoFilter ref="${ref}"/>`}<tableColumns count="${columns.length}">${columns.join("")}</tableColumns>` +
    '<tableStyleInfo name="TableStyleLight1" showFirstColumn="0" showLastColumn="0" showRowStripes="1" showColumnStripes="0"/></table>';
  const path = addPart(change.draft, `${bookFolder(change)}tables/table#.xml`, TYPE, text);
  const relation = addRelation(change.draft, sheet.path, "table", path);
  const tag = `${sheet.content.outline.prefix}tablePart`;
  addElement(sheet, "tableParts", `<${tag} ${relationAttribute(change, relation)}/>`);
  change.tables.set(key, { id, path });
}

/** Widens a table to the right or downwards; what it was stays part of it. */
export function growTable(change: Change, edit: GrowTable): void {
  const sheet = sheetDraft(change, edit.sheet);
  const known = change.tables.get(edit.table.toLowerCase());
  if (!known) throw new WorkbookError(`The table ${edit.table} is not there: make the plan again.`);
  const { path } = known;
  const text = draftText(change.draft, path);
  const { table } = readTable(text, path);
  const { area } = edit;
  checkGrowth(edit, table.area, table.totalsRow);
  checkHeadings(
    sheet,
    area,
    table.area.lastColumn + 1,
    edit.columns.map(({ title }) => title),
  );
  const outline = outlineOf(text, path, "table");
  const tag = withAttributes(text, outline.root, { ref: areaText(area) });
  const splices: Splice[] = [{ start: outline.root.start, end: outline.root.openEnd, xml: tag }];
  for (const place of outline.children) {
    if (place.name === "autoFilter") {
      const filtered = table.totalsRow ? { ...area, lastRow: area.lastRow - 1 } : area;
      const xml = withAttributes(text, place, { ref: areaText(filtered) });
      splices.push({ start: place.start, end: place.openEnd, xml });
    } else if (place.name === "tableColumns" && edit.columns.length > 0) {
      const ids = childrenOf(text, place, path).map(
        (at) => numberOf(openingTag(text, at), "id") ?? 0,
      );
      const count = String(ids.length + edit.columns.length);
      const columns = newColumns(edit, Math.max(0, ...ids), area, outline.prefix);
      splices.push(...appendTo(text, place, columns, withAttributes(text, place, { count })));
    }
  }
  splicePart(change.draft, path, splices);
}

function newColumns(edit: GrowTable, lastId: number, area: Area, p: string): string {
  return edit.columns
    .map(({ title, formula }, index) => {
      const head = `<${p}tableColumn id="${lastId + 1 + index}" name="${attributeText(title)}"`;
      if (!formula) return `${head}/>`;
      // The column's formula is the one of its first row; the program carries it down.
      const text = formulaAt(rowFormula(formula).pieces, area.firstRow + 1);
      const array = formula.live ? ' array="1"' : "";
      return `${head}><${p}calculatedColumnFormula${array}>${text}</${p}calculatedColumnFormula></${p}tableColumn>`;
    })
    .join("");
}

function checkGrowth(edit: GrowTable, old: Area, totalsRow: boolean): void {
  const { area, table } = edit;
  const sameCorner = area.firstRow === old.firstRow && area.firstColumn === old.firstColumn;
  const columns = area.lastColumn - old.lastColumn;
  if (!sameCorner || area.lastRow < old.lastRow || columns !== edit.columns.length) {
    throw new WorkbookError(
      `The table ${table} is not where the plan expects it: make the plan again.`,
    );
  }
  if (totalsRow && area.lastRow > old.lastRow) {
    throw new WorkbookError(`The table ${table} has a totals row in the way: turn it off first.`);
  }
}

function checkHeadings(
  sheet: SheetDraft,
  area: Area,
  firstColumn: number,
  headings: readonly string[],
): void {
  const seen = new Set<string>();
  for (const [index, heading] of headings.entries()) {
    const key = heading.toLowerCase();
    if (valueInDraft(sheet, area.firstRow, firstColumn + index) !== heading || seen.has(key)) {
      throw new WorkbookError(
        `The heading "${heading}" of a table on ${sheet.name} is twice there or not in its cell: make the plan again.`,
      );
    }
    seen.add(key);
  }
}

function attributeText(text: string): string {
  return cellText(text).replaceAll("\n", "_x000a_").replaceAll("\t", "_x0009_");
}

function width(area: Area): number {
  return area.lastColumn - area.firstColumn + 1;
}

function overlaps(one: Area, other: Area): boolean {
  return (
    one.firstRow <= other.lastRow &&
    other.firstRow <= one.lastRow &&
    one.firstColumn <= other.lastColumn &&
    other.firstColumn <= one.lastColumn
  );
}
