import { type Area, cellKey, isCellError } from "../../src/book/workbook/snapshot.ts";
import { areaAt, meet } from "./block.ts";
import { type BookModel, freshId, mayChange, type SheetModel, type TableModel } from "./model.ts";
import { rangeThing } from "./range.ts";
import { Fault, isThing, textOf, type Thing, thing } from "./thing.ts";

/** The tables of the whole workbook, by which the script finds a table again. */
export function allTablesThing(book: BookModel): Thing {
  const all = (): Thing[] =>
    book.sheets.flatMap((sheet) => sheet.tables.map((table) => tableThing(book, sheet, table)));
  return thing({
    kind: "TableCollection",
    items: all,
    item: (key) => {
      const sheet = book.sheets.find(({ tables }) => tables.some((one) => isCalled(one, key)));
      if (sheet === undefined) throw new Fault("ItemNotFound", `no table ${textOf(key)}`);
      return tableAt(book, sheet, key);
    },
  });
}

function isCalled({ id, name }: TableModel, key: unknown): boolean {
  return id === key || name.toLowerCase() === textOf(key).toLowerCase();
}

function tableAt(book: BookModel, sheet: SheetModel, key: unknown): Thing {
  const found = sheet.tables.find((table) => isCalled(table, key));
  if (found === undefined) throw new Fault("ItemNotFound", `no table ${textOf(key)}`);
  return tableThing(book, sheet, found);
}

/** The tables of a sheet. */
export function tablesThing(book: BookModel, sheet: SheetModel): Thing {
  return thing({
    kind: "TableCollection",
    items: () => sheet.tables.map((table) => tableThing(book, sheet, table)),
    item: (key) => tableAt(book, sheet, key),
    call: {
      add: (address, headed) => {
        mayChange(sheet);
        if (headed !== true) throw new Fault("InvalidArgument", "a table here has headings");
        const area = areaAt(textOf(address));
        checkArea(sheet, area, null);
        const count = book.sheets.reduce((sum, { tables }) => sum + tables.length, 1);
        const id = freshId(book);
        const table = { id, name: `Table${count}`, area, totals: false, filtered: false };
        sheet.tables.push(table);
        settleHeadings(sheet, area);
        return tableThing(book, sheet, table);
      },
    },
  });
}

function tableThing(book: BookModel, sheet: SheetModel, table: TableModel): Thing {
  return thing({
    kind: "Table",
    id: table.id,
    get: {
      id: () => table.id,
      name: () => table.name,
      showTotals: () => table.totals,
      autoFilter: () =>
        thing({
          kind: "AutoFilter",
          get: { enabled: () => true, isDataFiltered: () => table.filtered },
        }),
    },
    set: {
      style: (given) => {
        sheet.page.set(`style ${table.id}`, textOf(given));
      },
      showFilterButton: (given) => {
        sheet.page.set(`buttons ${table.id}`, String(given === true));
      },
      name: (given) => {
        rename(book, table, textOf(given));
      },
    },
    call: {
      getRange: () => rangeThing({ book, sheet, area: table.area }),
      getHeaderRowRange: () =>
        rangeThing({ book, sheet, area: { ...table.area, lastRow: table.area.firstRow } }),
      resize: (to) => {
        mayChange(sheet);
        if (isThing(to)) throw new Fault("InvalidArgument", "an address must be given");
        const area = areaAt(textOf(to));
        if (area.firstRow !== table.area.firstRow || !meet(area, table.area)) {
          throw new Fault("InvalidArgument", "a table keeps its heading row");
        }
        checkArea(sheet, area, table);
        table.area = area;
        settleHeadings(sheet, area);
      },
    },
  });
}

function rename(book: BookModel, table: TableModel, name: string): void {
  const wanted = name.toLowerCase();
  const others = book.sheets.flatMap(({ tables }) => tables.filter((one) => one !== table));
  if (
    others.some((one) => one.name.toLowerCase() === wanted) ||
    book.names.some((one) => one.name.toLowerCase() === wanted)
  ) {
    throw new Fault("ItemAlreadyExists", `there is a name ${name}`);
  }
  if (!/^[\p{L}_\\][\p{L}\p{N}_.\\]*$/u.test(name)) {
    throw new Fault("InvalidArgument", `${name} is no table name`);
  }
  table.name = name;
}

function checkArea(sheet: SheetModel, area: Area, self: TableModel | null): void {
  if (sheet.tables.some((table) => table !== self && meet(table.area, area))) {
    throw new Fault("InvalidArgument", "a table cannot overlap another");
  }
  if (sheet.merges.some((merge) => meet(merge, area))) {
    throw new Fault("InvalidArgument", "a table cannot hold merged cells");
  }
  if (area.lastRow === area.firstRow) {
    throw new Fault("InvalidArgument", "a table has at least one row below its headings");
  }
}

/** Headings become texts; blank and repeated ones get a name of the table's own. */
function settleHeadings(sheet: SheetModel, area: Area): void {
  const seen = new Set<string>();
  for (let column = area.firstColumn; column <= area.lastColumn; column += 1) {
    const key = cellKey(area.firstRow, column);
    const cell = sheet.cells.get(key) ?? { value: null, formula: null, format: "General" };
    const { value } = cell;
    let text = isCellError(value) ? value.error : String(value ?? "");
    if (text === "") text = `Column${column - area.firstColumn + 1}`;
    while (seen.has(text.toLowerCase())) text += "2";
    seen.add(text.toLowerCase());
    sheet.cells.set(key, { ...cell, value: text, formula: null });
  }
}
