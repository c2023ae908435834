import type { Mode } from "../../../src/book/columns/our-column.ts";
import { columnsPlan, writeBar } from "../../../src/book/columns/columns-plan.ts";
import { LOG_SHEETS } from "../../../src/book/day/log-change.ts";
import { JOB_LOG } from "../../../src/book/sheets/job-log.ts";
import { findSheet } from "../../../src/book/sheets/layout.ts";
import { BookError } from "../../../src/book/workbook/errors.ts";
import { modeOf } from "../../../src/book/columns/mode.ts";
import type { Plan } from "../../../src/book/workbook/plan.ts";
import { type Change, resultPlan } from "../../../src/book/sheets/result-plan.ts";
import { oneStep, type Steps } from "../../../src/book/workbook/steps.ts";
import type { Day } from "../../../src/core/day.ts";
import { COLUMNS_WORDS } from "../words/columns-words.ts";
import type { Opened, Step, Request } from "./state.ts";
import { WORDS } from "../words/words.ts";

const NOTHING: Plan = { summary: WORDS.nothing, edits: [] };

/** The computed columns, in a mode. */
export function columnsRequest(mode: Mode, today: Day): Request {
  return { steps: [(opened) => oneStep(() => columnsIn(opened, mode, today))] };
}

function columnsIn({ snapshot, reading }: Opened, mode: Mode, today: Day): Plan {
  const bar = writeBar(snapshot, reading, { force: false });
  if (bar !== null) throw new BookError(bar);
  if (reading.devices.length === 0) throw new BookError(COLUMNS_WORDS.empty);
  return columnsPlan(snapshot, reading, { mode, today, force: false });
}

/** Columns that are there, brought up to date as they were written; nothing where there are none. */
export function refreshStep(today: Day): Step {
  return (opened) =>
    oneStep(() => {
      const mode = modeOf(opened.snapshot, opened.reading);
      return mode === null ? NOTHING : columnsIn(opened, mode, today);
    });
}

/** The Job log, made where there is none. */
export function logSheetStep(today: Day): Step {
  return ({ snapshot, reading }) =>
    oneStep(() =>
      findSheet(snapshot, JOB_LOG) === null
        ? resultPlan(snapshot, reading, { ...LOG_SHEETS, today })
        : { summary: "", edits: [] },
    );
}

/** Sheets of results. */
export function resultsRequest(make: (opened: Opened) => Steps<Change>, today: Day): Request {
  return {
    steps: [
      function* (opened) {
        const change = yield* make(opened);
        yield;
        return resultPlan(opened.snapshot, opened.reading, { ...change, today });
      },
    ],
  };
}
