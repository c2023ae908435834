import { isOwnDue } from "../../records/own-limits.ts";
import { isLastDone } from "../../records/positions.ts";
import { listed, notice } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { address, cellKey } from "../../workbook/snapshot.ts";
import type { Named } from "../devices/devices.ts";
import type { Found } from "../register/register.ts";

/** A file's name, or its number among a book's links, before a sheet: "'[log.xlsx]Sheet1'!C2", "[1]Sheet1!C2". */
const OTHER_FILE = /\[[^\]]+\][^!'"]*'?!/u;
/** A cell alone, of the same sheet. */
const CELL = /^\$?[A-Z]{1,3}\$?(\d{1,7})$/i;

/** Dates of last replacements, and own due dates, that are links: to another file, of which only the last known value is here, or to another row. */
export function linkedDates(
  { page: { sheet }, register }: Found,
  named: readonly Named[],
): Problem[] {
  if (sheet.formulas.size === 0) return [];
  return register.matches.flatMap(({ field, column, heading }): Problem[] => {
    if (!isLastDone(field) && !isOwnDue(field)) return [];
    const formulas = named.flatMap(({ row, retired }) => {
      const formula = sheet.formulas.get(cellKey(row, column));
      return formula === undefined || retired ? [] : [{ row, formula, at: address(row, column) }];
    });
    const place = { sheet: sheet.name, row: null, column, heading };
    const say = (cells: typeof formulas, are: string): Problem[] =>
      cells.length === 0
        ? []
        : [notice("linked date", place, `${listed(cells.map(({ at }) => at))} ${are}`, FIX)];
    const ofRow = ({ row, formula }: (typeof formulas)[number]): boolean => {
      const other = CELL.exec(formula)?.[1];
      return other !== undefined && Number(other) !== row + 1;
    };
    return [
      ...say(
        formulas.filter(({ formula }) => OTHER_FILE.test(formula)),
        "is taken from another file: what it was when that was last read counts.",
      ),
      ...say(
        formulas.filter(ofRow),
        "takes the date of another row, which may be another device's.",
      ),
    ];
  });
}

const FIX = "Type the date itself, where that is not meant.";
