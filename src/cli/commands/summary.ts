import { z } from "zod";
import { isoText } from "../../core/day.ts";
import { percentText } from "../../book/records/percent.ts";
import { CAUTIONS } from "../../book/records/cautions.ts";
import { type Summary, summaryOf } from "../../book/share/summary.ts";
import { summaryPlan } from "../../book/share/summary-sheet.ts";
import { newWorkbook } from "../../xlsx/index.ts";
import { type Asked, BOOK, command } from "../command.ts";
import { NODE_CODEC } from "../files.ts";
import { type ExitCode, UsageError } from "../io.ts";
import { doubtFirst, tellFaults, writeBytes } from "../job.ts";
import { needDevices, openBook } from "../open.ts";
import { isSameFile } from "../place.ts";
import { progressOn } from "../progress.ts";
import { aligned } from "../report.ts";
import { AMOUNT, DATE, DOUBTS, list } from "../result.ts";

const RESULT = z.strictObject({
  reportDate: DATE,
  answer: z.string(),
  lines: list(
    z.strictObject({
      what: z.string(),
      figure: AMOUNT,
      kind: z.enum(["count", "tenth", "share", "money"]),
      detail: z.string(),
    }),
  ),
  doubts: DOUBTS,
  written: z.string().optional(),
});

type Result = z.infer<typeof RESULT>;

/** The programme on one page, for whoever leads the department. */
export const summary = command({
  name: "summary",
  moment: "Proof",
  brief: "the programme on one page, for the head of department",
  about: `What is overdue, which inspections were kept, what to order and what the year costs, a line each. With -o, a
workbook of its own: the page with three pictures, and behind it the sheets they are drawn from.`,
  words: BOOK,
  writes: "[-o OUT]",
  common: ["json"],
  examples: ["summary equipment.xlsx", "summary equipment.xlsx -o summary.xlsx"],
  options: {},
  result: RESULT,
  run: writeSummary,
});

function writeSummary(asked: Asked<string, Record<string, never>, Result>): ExitCode {
  const { words: path, request, io, say } = asked;
  const { output } = request;
  if (request.inPlace) throw new UsageError("summary never changes the workbook itself; give -o");
  if (output !== null && isSameFile(output, path)) {
    throw new UsageError("-o names the workbook itself; choose another name");
  }
  const progress = progressOn(io);
  const book = openBook(path, request, io, progress);
  needDevices(book);
  progress.step("calculating");
  const found = summaryOf(book.workbook.snapshot, book.reading);
  const written =
    output === null || request.dryRun
      ? []
      : writeBytes(newWorkbook(summaryPlan(found), { codec: NODE_CODEC }), {
          read: book.bytes,
          ending: ".xlsx",
          summary: "the summary on one page, and the sheets behind it",
          target: output,
          request,
          io,
        });
  doubtFirst(book, say)(
    () => [...linesOf(found), ...written],
    () => ({
      reportDate: isoText(found.reportDate),
      answer: found.answer,
      lines: found.lines,
      ...(written.length > 0 && output !== null ? { written: output } : {}),
    }),
  );
  return tellFaults(book, io);
}

function linesOf({ reportDate, answer, lines }: Summary): string[] {
  return [
    `As of ${isoText(reportDate)}: ${answer}`,
    "",
    ...aligned(lines.map((line) => [line.what, figureText(line), line.detail])),
    "",
    CAUTIONS.planningAid,
    CAUTIONS.notJudged,
  ];
}

function figureText({ figure, kind }: Summary["lines"][number]): string {
  if (figure === null) return "-";
  switch (kind) {
    case "count":
      return String(figure);
    case "tenth":
      return figure.toFixed(1);
    case "share":
      return percentText(figure, 1);
    case "money":
      return figure.toFixed(2);
  }
}
