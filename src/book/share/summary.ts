import { type Day, isoText } from "../../core/day.ts";
import { type Budget, budgetSteps, currencyOf } from "../budget/budget.ts";
import { yearsOf100 } from "../budget/says.ts";
import { type DueItem, type Today, todayOf } from "../day/today.ts";
import { ALL_SITES } from "../evidence/inspections.ts";
import { roundedDown } from "../evidence/evidence-sheet.ts";
import { type EvidenceReport, evidenceReport } from "../evidence/report.ts";
import { roundMoney } from "../orders/lines.ts";
import { bookOrderSteps, costOf, type Orders } from "../orders/orders.ts";
import { unitOf } from "../records/money-text.ts";
import { percentText } from "../records/percent.ts";
import { doubtsSay } from "../records/doubts.ts";
import { siteKey, siteOf } from "../records/site-names.ts";
import { counted, listed } from "../records/problems.ts";
import type { Part, Reading } from "../records/records.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { finished, type Steps } from "../workbook/steps.ts";
import { NO_WHAT_IF } from "../year/what-if.ts";

/** How a figure of the summary is counted. */
export type FigureKind = "count" | "tenth" | "share" | "money";

/** One thing that whoever leads the department is shown: its figure, and its details. */
export interface SummaryLine {
  readonly what: string;
  /** Null where it cannot be said; the detail says why. */
  readonly figure: number | null;
  readonly kind: FigureKind;
  readonly detail: string;
}

/** A programme on one page: what is overdue, what was kept, what to order, what the year costs. */
export interface Summary {
  readonly reportDate: Day;
  /** The answer in one line. */
  readonly answer: string;
  /** What was doubted, before all that rests on it. */
  readonly doubts: readonly string[];
  readonly lines: readonly SummaryLine[];
  readonly parts: readonly Part[];
  readonly evidence: EvidenceReport;
  readonly orders: Orders;
  readonly budget: Budget;
}

const NAMED = 3;
const INSPECTIONS = "Inspections kept";

/** Sums up a programme from the results of the jobs, none of which is worked out anew here. */
export function summaryOf(snapshot: Snapshot, reading: Reading): Summary {
  return finished(summarySteps(snapshot, reading));
}

/** The same in steps. */
export function* summarySteps(snapshot: Snapshot, reading: Reading): Steps<Summary> {
  const today = todayOf(snapshot, reading);
  yield;
  const evidence = evidenceReport(snapshot, reading, { from: null, to: null, sites: [] });
  const orders = yield* bookOrderSteps(snapshot, reading, { pooled: false, whatIf: NO_WHAT_IF });
  const budget = yield* budgetSteps(snapshot, reading, {
    from: null,
    level: null,
    pooled: false,
    births: false,
    whatIf: NO_WHAT_IF,
  });
  return {
    reportDate: today.reportDate,
    answer: answerOf(today, orders),
    doubts: doubtsSay(reading),
    lines: [
      ...dueLines(today, reading),
      ...keptLines(evidence, today.inspectionsMissing !== null),
      needLine(orders),
      orderLine(orders),
      ...budgetLines(budget),
    ],
    parts: reading.ours.parts,
    evidence,
    orders,
    budget,
  };
}

function answerOf({ overdue, toCheck }: Today, orders: Orders): string {
  const { parts, freight, unpriced } = costOf(orders, orders.now);
  const { currency } = orders.year.reading.ours.settings;
  const cost =
    unpriced.length === 0
      ? `${money(parts + freight)}${unitOf(currency)}`
      : `no price for ${listed(unpriced)}`;
  const order =
    orders.now.length === 0
      ? "nothing to order now"
      : `${counted(orders.now.length, "line")} to order now, ${cost}`;
  return `${counted(overdue, "part")} overdue, ${toCheck} to check; ${order}.`;
}

function dueLines(today: Today, reading: Reading): SummaryLine[] {
  const { overdue, toCheck, dueSoon, retired, items } = today;
  const of = (state: DueItem["state"]): DueItem[] => items.filter((item) => item.state === state);
  const inService = reading.devices.filter((device) => !device.retired);
  const sites = new Set(inService.map(({ site }) => siteKey(siteOf(reading.ours.sites, site))))
    .size;
  const gone = retired === 0 ? "" : `; ${retired} more retired`;
  const all = new Set(inService.map(({ key }) => key)).size;
  return [
    count("Devices in service", all, `at ${counted(sites, "site")}${gone}`),
    count("Parts overdue", overdue, named(of("Overdue"), lateText)),
    count("Parts to check", toCheck, named(of("Check row"), whyText)),
    count("Parts due soon", dueSoon, named(of("Due soon"), dueText)),
  ];
}

