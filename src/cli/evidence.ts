import { complianceText } from "../core/compliance.ts";
import { isoText } from "../core/day.ts";
import { CAUTIONS } from "../book/records/cautions.ts";
import type { Measure } from "../book/evidence/measure.ts";
import { weekText } from "../book/evidence/period.ts";
import { type KeptReport, keptReport } from "../book/evidence/report.ts";
import { evidenceChange } from "../book/evidence/evidence-change.ts";
import { dateOf, type Wish } from "./arguments.ts";
import { type Command, type Outcome, runJob } from "./job.ts";
import type { OpenBook } from "./open.ts";
import { aligned } from "./report.ts";

/** What was due and done in a period, gaps first. */
export const evidence: Command = (wish, io) =>
  runJob(wish, io, { work: (book) => outcome(book, wish) });

function outcome({ workbook, reading }: OpenBook, wish: Wish): Outcome {
  const report = keptReport(workbook.snapshot, reading, {
    from: dateOf("from", wish.text("from")),
    to: dateOf("to", wish.text("to")),
    sites: wish.texts("site"),
  });
  return {
    lines: reportLines(report),
    json: reportJson(report),
    change: evidenceChange(report, workbook.snapshot),
  };
}

function reportLines(report: KeptReport): string[] {
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
    `Late: ${late.length}, of them ${undone.length} not done yet. Findings: ${findings.length}, of them ${open.length} open.`,
    "Shares are rounded down. Limits (95 %, Wilson) are on the narrow side: misses come together by site and week.",
    "Due dates by the interval of today, the shortest where usage is in doubt; earlier intervals are not in the book.",
    ...(report.logBegins === "" ? [] : [report.logBegins]),
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
  return `${(Math.floor(share * 1000 + 1e-9) / 10).toFixed(1)}%`;
}

function reportJson(report: KeptReport): object {
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
      part: part.code,
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
      part: part.code,
      fitted: fitted === null ? null : isoText(fitted),
      expiry: expiry === null ? null : isoText(expiry),
    })),
    logBegins: report.logBegins,
    leftOut,
  };
}
