import { type Area, cellKey } from "../../src/book/workbook/snapshot.ts";
import {
  addressOf,
  areaAt,
  type Block,
  formulaTold,
  kindTold,
  meet,
  readBlock,
  sizeOf,
  typeBlock,
  usedArea,
  valueTold,
  writeBlock,
} from "./block.ts";
import { copyFormula } from "./copy.ts";
import { freshId, type Laid, mayChange, type SheetModel } from "./model.ts";
import { bag, Fault, member, textOf, type Thing, thing, thingOf, wholeOf } from "./thing.ts";

/** Merged areas in a range beyond which Excel fails to answer (Excel's documentation of the call). */
const MOST_MERGED = 512;

/** A range of cells. */
export function rangeThing(block: Block): Thing {
  const { book, sheet, area } = block;
  const { rows, columns } = sizeOf(area);
  return thing({
    kind: "Range",
    get: {
      address: () => addressOf(block),
      rowIndex: () => area.firstRow,
      columnIndex: () => area.firstColumn,
      rowCount: () => rows,
      columnCount: () => columns,
      cellCount: () => rows * columns,
      values: () => readBlock(block, valueTold(book)),
      formulas: () => readBlock(block, formulaTold(book)),
      valueTypes: () => readBlock(block, kindTold(book)),
      numberFormat: () => readBlock(block, (cell) => cell?.format ?? "General"),
      rowHidden: () => hidden(sheet.hiddenRows, area.firstRow, area.lastRow),
      columnHidden: () => hidden(sheet.hiddenColumns, area.firstColumn, area.lastColumn),
      worksheet: () => thing({ kind: "Worksheet", id: sheet.id, get: { name: () => sheet.name } }),
      format: () => formatThing(block),
      conditionalFormats: () => rulesThing(block),
      dataValidation: () => choicesThing(block),
    },
    set: {
      columnHidden: (given) => {
        mayChange(sheet);
        for (let column = area.firstColumn; column <= area.lastColumn; column += 1) {
          if (given === true) sheet.hiddenColumns.add(column);
          else sheet.hiddenColumns.delete(column);
        }
      },
      values: (given) => {
        typeBlock(block, given);
      },
      formulas: (given) => {
        typeBlock(block, given);
      },
      numberFormat: (given) => {
        writeBlock(block, given, (cell, one) => {
          cell.format = textOf(one);
        });
        book.written.push(`format ${addressOf(block)}`);
      },
    },
    call: {
      select: () => {
        book.selection = { sheet, area };
      },
      clear: (what = "All") => {
        clear(block, textOf(what));
      },
      getUsedRangeOrNullObject: (valuesOnly) => {
        const used = usedArea(sheet, valuesOnly === true, area);
        return used === null ? null : rangeThing({ ...block, area: used });
      },
      copyFrom: (source, what) => {
        if (what !== "Formulas")
          throw new Fault("InvalidArgument", "only formulas are copied here");
        const from = areaAt(textOf(member(thingOf(source).get, "address", "Range")()));
        copyFormula(block, from);
      },
      // The script cuts large writes into pieces of its own with the next three.
      _ValidateArraySize: (tall, wide) => {
        if (tall !== rows || wide !== columns) {
          throw new Fault("InvalidArgument", `the values must be ${rows} by ${columns}`);
        }
      },
      getRow: (at) => {
        const row = area.firstRow + wholeOf(at);
        return rangeThing({ ...block, area: { ...area, firstRow: row, lastRow: row } });
      },
      getBoundingRect: (other) => {
        const to = areaAt(textOf(member(thingOf(other).get, "address", "Range")()));
        return rangeThing({ ...block, area: around(area, to) });
      },
      getMergedAreasOrNullObject: () => {
        const merged = sheet.merges.filter((one) => meet(one, area));
        if (merged.length > MOST_MERGED) {
          throw new Fault("GeneralException", `${merged.length} merged areas`);
        }
        return merged.length === 0 ? null : areasThing(block, merged);
      },
    },
  });
}

/** The smallest area that holds both. */
function around(one: Area, other: Area): Area {
  return {
    firstRow: Math.min(one.firstRow, other.firstRow),
    firstColumn: Math.min(one.firstColumn, other.firstColumn),
    lastRow: Math.max(one.lastRow, other.lastRow),
    lastColumn: Math.max(one.lastColumn, other.lastColumn),
  };
}

/** All, none or, as null, some of a stretch. */
function hidden(among: ReadonlySet<number>, first: number, last: number): boolean | null {
  let found = 0;
  for (let at = first; at <= last; at += 1) if (among.has(at)) found += 1;
  if (found === 0) return false;
  return found === last - first + 1 ? true : null;
}

function areasThing(block: Block, areas: readonly Area[]): Thing {
  const ranges = areas.map((area) => rangeThing({ ...block, area }));
  const list = thing({ kind: "RangeCollection", items: () => ranges });
  return thing({ kind: "RangeAreas", get: { areas: () => list, areaCount: () => areas.length } });
}

