import { percentText } from "../../book/records/percent.ts";
import { partKey } from "../../book/records/positions.ts";
import { z } from "zod";
import { complianceText } from "../../core/compliance.ts";
import { isoText } from "../../core/day.ts";
import { CAUTIONS } from "../../book/records/cautions.ts";
import { roundedDown } from "../../book/evidence/evidence-sheet.ts";
import type { Measure } from "../../book/evidence/measure.ts";
import { weekText } from "../../book/evidence/period.ts";
import { type EvidenceReport, evidenceReport } from "../../book/evidence/report.ts";
import { evidenceChange } from "../../book/evidence/evidence-change.ts";
import { BOOK, command } from "../command.ts";
import { type Outcome, runJob } from "../job.ts";
import type { OpenBook } from "../open.ts";
import { date, type Given, texts } from "../option.ts";
import { AMOUNT, DATE, jobResult, list } from "../result.ts";
import { aligned } from "../report.ts";

const WEEK = { week: z.string(), due: z.number(), kept: z.number() };

const RESULT = {
  reportDate: DATE,
  from: DATE,
  to: DATE,
  measures: list(
    z.strictObject({
      name: z.string(),
      site: z.string(),
      due: z.number(),
      done: z.number(),
      kept: z.strictObject({ share: z.number(), low: z.number(), high: z.number() }).nullable(),
      missing: z.string(),
    }),
  ),
  inspections: list(
    z.strictObject({ ...WEEK, site: z.string(), devices: z.number(), missing: list(z.string()) }),
  ),
  weeks: list(
    z.strictObject({
      ...WEEK,
      limits: z.strictObject({ low: z.number(), high: z.number() }).nullable(),
      out: z.boolean().nullable(),
    }),
  ),
  replacements: list(
    z.strictObject({
      device: z.string(),
      site: z.string(),
      part: z.string(),
      began: DATE,
      due: DATE,
      done: DATE.nullable(),
      daysLate: z.number(),
      finding: z.string(),
    }),
  ),
  findings: list(
    z.strictObject({
      device: z.string(),
      site: z.string(),
      part: z.string().nullable(),
      found: DATE.nullable(),
      finding: z.string(),
      closed: DATE.nullable(),
      days: AMOUNT,
      how: z.string(),
    }),
  ),
  lots: list(
    z.strictObject({
      device: z.string(),
      site: z.string(),
      part: z.string(),
      lot: z.string(),
      fitted: DATE.nullable(),
      expiry: DATE.nullable(),
      gap: z.string(),
    }),
  ),
  logBegins: z.string(),
  unsigned: z.string(),
  leftOut: list(z.string()),
};

/** What --json prints. */
type Result = z.infer<z.ZodObject<typeof RESULT>>;

const OPTIONS = {
  from: date("first day; without dates, the last 13 whole weeks and the days since"),
  to: date("last day; otherwise the report date"),
  site: texts("CODE", "this site only; may be repeated"),
};

/** What was due and done in a period, gaps first. */
export const evidence = command({
  name: "evidence",
  moment: "Proof",
  brief: "inspections done, work on time, findings, lots; gaps first",
  about: `Inspections done by site and ISO week, replacements and tasks on time, findings and how they were
closed, lots in use; what is missing comes first. With -o, also the sheets Evidence, Inspections, Weeks
kept, Late work, Findings and Lots fitted; what you type under Reason on Late work stays.`,
  words: BOOK,
  writes: "[-o OUT]",
  common: ["json"],
  examples: [
    "evidence equipment.xlsx",
    "evidence equipment.xlsx --from 2026-04-01 --to 2026-06-30 --site S01 -o q2.xlsx",
  ],
  options: OPTIONS,
  result: jobResult(RESULT),
  run: (asked) => runJob(asked.words, asked, (book) => outcome(book, asked.given)),
});

function outcome({ workbook, reading }: OpenBook, given: Given<typeof OPTIONS>): Outcome<Result> {
  const { from, to, site: sites } = given;
  const report = evidenceReport(workbook.snapshot, reading, { from, to, sites });
  return {
    lines: reportLines(report),
    json: reportJson(report),
    change: evidenceChange(report, workbook.snapshot),
  };
}

function reportLines(report: EvidenceReport): string[] {
  const { period, measures, inspections, onTime, findings, leftOut } = report;
  const head = ["Measure", "Site", "Due", "Done", "Missing", "Share", "Limits", ""];
  const late = onTime.turns.filter(({ daysLate }) => daysLate > 0);
  const undone = late.filter(({ done }) => done === null);
  const open = findings.filter(({ closed }) => closed === null);
  return [
    `Evidence from ${isoText(period.from)} to ${isoText(period.to)}, ${inspections.weeks.length} whole weeks of inspections.`,
    "",
    ...aligned([head, ...measures.map(measureTexts)]),
    "",
    `Late: ${late.length}, ${undone.length} of them not done yet. Findings: ${findings.length}, ${open.length} of them open.`,
    "Shares are rounded down. Limits (95%, Wilson) are on the narrow side: misses cluster by site and week.",
    "Due dates use today's interval, the shortest where usage is in doubt; earlier intervals are not in the workbook.",
    ...[report.logBegins, report.unsigned].filter((text) => text !== ""),
    ...leftOut.map((text) => `Not counted: ${text}.`),
    "",
    CAUTIONS.planningAid,
    CAUTIONS.notJudged,
  ];
}

function measureTexts({ name, site, due, done, kept, missing }: Measure): string[] {
  return [
    name,
    site,
    String(due),
    String(done),
    String(due - done),
    due === 0 ? "none due" : complianceText(done, due),
    kept === null ? "" : `${percent(kept.low)} to ${percent(kept.high)}`,
    missing,
  ];
}

/** Rounded down, as shares are. */
function percent(share: number): string {
  return percentText(roundedDown(share), 1);
}

function reportJson(report: EvidenceReport): Result {
  const { period, measures, inspections, chart, onTime, findings, lots, leftOut } = report;
  return {
    reportDate: isoText(report.reportDate),
    from: isoText(period.from),
    to: isoText(period.to),
    measures,
    inspections: inspections.siteWeeks.map(({ monday, ...week }) => ({
      week: weekText(monday),
      ...week,
    })),
    weeks: inspections.weeks.map(({ monday, due, kept }, at) => ({
      week: weekText(monday),
      due,
      kept,
      limits: chart?.points[at]?.limits ?? null,
      out: chart?.points[at]?.out ?? null,
    })),
    replacements: onTime.turns.map(({ part, began, due, done, ...turn }) => ({
      ...turn,
      part: partKey(part),
      began: isoText(began),
      due: isoText(due),
      done: done === null ? null : isoText(done),
    })),
    findings: findings.map(({ part, found, closed, ...finding }) => ({
      ...finding,
      part: part?.code ?? null,
      found: found === null ? null : isoText(found),
      closed: closed === null ? null : isoText(closed),
    })),
    lots: lots.map(({ part, fitted, expiry, ...lot }) => ({
      ...lot,
      part: partKey(part),
      fitted: fitted === null ? null : isoText(fitted),
      expiry: expiry === null ? null : isoText(expiry),
    })),
    logBegins: report.logBegins,
    unsigned: report.unsigned,
    leftOut,
  };
}
