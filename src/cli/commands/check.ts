import { z } from "zod";
import { list } from "../result.ts";
import { quietRemarks } from "../../book/reading/remarks/quiet-remarks.ts";
import { counted } from "../../book/records/problems.ts";
import { BOOK, command } from "../command.ts";
import { faults } from "../job.ts";
import { PROBLEMS, problemsJson, REGISTER, registersJson } from "../json.ts";
import { openBook } from "../open.ts";
import { problemLines } from "../problem-lines.ts";
import { progressOn } from "../progress.ts";
import { matchLines, remarkLines } from "../report.ts";

/** Remarks of which nothing is known, by column. */
const REMARKS = list(
  z.strictObject({
    sheet: z.string(),
    heading: z.string(),
    remarks: z.int(),
    texts: list(z.string()),
  }),
);

/** How the register was understood, and every problem with its cell, cause and fix. */
export const check = command({
  name: "check",
  moment: "The day",
  brief: "every problem in the rows: cell, cause, fix",
  about: "How the register was understood, and every problem with its cell, cause and fix.",
  words: BOOK,
  writes: "",
  common: ["match", "day-order", "json"],
  examples: [
    "check equipment.xlsx",
    'check equipment.xlsx --match device="Unit no" --match register="Our kit"',
  ],
  options: {},
  result: z.strictObject({ registers: list(REGISTER), remarks: REMARKS, problems: PROBLEMS }),
  run({ words, request, io, say }) {
    const book = openBook(words, request, io, progressOn(io));
    const { reading } = book;
    const remarks = quietRemarks(book.workbook.snapshot, reading);
    const wrong = faults(reading.problems).length;
    const notices = reading.problems.length - wrong;
    const total = `${counted(wrong, "fault")}, ${counted(notices, "notice")}.`;
    say(
      () => [
        ...[...matchLines(reading), ...remarkLines(remarks), ""],
        ...[...problemLines(reading.problems), total],
      ],
      () => ({ registers: registersJson(reading), remarks, problems: problemsJson(book) }),
    );
    return wrong > 0 ? 1 : 0;
  },
});
