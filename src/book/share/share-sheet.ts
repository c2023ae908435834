import { READ_FIRST } from "../sheets/our-sheets.ts";
import { WORDS } from "../sheets/read-me.ts";
import { ALL_CAUTIONS } from "../records/cautions.ts";
import type { Edit, SheetCell } from "../workbook/plan.ts";
import { type Sheet, type Snapshot, valueAt } from "../workbook/snapshot.ts";
import { FOOTER, freeName } from "../sheets/layout.ts";
import { onPaper } from "../sheets/paper.ts";
import { highRow, tableWidth, widthOf } from "../sheets/shape.ts";

/** The sheet of a copy that says what the copy is. */

const FIRST = 2;

/** The edits that make the sheet, or rewrite it where a copy is copied. */
export function readFirstEdits(
  snapshot: Snapshot,
  lines: readonly (readonly [string, string])[],
): Edit[] {
  const rows = [...lines, ...ALL_CAUTIONS.map((text, at) => [`Caution ${at + 1}`, text] as const)];
  const there = readFirstSheet(snapshot);
  if (there !== null) return [rewritten(there, rows)];
  const name = freeName(snapshot, READ_FIRST.name);
  const cells: SheetCell[] = [
    { row: 0, column: 0, value: READ_FIRST.title, look: "title" },
    ...rows.flatMap(([topic, text], at): SheetCell[] => [
      { row: FIRST + at, column: 0, value: topic, look: "plain" },
      { row: FIRST + at, column: 1, value: text, look: "note", wraps: true },
    ]),
  ];
  return [
    {
      kind: "addSheet",
      sheet: name,
      cells,
      widths: WORDS.map(widthOf),
      heights: rows.flatMap((row, at) => highRow(WORDS, row, FIRST + at)),
      freezeRows: 1,
    },
    onPaper(name, tableWidth(WORDS), { titleRows: null, footer: FOOTER }),
  ];
}

/** What the sheet will be called in the copy. */
export function readFirstName(snapshot: Snapshot): string {
  return readFirstSheet(snapshot)?.name ?? freeName(snapshot, READ_FIRST.name);
}

function readFirstSheet(snapshot: Snapshot): Sheet | null {
  return snapshot.sheets.find((sheet) => valueAt(sheet, 0, 0) === READ_FIRST.title) ?? null;
}

/** Rows of an earlier copy that are no longer needed are blanked. */
function rewritten(sheet: Sheet, lines: readonly (readonly [string, string])[]): Edit {
  const count = Math.max(lines.length, sheet.values.length - FIRST);
  const rows = Array.from({ length: count }, (_, at) => FIRST + at);
  return {
    kind: "fillCells",
    sheet: sheet.name,
    blocks: [0, 1].map((column) => ({
      column,
      rows,
      values: rows.map((_, at) => lines[at]?.[column] ?? null),
    })),
    expects: { headers: [{ row: 0, column: 0, text: READ_FIRST.title }] },
  };
}