function count(what: string, figure: number, detail: string): SummaryLine {
  return { what, figure, kind: "count", detail };
}

function named(items: readonly DueItem[], say: (item: DueItem) => string): string {
  return items.length === 0 ? "none" : listed(items.map(say), NAMED);
}

function lateText({ device, part, daysLate, why }: DueItem): string {
  return `${device} ${part} (${daysLate === null ? why : `${counted(daysLate, "day")} late`})`;
}

function whyText({ device, part, why }: DueItem): string {
  return `${device} ${part}${why === "" ? "" : ` (${why})`}`;
}

function dueText({ device, part, due }: DueItem): string {
  return `${device} ${part}${due === null ? "" : ` (${isoText(due)})`}`;
}

/** The measures of all sites, as evidence tells them. */
function keptLines(
  { measures, period, findings }: EvidenceReport,
  isLogged: boolean,
): SummaryLine[] {
  const days = `${isoText(period.from)} to ${isoText(period.to)}`;
  const shares = [INSPECTIONS, "Replaced on time"].map((what): SummaryLine => {
    const found = measures.find(({ name, site }) => name === what && site === ALL_SITES);
    const { due, done, kept } = found ?? { due: 0, done: 0, kept: null };
    if (done === 0 && what === INSPECTIONS && !isLogged) {
      return { what, figure: null, kind: "share", detail: "no inspection is in the Job log" };
    }
    const limits =
      kept === null ? "" : `; 95% limits ${percent(kept.low)} to ${percent(kept.high)}`;
    return {
      what,
      figure: due === 0 ? null : roundedDown(done / due),
      kind: "share",
      detail: due === 0 ? `none was due, ${days}` : `${done} of ${due} due, ${days}${limits}`,
    };
  });
  const open = findings.filter(({ closed }) => closed === null);
  const devices = [...new Set(open.map(({ device }) => device))];
  return [
    ...shares,
    count("Findings open", open.length, devices.length === 0 ? "none" : listed(devices, NAMED)),
  ];
}

function needLine({ year }: Orders): SummaryLine {
  const bought = year.parts.filter(({ part }) => !part.task);
  return {
    what: `Replacements in ${year.horizon.months} months`,
    figure: bought.reduce((sum, { total }) => sum + total.expected, 0),
    kind: "tenth",
    detail: `${bought
      .map(({ part, total }) => `${part.name} ${total.low} to ${total.high}`)
      .join(", ")}; each range holds with a chance of at least ${percentText(year.horizon.level)}`,
  };
}

function orderLine(orders: Orders): SummaryLine {
  const { parts, freight, unpriced } = costOf(orders, orders.now);
  const { reportDate } = orders.year.horizon;
  const late = orders.now.filter(({ orderOn }) => orderOn < reportDate).length;
  const isPriced = unpriced.length === 0;
  return {
    what: "To order now",
    figure: isPriced ? roundMoney(parts + freight) : null,
    kind: "money",
    detail: [
      `${counted(orders.now.length, "line")} with freight`,
      ...(late === 0 ? [] : [`${late} of them should have gone out before`]),
      ...(isPriced ? [] : [`no price is known for ${listed(unpriced)}`]),
    ].join("; "),
  };
}

function budgetLines(budget: Budget): SummaryLine[] {
  const { fiscal, expected, upper, incomplete, soFar, year } = budget;
  const isComplete = incomplete.length === 0;
  const { reportDate } = year.horizon;
  const from = soFar === null ? fiscal.from : reportDate;
  const of = soFar === null ? "" : "still to buy, ";
  const spent = soFar?.spent ?? null;
  const before = spent === null ? "" : `; ${money(spent)} was spent before`;
  return [
    {
      what: `Budget ${fiscal.name}, ${of}expected`,
      figure: isComplete ? expected : null,
      kind: "money",
      detail: isComplete
        ? `Parts and freight${unitOf(currencyOf(budget), " in ")}, ${isoText(from)} to ${isoText((fiscal.end - 1) as Day)}${before}`
        : `not complete: ${incomplete.join("; ")}`,
    },
    {
      what: `Budget ${fiscal.name}, ${of}upper figure`,
      figure: isComplete ? upper : null,
      kind: "money",
      detail: isComplete
        ? `Enough in ${yearsOf100(budget)} of 100 years like this one`
        : "none is given while the budget is not complete",
    },
  ];
}

function percent(share: number): string {
  return percentText(roundedDown(share), 1);
}

function money(amount: number): string {
  return roundMoney(amount).toFixed(2);
}
