import type { Edit, Look, Plan, SheetCell } from "../workbook/plan.ts";
import type { Programme } from "./programme.ts";
import { MONTHS, programme, REPORT_DATE } from "./programme.ts";
import { countsDraft, type DraftSheet, equipmentDraft, HEADER_ROW } from "./draft.ts";
import { type Answer, plantFaults } from "./faults.ts";
import { HOLIDAYS, holidayRows } from "../sheets/holidays.ts";
import { makeSheet } from "../sheets/make-sheet.ts";
import { partRows, PARTS } from "../sheets/parts.ts";
import { SETUP } from "../sheets/setup.ts";
import { setupRows } from "../sheets/setup-rows.ts";
import { SHELF } from "../sheets/shelf.ts";
import { siteRows, SITES } from "../sheets/sites.ts";
import { JOB_LOG } from "../sheets/job-log.ts";
import { defaultSettings } from "../records/settings.ts";

/** The seed of the demonstration that is shown; any other gives another invented programme. */
export const DEMO_SEED = 20260706;

/** Invented: the fiscal year begins in July, prices rise by 3% a year. */
const ORDERS = { fiscalStart: 7, priceRise: 0.03, coverage: 0.985, freight: 12 } as const;

/** A demonstration workbook as a plan for an empty book. */
export interface DemoBook {
  readonly plan: Plan;
  /** Every planted fault; empty for the clean book. */
  readonly answers: readonly Answer[];
}

/** The clean book, or the same programme as an untidy year leaves it. */
export function demoBook(seed: number, dirty: boolean): DemoBook {
  const given = programme(seed);
  const equipment = equipmentDraft(given);
  const counts = countsDraft(given);
  const book = {
    programme: given,
    equipment,
    counts,
    jobs: [...given.jobs],
    sites: [...given.sites],
  };
  const answers = dirty ? plantFaults(book, seed) : [];
  const usual = defaultSettings(REPORT_DATE);
  const settings = { ...usual, zeroCounts: true, ...ORDERS };
  const edits: Edit[] = [
    draftEdit(equipment),
    draftEdit(counts),
    ...makeSheet(SETUP, SETUP.name, setupRows(settings, { dateSystem: 1900 })),
    ...makeSheet(PARTS, PARTS.name, partRows(given.parts)),
    ...makeSheet(SITES, SITES.name, siteRows(book.sites)),
    ...makeSheet(HOLIDAYS, HOLIDAYS.name, holidayRows(given.holidays, 1900)),
    ...makeSheet(JOB_LOG, JOB_LOG.name, book.jobs.map(jobRow)),
    ...makeSheet(SHELF, SHELF.name, given.shelf),
  ];
  return {
    plan: {
      summary: `the demonstration programme, ${dirty ? "untidy" : "clean"}, seed ${seed}`,
      edits,
    },
    answers,
  };
}

function jobRow(job: Programme["jobs"][number]) {
  const { date, device, part, finding, complete, lot, by } = job;
  return [date, device, part, job.job, finding || null, complete || null, lot || null, by, null];
}

function draftEdit(draft: DraftSheet): Edit {
  const cells = draft.rows.flatMap((values, row) =>
    values.flatMap((value, column): SheetCell[] => {
      if (value === null) return [];
      const format = formatAt(draft, row, column);
      const formula = formulaAt(draft, row, column);
      return [
        {
          row,
          column,
          value,
          look: lookAt(draft, row),
          ...(format === null ? {} : { format }),
          ...(formula === null ? {} : { formula: { text: formula, live: false } }),
        },
      ];
    }),
  );
  return {
    kind: "addSheet",
    sheet: draft.name,
    cells,
    widths: draft.widths,
    freezeRows: Math.max(...draft.headerRows) + 1,
    hiddenRows: draft.hiddenRows,
    merges: draft.merges,
  };
}

function lookAt(draft: DraftSheet, row: number): Look {
  if (row === 0) return "title";
  return draft.headerRows.includes(row) ? "heading" : "plain";
}

function formatAt(draft: DraftSheet, row: number, column: number): string | null {
  const isMonth = row === HEADER_ROW && typeof draft.rows[row]?.[column] === "number";
  if (isMonth && column >= 2 && column < 2 + MONTHS) return "mmm yyyy";
  return row > Math.max(...draft.headerRows) ? (draft.formats[column] ?? null) : null;
}

function formulaAt(draft: DraftSheet, row: number, column: number): string | null {
  if (row <= Math.max(...draft.headerRows) || draft.bare.has(`${row} ${column}`)) return null;
  return draft.formulas.get(column) ?? null;
}
