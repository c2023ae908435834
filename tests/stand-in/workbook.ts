import { civilDay, toSerial } from "../../src/core/day.ts";
import type { BookModel } from "./model.ts";
import { calculate } from "./block.ts";
import { namesThing } from "./names.ts";
import { rangeThing } from "./range.ts";
import { sheetsThing } from "./sheet.ts";
import { allTablesThing } from "./tables.ts";
import { Fault, textOf, type Thing, thing, wholeOf } from "./thing.ts";

/** The workbook itself, where every path begins. */
export function workbookThing(book: BookModel): Thing {
  return thing({
    kind: "Workbook",
    get: {
      worksheets: () => sheetsThing(book),
      names: () => namesThing(book, book.temper.rendersAnew),
      tables: () => allTablesThing(book),
      functions: () => functionsThing(book),
      protection: () =>
        thing({ kind: "WorkbookProtection", get: { protected: () => book.temper.isFixed } }),
      application: () =>
        thing({
          kind: "Application",
          get: { calculationMode: () => (book.temper.isManual ? "Manual" : "Automatic") },
          call: {
            calculate: (how) => {
              for (const sheet of book.sheets) {
                for (const [key, cell] of sheet.cells) calculate(book, sheet, key, cell);
              }
              book.written.push(`calculate ${textOf(how)}`);
            },
            suspendApiCalculationUntilNextSync: () => undefined,
          },
        }),
    },
    call: {
      getSelectedRange: () => {
        const { selection } = book;
        if (selection === null) throw new Fault("InvalidSelection", "no range is selected");
        return rangeThing({ book, ...selection });
      },
    },
  });
}

/** Excel's own functions, as far as they are asked: a date's number. */
function functionsThing(book: BookModel): Thing {
  return thing({
    kind: "Functions",
    call: {
      date: (year, month, day) => {
        const known = civilDay(wholeOf(year), wholeOf(month), wholeOf(day));
        const value = toSerial(known, book.date1904 ? 1904 : 1900);
        return thing({ kind: "FunctionResult", get: { value: () => value } });
      },
    },
  });
}
