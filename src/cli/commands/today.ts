import { z } from "zod";
import { setupReportDate } from "../../book/sheets/ours.ts";
import { isoText } from "../../core/day.ts";
import { roundsOpen } from "../../book/day/rounds-open.ts";
import { type Today, todayOf } from "../../book/day/today.ts";
import type { Reading } from "../../book/records/records.ts";
import { undatedParts } from "../../book/reading/unread/missing-columns.ts";
import { BOOK, command } from "../command.ts";
import { doubtFirst, faults, tellFaults } from "../job.ts";
import { openBook } from "../open.ts";
import { progressOn } from "../progress.ts";
import { DATE, DOUBTS, list } from "../result.ts";
import { besideLists, todayLines } from "../report.ts";

const RESULT = z.strictObject({
  reportDate: DATE,
  devices: z.int(),
  overdue: z.int(),
  dueSoon: z.int(),
  toCheck: z.int(),
  notDue: z.int(),
  retired: z.int(),
  items: list(
    z.strictObject({
      device: z.string(),
      site: z.string(),
      part: z.string(),
      unit: z.string(),
      state: z.enum(["Overdue", "Check row", "Due soon"]),
      due: DATE.nullable(),
      daysLate: z.int().nullable(),
      outOfUse: z.boolean(),
      why: z.string(),
      sheet: z.string(),
      row: z.int(),
    }),
  ),
  inspectionsMissing: z.int().nullable(),
  toInspect: list(
    z.strictObject({
      device: z.string(),
      site: z.string(),
      part: z.string(),
      unit: z.string(),
      sheet: z.string(),
      row: z.int(),
    }),
  ),
  /** Sheets that may be the programme's own log; nothing in them calms until one is confirmed. */
  unconfirmedLogs: list(z.string()),
  /** What stands on round sheets and in no log yet; absent where all is logged. */
  roundsNotLogged: list(z.string()).optional(),
  faults: z.int(),
  doubts: DOUBTS,
});

/** What is overdue, to check and due soon, worst first. */
export const today = command({
  name: "today",
  moment: "The day",
  brief: "what is overdue, needs checking or is due soon, worst first",
  about: "What is overdue, needs checking or is due soon on the report date, worst first.",
  words: BOOK,
  writes: "",
  common: ["report-date", "json"],
  examples: ["today equipment.xlsx", "today equipment.xlsx --report-date 2026-07-06 --json"],
  options: {},
  result: RESULT,
  run({ words, request, io, say }) {
    const book = openBook(words, request, io, progressOn(io));
    const { workbook, reading } = book;
    const found = todayOf(workbook.snapshot, reading);
    const own = setupReportDate(workbook.snapshot, found.reportDate);
    if (own !== null && own !== found.reportDate) {
      io.err(
        `The workbook itself is judged as of ${isoText(own)} (Setup); columns sets it again.\n`,
      );
    }
    const open = roundsOpen(workbook.snapshot, reading);
    doubtFirst(book, say)(
      () => {
        const undated = undatedParts(workbook.snapshot, reading);
        return [...open, ...todayLines(found, undated, besideLists(book))];
      },
      () => ({
        ...todayJson(found, reading),
        ...(open.length === 0 ? {} : { roundsNotLogged: open }),
      }),
    );
    return tellFaults(book, io);
  },
});

function todayJson(found: Today, { problems, ownLogs }: Reading): z.infer<typeof RESULT> {
  return {
    ...found,
    reportDate: isoText(found.reportDate),
    items: found.items.map((item) => ({
      state: item.state,
      due: item.due === null ? null : isoText(item.due),
      daysLate: item.daysLate,
      device: item.device,
      site: item.site,
      part: item.part,
      unit: item.unit,
      outOfUse: item.outOfUse,
      why: item.why,
      sheet: item.sheet,
      row: item.row + 1,
    })),
    toInspect: found.toInspect.map(({ device, site, part, unit, sheet, row }) => ({
      ...{ device, site, part, unit, sheet },
      row: row + 1,
    })),
    unconfirmedLogs: ownLogs.filter(({ confirmed }) => !confirmed).map(({ sheet }) => sheet),
    faults: faults(problems).length,
  };
}
