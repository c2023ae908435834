import { type Answers } from "../answers/answers.ts";
import type { Reading, Register } from "../records/records.ts";
import { eachRegister } from "../records/registers.ts";
import {
  type CellValue,
  columnLetters,
  sheetInFormula,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../workbook/snapshot.ts";
import { computedTitle } from "../answers/titles.ts";
import { judge } from "../columns/judge.ts";
import type { Result } from "../sheets/result.ts";
import { type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";

const DATE = "yyyy-mm-dd";

/** A part of a device with what was computed. */
interface Compared extends Pick<Answers, "due" | "state"> {
  readonly device: CellValue;
  readonly part: string;
}

/** The Self-test sheet: what was computed beside what the native formulas say, row by row. */
function sheetOf(due: string, state: string) {
  return resultSheet({
    name: "Self-test",
    title: "Self-test: computed and native results",
    table: "SpareSelfTest",
    about: "each due date and state as computed, beside the results of the workbook's own formulas",
    room: 100_000,
    columns: {
      Device: { width: 16, about: "As in the register.", cell: ({ device }) => device },
      Part: { width: 22, about: "Name from Parts.", cell: ({ part }) => part },
      "Due computed": {
        width: 14,
        format: DATE,
        about: "When the copy was made.",
        cell: (row) => row.due ?? "",
      },
      "Due in the register": {
        width: 18,
        format: DATE,
        formula: () => due,
        about: "By formula.",
        cell: (row) => row.due ?? "",
      },
      "State computed": {
        width: 16,
        about: "When the copy was made.",
        cell: (row) => row.state,
      },
      "State in the register": {
        width: 20,
        formula: () => state,
        about: "By formula.",
        cell: (row) => row.state,
      },
      Agree: {
        width: 10,
        formula: (of) =>
          `IF(AND(${of("Due computed")}&""=${of("Due in the register")}&"",${of("State computed")}=${of("State in the register")}),"yes","NO")`,
        about: "yes, until a date or a setting is changed.",
        cell: () => "yes",
      },
    } satisfies ResultColumns<Compared>,
  });
}

/** The Self-test sheet of a book with computed columns; null where there is nothing to compare. */
export function selfTestSheet(snapshot: Snapshot, reading: Reading): Result | null {
  const { ours } = reading;
  const rows = comparedRows(snapshot, reading);
  const [any] = ours.parts;
  if (rows.length === 0 || any === undefined) return null;
  const found = (column: "due" | "state"): string =>
    lookup(snapshot, reading, computedTitle(any, column).slice(any.name.length));
  return sheetOf(found("due"), found("state")).filled({
    reportDate: ours.settings.reportDate,
    notes: [
      `${rows.length} results compared; all agree if column Agree shows yes in every row.`,
      "A NO after a date or a setting was changed is not a fault: the computed result does not change.",
    ],
    rows,
  });
}

/** A cell by device and heading, in whichever register and wherever sorting has put its row. */
function lookup(snapshot: Snapshot, reading: Reading, words: string): string {
  return eachRegister(reading).reduceRight((rest, { register }) => {
    const found = lookupIn(snapshot, register, words);
    return found === null ? rest : `IFERROR(${found},${rest})`;
  }, '""');
}

function lookupIn(snapshot: Snapshot, register: Register, words: string): string | null {
  const sheet = sheetNamed(snapshot, register.sheet);
  const device = deviceColumn(register);
  if (sheet === null || device === null) return null;
  const name = sheetInFormula(register.sheet);
  const width = sheet.values[register.headerRow]?.length ?? 0;
  const [first, last] = [register.headerRow + 1, (register.rows.at(-1) ?? register.headerRow) + 1];
  const [from, to] = ["A", columnLetters(Math.max(width - 1, 0))];
  const at = columnLetters(device);
  const cells = `${name}!$${from}$${first}:$${to}$${last}`;
  const devices = `${name}!$${at}$${first}:$${at}$${last}`;
  const headings = `${name}!$${from}$${first}:$${to}$${first}`;
  return `INDEX(${cells},MATCH($A{r},${devices},0),MATCH($B{r}&"${words}",${headings},0))`;
}

function deviceColumn({ matches }: Register): number | null {
  return matches.find(({ field }) => field === "device")?.column ?? null;
}

/** Device, part and results; devices that stand twice cannot be told apart by a formula. */
function comparedRows(snapshot: Snapshot, reading: Reading): Compared[] {
  const { registers } = judge(snapshot, reading);
  const counts = new Map<string, number>();
  for (const { key } of reading.devices) counts.set(key, (counts.get(key) ?? 0) + 1);
  return registers.flatMap(({ facts, parts, rows }) => {
    const column = deviceColumn(facts.reading.register);
    if (column === null) return [];
    return parts.flatMap((part) => {
      if (facts.columnTitled(computedTitle(part, "due")) === null) return [];
      return rows(part).flatMap(({ device, answers: { due, state } }): Compared[] => {
        if (counts.get(device.key) !== 1) return [];
        return [{ device: valueAt(facts.sheet, device.row, column), part: part.name, due, state }];
      });
    });
  });
}
