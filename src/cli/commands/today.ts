import { setupReportDate } from "../../book/sheets/ours.ts";
import { isoText } from "../../core/day.ts";
import { todayOf } from "../../book/day/today.ts";
import { undatedParts } from "../../book/reading/missing-columns.ts";
import { BOOK, command } from "../command.ts";
import { faults, say, tellFaults } from "../job.ts";
import { todayJson } from "../json.ts";
import { openBook } from "../open.ts";
import { progressOn } from "../progress.ts";
import { todayLines } from "../report.ts";

/** What is overdue, to check and due soon, worst first. */
export const today = command({
  name: "today",
  moment: "The day",
  brief: "what is overdue, to check and due soon, worst first",
  about: "What is overdue, to check and due soon on the report date, worst first.",
  words: BOOK,
  writes: "",
  common: ["report-date", "json"],
  examples: ["today equipment.xlsx", "today equipment.xlsx --report-date 2026-07-06 --json"],
  options: {},
  run({ words, wish }, io) {
    const book = openBook(words, wish, io, progressOn(io));
    const { workbook, reading } = book;
    const list = todayOf(workbook.snapshot, reading);
    const own = setupReportDate(workbook.snapshot, list.reportDate);
    if (own !== null && own !== list.reportDate) {
      io.err(`The workbook itself is judged on ${isoText(own)} (Setup); columns sets it anew.\n`);
    }
    say(
      io,
      wish,
      () => todayLines(list, undatedParts(workbook.snapshot, reading)),
      () => ({ ...todayJson(list), faults: faults(reading.problems).length }),
    );
    return tellFaults(book, io);
  },
});
