import { sheetHolds } from "./columns-mean.ts";
import { COLUMNS_MEAN } from "../answers/columns-mean.ts";
import { OUR_SHEETS, READ_ME } from "./our-sheets.ts";
import { ALL_CAUTIONS } from "../records/cautions.ts";
import type { Edit, SheetCell } from "../workbook/plan.ts";
import { type Sheet, type Snapshot, valueAt } from "../workbook/snapshot.ts";
import { FOOTER, isEntitled, type Layout } from "./layout.ts";
import { onPaper } from "./paper.ts";
import { highRow, tableWidth, widthOf } from "./shape.ts";

const CHANGES_HEADING = "Last changes";
const MOST_CHANGES = 20;

/** The two columns of a sheet of sentences: a topic, and what is said of it. */
export const WORDS = [
  { heading: "", width: 24 },
  { heading: "", width: 86, wraps: true },
] as const;

const YOURS =
  "The register is yours. Sparespan added columns at its right edge and the sheets below; nothing else was moved, renamed or re-formatted.";

/** What the workbook is for, by how its columns were written. */
export const PURPOSES = {
  portable: `${YOURS} The columns work without any add-in.`,
  live: `${YOURS} The columns need the Sparespan add-in.`,
  values: `${YOURS} The columns hold values; run columns again to update them.`,
  new: "An empty register. Fill in its rows, then let Sparespan add the due dates and states: sparespan columns.",
} as const;

const REPORT_DATE_NOTE =
  "States are judged as of the Report date in Setup, which does not move by itself: type a new date there, or run columns again.";

const JOB_LOG_NOTE =
  "What is typed into the Job log or as counts by hand, a finding too, reaches the columns of the register only when columns runs again.";

/** The Read me sheet, whatever else of ours is there. */
export function readMeSheet(snapshot: Snapshot): Sheet | null {
  return snapshot.sheets.find((sheet) => isEntitled(sheet, READ_ME)) ?? null;
}

/** The edits that make the Read me sheet. */
export function makeReadMe(name: string, purpose: string, change: string): Edit[] {
  const cells: SheetCell[] = [{ row: 0, column: 0, value: READ_ME.title, look: "title" }];
  const heights: ReturnType<typeof highRow> = [];
  let row = 2;
  const section = (heading: string, lines: readonly (readonly [string, string])[]): void => {
    cells.push({ row, column: 0, value: heading, look: "heading" });
    cells.push({ row, column: 1, value: null, look: "heading" });
    for (const [topic, text] of lines) {
      row += 1;
      cells.push({ row, column: 0, value: topic, look: "plain" });
      cells.push({ row, column: 1, value: text, look: "note", wraps: true });
      heights.push(...highRow(WORDS, [topic, text], row));
    }
    row += 2;
  };
  const sheet = ({ name, about = sheetHolds(name) }: Layout): readonly [string, string] => [
    name,
    about,
  ];
  section("Purpose", [
    ["What this is", purpose],
    ["Report date", REPORT_DATE_NOTE],
    ["Job log, counts", JOB_LOG_NOTE],
  ]);
  section("Sheets", OUR_SHEETS.map(sheet));
  section("Columns", COLUMNS_MEAN);
  section(
    "Cautions",
    ALL_CAUTIONS.map((text, at) => [String(at + 1), text]),
  );
  section(CHANGES_HEADING, [["1", change]]);
  return [
    { kind: "addSheet", sheet: name, cells, widths: WORDS.map(widthOf), heights, freezeRows: 1 },
    onPaper(name, tableWidth(WORDS), { titleRows: null, footer: FOOTER }),
  ];
}

/** The edit that puts a change on top of the list, keeping the last twenty. */
export function changeEdits(sheet: Sheet, change: string): Edit[] {
  const heading = sheet.values.findIndex((row) => row[0] === CHANGES_HEADING);
  if (heading < 0) return [];
  const before: string[] = [];
  for (let row = heading + 1; row < sheet.values.length; row += 1) {
    const text = valueAt(sheet, row, 1);
    if (typeof text === "string") before.push(text);
  }
  const changes = [change, ...before].slice(0, MOST_CHANGES);
  const rows = changes.map((_, at) => heading + 1 + at);
  return [
    {
      kind: "fillCells",
      sheet: sheet.name,
      blocks: [
        { column: 0, rows, values: rows.map((_, at) => String(at + 1)) },
        { column: 1, rows, values: changes },
      ],
      expects: { headers: [{ row: heading, column: 0, text: CHANGES_HEADING }] },
    },
  ];
}
