import { cellAt } from "../../src/book/workbook/snapshot.ts";
import { areaAt, areaFrom, type Block, calculate, usedArea } from "./block.ts";
import { chartsThing } from "./charts.ts";
import {
  type BookModel,
  type CommentModel,
  mayChange,
  newSheet,
  freshId,
  type SheetModel,
  sheetAt,
} from "./model.ts";
import { namesThing } from "./names.ts";
import { rangeThing } from "./range.ts";
import { tablesThing } from "./tables.ts";
import { bag, Fault, textOf, type Thing, thing, wholeOf } from "./thing.ts";

/** A worksheet. */
function sheetThing(book: BookModel, sheet: SheetModel): Thing {
  const range = (area: Block["area"]): Thing => rangeThing({ book, sheet, area });
  return thing({
    kind: "Worksheet",
    id: sheet.id,
    get: {
      id: () => sheet.id,
      name: () => sheet.name,
      visibility: () => sheet.visibility.replace(/^./, (letter) => letter.toUpperCase()),
      tables: () => tablesThing(book, sheet),
      charts: () => chartsThing(book, sheet),
      comments: () => commentsThing(sheet, range),
      names: () => {
        if (book.temper.isElsewhere)
          throw new Fault("InvalidSelection", "another workbook is looked at");
        return namesThing(sheet, book.temper.rendersAnew);
      },
      autoFilter: () => filterThing(book, sheet),
      protection: () =>
        thing({ kind: "WorksheetProtection", get: { protected: () => sheet.protected } }),
      freezePanes: () =>
        thing({
          kind: "WorksheetFreezePanes",
          call: { freezeRows: (rows) => void sheet.page.set("frozen rows", wholeOf(rows)) },
        }),
      pageLayout: () => pageThing(sheet),
    },
    call: {
      getRange: (address) => range(areaAt(textOf(address))),
      getRangeByIndexes: (row, column, rows, columns) =>
        range(areaFrom(wholeOf(row), wholeOf(column), wholeOf(rows), wholeOf(columns))),
      getUsedRangeOrNullObject: (valuesOnly) => {
        const area = usedArea(sheet, valuesOnly === true);
        return area === null ? null : range(area);
      },
      calculate: () => {
        for (const [key, cell] of sheet.cells) calculate(book, sheet, key, cell);
        book.written.push(`calculate ${sheet.name}`);
      },
      activate: () => {
        if (sheet.visibility !== "visible") {
          throw new Fault("InvalidOperation", `${sheet.name} is hidden`);
        }
        book.selection = {
          sheet,
          area: { firstRow: 0, firstColumn: 0, lastRow: 0, lastColumn: 0 },
        };
      },
      delete: () => {
        refuseFixed(book);
        if (book.sheets.filter(({ visibility }) => visibility === "visible").length < 2) {
          throw new Fault("InvalidOperation", "a workbook keeps at least one visible sheet");
        }
        book.sheets = book.sheets.filter((one) => one !== sheet);
        book.written.push(`delete ${sheet.name}`);
      },
    },
  });
}

/** The threads of a sheet. */
function commentsThing(sheet: SheetModel, range: (area: Block["area"]) => Thing): Thing {
  const comment = ({ id, cell, said: [first = "", ...answers] }: CommentModel): Thing => {
    const replies = answers.map((text, at) =>
      thing({ kind: "CommentReply", id: `${id}${at}`, get: { content: () => text } }),
    );
    const { row, column } = cellAt(cell);
    return thing({
      ...{ kind: "Comment", id },
      get: {
        id: () => id,
        content: () => first,
        replies: () => thing({ kind: "CommentReplyCollection", items: () => replies }),
      },
      call: { getLocation: () => range(areaFrom(row, column, 1, 1)) },
    });
  };
  return thing({
    kind: "CommentCollection",
    items: () => sheet.comments.map(comment),
    item: (key) => {
      const found = sheet.comments.find(({ id }) => id === key);
      if (found === undefined) throw new Fault("ItemNotFound", `no comment ${String(key)}`);
      return comment(found);
    },
  });
}

/** All worksheets. */
export function sheetsThing(book: BookModel): Thing {
  return thing({
    kind: "WorksheetCollection",
    items: () => book.sheets.map((sheet) => sheetThing(book, sheet)),
    item: (key) => sheetThing(book, sheetAt(book, key)),
    call: {
      add: (given) => sheetThing(book, addSheet(book, textOf(given))),
      _RegisterDataChangedEvent: () => undefined,
      _UnregisterDataChangedEvent: () => undefined,
    },
  });
}

function refuseFixed({ temper }: BookModel): void {
  if (temper.isFixed) throw new Fault("AccessDenied", "the structure is protected");
}

function addSheet(book: BookModel, name: string): SheetModel {
  refuseFixed(book);
  if (name === "" || name.length > 31 || /[\\/?*[\]:]|^'|'$/.test(name)) {
    throw new Fault("InvalidArgument", `a sheet cannot be named ${name}`);
  }
  if (book.sheets.some((sheet) => sheet.name.toLowerCase() === name.toLowerCase())) {
    throw new Fault("ItemAlreadyExists", `there is a sheet ${name}`);
  }
  const sheet = newSheet(freshId(book), name);
  book.sheets.push(sheet);
  book.written.push(`add ${name}`);
  return sheet;
}

function filterThing(book: BookModel, sheet: SheetModel): Thing {
  const { filter } = sheet;
  return thing({
    kind: "AutoFilter",
    get: { enabled: () => filter !== null, isDataFiltered: () => filter?.active ?? false },
    call: {
      getRangeOrNullObject: () =>
        filter === null ? null : rangeThing({ book, sheet, area: filter.area }),
      remove: () => {
        mayChange(sheet);
        sheet.filter = null;
        book.written.push(`unfilter ${sheet.name}`);
      },
      apply: (address) => {
        mayChange(sheet);
        if (sheet.filter !== null) throw new Fault("InvalidOperation", "there is a filter");
        sheet.filter = { area: areaAt(textOf(address)), active: false };
        book.written.push(`filter ${sheet.name}`);
      },
    },
  });
}

function pageThing(sheet: SheetModel): Thing {
  const layout = bag("PageLayout", ["orientation", "zoom"], sheet.page);
  const pages = bag("HeaderFooter", ["leftFooter", "centerFooter", "rightFooter"], sheet.page);
  const all = thing({
    kind: "HeaderFooterGroup",
    get: { defaultForAllPages: () => pages },
  });
  return thing({
    ...layout,
    get: { ...layout.get, headersFooters: () => all },
    call: {
      setPrintMargins: (unit, margins) => {
        mayChange(sheet);
        sheet.page.set(`margins in ${textOf(unit)}`, margins);
      },
      setPrintTitleColumns: (columns) => {
        mayChange(sheet);
        sheet.page.set("title columns", textOf(columns));
      },
      setPrintTitleRows: (rows) => {
        mayChange(sheet);
        sheet.page.set("title rows", areaAt(textOf(rows)));
      },
    },
  });
}
