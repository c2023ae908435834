import type { AddSheet } from "../../book/workbook/plan.ts";
import { areaText } from "../../book/workbook/snapshot.ts";
import { listSheet } from "./book-text.ts";
import { bookFolder, type Change } from "./change.ts";
import { addPart, addRelation, relationSpace } from "../package/draft.ts";
import { WorkbookError } from "../file/errors.ts";
import { cutText } from "../read/cut-sheet.ts";
import { NO_STRINGS } from "../read/strings.ts";
import { budget, readSheet } from "../read/read-sheet.ts";
import { draftOf, type Origin, originOf, writeCell } from "./sheet-draft.ts";
import { lookKey, lookStyle } from "../read/styles.ts";

const TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml";
const LONGEST_NAME = 31;

/** Adds a sheet after the last one, with its cells. */
export function addSheet(change: Change, edit: AddSheet): void {
  checkSheetName(edit.sheet);
  const text = emptySheet(
    change.book.space,
    relationSpace(change.book.strict),
    edit.freezeRows,
  ).replace("<sheetData/>", rowsAndMerges(edit));
  const pattern = `${bookFolder(change)}worksheets/sheet#.xml`;
  const path = addPart(change.draft, pattern, TYPE, text);
  const relation = addRelation(change.draft, change.book.path, "worksheet", path);
  listSheet(change, edit.sheet, relation);
  const source = {
    strings: NO_STRINGS,
    dateSystem: change.book.snapshot.dateSystem,
    formatIndex: () => 0,
    isStruck: () => false,
    spend: budget(1),
  };
  const content = readSheet(cutText(text, path), source);
  const draft = draftOf(edit.sheet, path, { content, before: null });
  change.sheets.set(edit.sheet.toLowerCase(), draft);
  for (const [column, width] of edit.widths.entries()) draft.widths.set(column, width);
  for (const column of edit.hiddenColumns ?? []) draft.hiddenColumns.add(column);
  const origins = new Map<string, Origin>();
  for (const cell of edit.cells) {
    const key = lookKey(cell);
    let origin = origins.get(key);
    if (!origin) {
      const style = lookStyle(change.styles, cell);
      origin = originOf({ kind: "style", style });
      origins.set(key, origin);
    }
    const own = cell.formula ? originOf(origin.base, cell.formula) : origin;
    writeCell(draft, cell.row, { column: cell.column, value: cell.value, origin: own });
  }
}

/** Refuses what no sheet can be called. */
export function checkSheetName(name: string): void {
  const bad = name === "" || name.length > LONGEST_NAME || /[[\]:*?/\\]|^'|'$/.test(name);
  if (!bad) return;
  throw new WorkbookError(
    `"${name}" cannot be the name of a sheet: use 1 to ${LONGEST_NAME} characters without [ ] : * ? / \\ and no apostrophe at the ends.`,
  );
}

/** The text of a sheet without cells. */
export function emptySheet(space: string, relations: string, freezeRows: number): string {
  const below = `A${freezeRows + 1}`;
  const pane =
    freezeRows > 0
      ? `<pane ySplit="${freezeRows}" topLeftCell="${below}" activePane="bottomLeft" state="frozen"/><selection pane="bottomLeft" activeCell="${below}" sqref="${below}"/>`
      : "";
  return (
    `<worksheet xmlns="${space}" xmlns:r="${relations}"><dimension ref="A1"/>` +
    `<sheetViews><sheetView workbookViewId="0">${pane}</sheetView></sheetViews>` +
    '<sheetFormatPr defaultRowHeight="15"/><sheetData/>' +
    '<pageMargins left="0.7" right="0.7" top="0.75" bottom="0.75" header="0.3" footer="0.3"/></worksheet>'
  );
}

/** Rows that are hidden or high, and merged cells of a new sheet; the cells are put in later. */
function rowsAndMerges({ hiddenRows = [], heights = [], merges = [] }: AddSheet): string {
  const looks = new Map<number, string>();
  for (const row of hiddenRows) looks.set(row, ' hidden="1"');
  for (const { row, points } of heights) {
    looks.set(row, `${looks.get(row) ?? ""} ht="${points}" customHeight="1"`);
  }
  const rows = [...looks]
    .sort(([a], [b]) => a - b)
    .map(([row, look]) => `<row r="${row + 1}"${look}/>`);
  const areas = merges.map((area) => `<mergeCell ref="${areaText(area)}"/>`);
  const merged =
    areas.length === 0 ? "" : `<mergeCells count="${areas.length}">${areas.join("")}</mergeCells>`;
  return `<sheetData>${rows.join("")}</sheetData>${merged}`;
}