function clear(block: Block, what: string): void {
  const { book, sheet, area } = block;
  const typed = what === "Formats" ? {} : { value: null, formula: null };
  const looks = what === "Contents" ? {} : { format: "General" };
  const filled = readBlock(block, (cell) => (cell === undefined ? null : 0));
  writeBlock(block, filled, (cell) => Object.assign(cell, typed, looks));
  book.written.push(`clear ${what} ${addressOf(block)}`);
  if (what === "Contents") return;
  for (const place of [...sheet.looks.keys()]) {
    const [top = 0, left = 0] = place.split(" ").map(Number);
    if (meet(area, { firstRow: top, firstColumn: left, lastRow: top, lastColumn: left })) {
      sheet.looks.delete(place);
    }
  }
}

/** Whether all or none of an area is struck through; null where some of it is. */
function struck(sheet: SheetModel, area: Area): boolean | null {
  if (sheet.struck.size + sheet.struckInPart.size === 0) return false;
  let found = 0;
  for (let row = area.firstRow; row <= area.lastRow; row += 1) {
    for (let column = area.firstColumn; column <= area.lastColumn; column += 1) {
      if (sheet.struckInPart.has(cellKey(row, column))) return null;
      if (sheet.struck.has(cellKey(row, column))) found += 1;
    }
  }
  const { rows, columns } = sizeOf(area);
  if (found === 0) return false;
  return found === rows * columns ? true : null;
}

/** How a range looks: kept by the range it was set for. */
function formatThing({ sheet, area }: Block): Thing {
  const place = Object.values(area).join(" ");
  const kept = sheet.looks.get(place) ?? new Map<string, unknown>();
  const noted = (names: readonly string[], kind: string): Thing => {
    const made = bag(kind, names, kept);
    const set = Object.entries(made.set ?? {}).map(([name, put]) => [
      name,
      (value: unknown) => {
        mayChange(sheet);
        sheet.looks.set(place, kept);
        put(value);
      },
    ]);
    return thing({ ...made, set: Object.fromEntries(set) as NonNullable<Thing["set"]> });
  };
  const own = noted(
    [
      ...["wrapText", "verticalAlignment", "columnWidth"],
      ...["horizontalAlignment", "indentLevel", "rowHeight", "textOrientation"],
    ],
    "RangeFormat",
  );
  const fill = noted(["color"], "RangeFill");
  return thing({
    ...own,
    get: {
      ...own.get,
      font: () => {
        const font = noted(["bold", "italic", "color", "size"], "RangeFont");
        return thing({ ...font, get: { ...font.get, strikethrough: () => struck(sheet, area) } });
      },
      fill: () =>
        thing({ ...fill, get: { color: () => kept.get("RangeFill.color") ?? "#FFFFFF" } }),
      borders: () =>
        thing({
          kind: "RangeBorderCollection",
          item: (key) => noted(["color", "style"], `RangeBorder ${textOf(key)}`),
        }),
    },
  });
}

function rulesThing({ book, sheet, area }: Block): Thing {
  return thing({
    kind: "ConditionalFormatCollection",
    items: () => sheet.rules.filter((rule) => meet(rule.area, area)).map(ruleThing),
    call: {
      add: (type) => {
        mayChange(sheet);
        const rule = { id: freshId(book), area, kept: new Map([["type", type]]) };
        sheet.rules.push(rule);
        return ruleThing(rule);
      },
      clearAll: () => {
        mayChange(sheet);
        sheet.rules = sheet.rules.filter((rule) => !meet(rule.area, area));
      },
    },
  });
}

function ruleThing({ id, kept }: Laid): Thing {
  const custom = thing({
    kind: "CustomConditionalFormat",
    get: {
      rule: () => bag("ConditionalFormatRule", ["formula"], kept),
      format: () => {
        const own = bag("ConditionalRangeFormat", ["numberFormat"], kept);
        const font = (): Thing => bag("ConditionalRangeFont", ["bold", "color"], kept);
        const fill = (): Thing => bag("ConditionalRangeFill", ["color"], kept);
        return thing({ ...own, get: { ...own.get, font, fill } });
      },
    },
  });
  return thing({ kind: "ConditionalFormat", id, get: { id: () => id, custom: () => custom } });
}

function choicesThing({ book, sheet, area }: Block): Thing {
  const key = JSON.stringify(area);
  const there = sheet.choices.find((one) => JSON.stringify(one.area) === key);
  const laid = there ?? { id: freshId(book), area, kept: new Map<string, unknown>() };
  const made = bag("DataValidation", ["rule", "ignoreBlanks", "errorAlert"], laid.kept);
  return thing({
    ...made,
    set: Object.fromEntries(
      Object.entries(made.set ?? {}).map(([name, put]) => [
        name,
        (value: unknown) => {
          mayChange(sheet);
          if (!sheet.choices.includes(laid)) sheet.choices.push(laid);
          put(value);
        },
      ]),
    ),
    call: {
      clear: () => {
        mayChange(sheet);
        sheet.choices = sheet.choices.filter((one) => !meet(one.area, area));
      },
    },
  });
}
