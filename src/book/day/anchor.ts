import { toSerial } from "../../core/day.ts";
import { allLastColumns, lastColumns } from "../records/positions.ts";
import type { ColumnMatch, Reading, Register } from "../records/records.ts";
import { registerOf } from "../records/registers.ts";
import { dateFormatIn, type Page, pageNamed, quoted } from "../workbook/cells.ts";
import { fingerprint } from "../workbook/expect.ts";
import type { ColumnCells, Edit } from "../workbook/plan.ts";
import { cellKey, type Snapshot, valueAt } from "../workbook/snapshot.ts";
import type { Renewal } from "./before.ts";

interface Moved {
  readonly edits: readonly Edit[];
  readonly notes: readonly string[];
}

/** The register's own dates of the part, moved to the day of the job unless they are later already. */
export function anchorEdits(snapshot: Snapshot, reading: Reading, renewal: Renewal): Moved {
  const register = registerOf(reading, renewal.device);
  const page = pageNamed(snapshot, register.sheet);
  const key = register.matches.find(({ field }) => field === "device");
  if (page === null || key === undefined) return { edits: [], notes: [] };
  const { part } = renewal;
  const columns =
    part.position === undefined ? allLastColumns(register, part) : lastColumns(register, part);
  const moved = columns.map((match) =>
    anchorEdit(snapshot, renewal, { register, page, match, key }),
  );
  return {
    edits: moved.flatMap(({ edits }) => edits),
    notes: moved.flatMap(({ notes }) => notes),
  };
}

interface Anchor {
  readonly register: Register;
  readonly page: Page;
  readonly match: ColumnMatch;
  readonly key: ColumnMatch;
}

function anchorEdit(
  snapshot: Snapshot,
  { entry, device }: Renewal,
  { register, page, match, key }: Anchor,
): Moved {
  const { sheet } = page;
  const there = valueAt(sheet, device.row, match.column);
  const serial = toSerial(entry.date, snapshot.dateSystem);
  const where = `${register.sheet}, "${match.heading}"`;
  if (sheet.formulas.has(cellKey(device.row, match.column))) {
    return { edits: [], notes: [`${where} holds a formula; it was left as it is.`] };
  }
  if (typeof there === "number" && there > serial) {
    return { edits: [], notes: [`${where} holds a later date; it was left as it is.`] };
  }
  const notes =
    typeof there === "string" && there.trim() !== ""
      ? [`${where} held the text ${quoted(there)}; it now holds the date of the job.`]
      : [];
  const block: ColumnCells = {
    column: match.column,
    rows: [device.row],
    values: [serial],
    format: dateFormatIn(snapshot, page, match.column),
  };
  const heading = valueAt(sheet, register.headerRow, match.column);
  const edit: Edit = {
    kind: "fillCells",
    sheet: sheet.name,
    blocks: [block],
    expects: {
      unfiltered: true,
      headers:
        typeof heading === "string"
          ? [{ row: register.headerRow, column: match.column, text: heading }]
          : [],
      key: {
        column: key.column,
        rows: [device.row],
        fingerprint: fingerprint([valueAt(sheet, device.row, key.column)]),
      },
    },
  };
  return { edits: [edit], notes };
}
