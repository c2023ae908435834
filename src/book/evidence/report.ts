import { type DatedJob, type JobIndex, jobIndex, type NamedJob } from "../records/job-index.ts";
import { type ComplianceChart, complianceChart } from "../../core/chart.ts";
import { type Day, isoText } from "../../core/day.ts";
import { counted, listed } from "../records/problems.ts";
import type { Reading } from "../records/records.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { type FindingRecord, findingRecords } from "./finding.ts";
import { type Inspections, inspectionCompliance } from "./inspections.ts";
import { type LotFitted, lotsFitted } from "./lots.ts";
import { type Measure, measuresOf } from "./measure.ts";
import { type OnTime, replacedOnTime } from "./on-time.ts";
import { type EvidencePeriod, evidencePeriod } from "./period.ts";
import { type Serving, servingFleet } from "../reading/dates/serving.ts";

/** What is reviewed; null and empty mean the default. */
export interface EvidenceRequest {
  readonly from: Day | null;
  readonly to: Day | null;
  /** Sites by code or name; empty for all. */
  readonly sites: readonly string[];
}

/** What infection control and surveyors ask for, and what is missing of it. */
export interface EvidenceReport {
  readonly reportDate: Day;
  readonly period: EvidencePeriod;
  readonly measures: readonly Measure[];
  readonly inspections: Inspections;
  /** Weeks of all sites seen against each other; null where nothing was due. */
  readonly chart: ComplianceChart | null;
  readonly onTime: OnTime;
  readonly findings: readonly FindingRecord[];
  readonly lots: readonly LotFitted[];
  /** What was not counted, one sentence part each. */
  readonly leftOut: readonly string[];
  /** Weeks before the first inspection of the log count as missed: said where there are any, else "". */
  readonly logBegins: string;
  /** Entries of the period that are counted and that nobody signed: said where there are any, else "". */
  readonly unsigned: string;
}

/** Looks back on a period. Throws a BookError for a period or a site that cannot be. */
export function evidenceReport(
  snapshot: Snapshot,
  reading: Reading,
  { from, to, sites }: EvidenceRequest,
): EvidenceReport {
  const { settings, parts } = reading.ours;
  const period = evidencePeriod(settings.reportDate, from, to);
  const fleet = servingFleet(snapshot, reading, sites);
  const log = jobIndex(reading.ours);
  // What a device in two rows did is counted once.
  const basis = { devices: fleet.devices.filter(({ repeated }) => !repeated), log, period };
  const inspections = inspectionCompliance({ ...basis, parts });
  const onTime = replacedOnTime(snapshot, reading, basis);
  const findings = findingRecords(snapshot, reading, { ...basis, devices: fleet.devices });
  const lots = lotsFitted(snapshot, reading, basis);
  const { siteWeeks, weeks, partWeeks } = inspections;
  const { begins, uncounted } = countedJobs(reading, log);
  const groups = weeks.map(({ kept, due }) => ({ done: kept, due }));
  return {
    reportDate: settings.reportDate,
    period,
    measures: measuresOf({ siteWeeks, turns: onTime.turns, findings, lots }),
    inspections,
    chart: groups.some(({ due }) => due > 0) ? complianceChart(groups) : null,
    onTime,
    findings,
    lots,
    logBegins: beginsText(begins, period),
    unsigned: unsignedText(log.all, fleet.devices, period),
    leftOut: [
      ...fleet.leftOut,
      ...repeatedText(fleet.devices),
      ...onTime.leftOut,
      ...(partWeeks === 0 ? [] : [`${partWeeks} weeks in which a device came or left`]),
      ...(onTime.unjudged === 0
        ? []
        : [`${counted(onTime.unjudged, "first replacement")}, with none logged before`]),
      ...(uncounted === 0
        ? []
        : [`${counted(uncounted, "row")} of the Job log without a known day, device or part`]),
    ],
  };
}

/** Devices that stand in several rows, named. */
function repeatedText(devices: readonly Serving[]): string[] {
  const ids = new Set(devices.flatMap(({ repeated, device }) => (repeated ? [device.id] : [])));
  return ids.size === 0
    ? []
    : [`${listed([...ids])}: in more than one row of the register, counted by the first`];
}

/** The first inspection there is, and how many rows count for nothing: no day by the report date, no known part or device. */
function countedJobs(
  { ours, devices }: Reading,
  log: JobIndex,
): { readonly begins: DatedJob | null; readonly uncounted: number } {
  const known = new Set(devices.map(({ key }) => key));
  const { reportDate } = ours.settings;
  const usable = log.all.filter(
    ({ date, named, deviceKey }) =>
      date !== null && date <= reportDate && named !== null && known.has(deviceKey),
  );
  const inspected = usable.flatMap((one) => (one.job === "inspected" && isDated(one) ? one : []));
  const begins = inspected.reduce<DatedJob | null>(
    (first, one) => (first === null || one.date < first.date ? one : first),
    null,
  );
  return { begins, uncounted: log.all.length - usable.length };
}

const SIGNED: ReadonlySet<string> = new Set(["inspected", "replaced", "calibrated"]);

/** How many entries of the Job log that count have nobody's initials under By: to a surveyor each is a gap. */
function unsignedText(
  jobs: readonly NamedJob[],
  devices: readonly Serving[],
  { from, to }: EvidencePeriod,
): string {
  const known = new Set(devices.map(({ device }) => device.key));
  const unsigned = jobs.filter(({ date, by, own, named, deviceKey, job }) => {
    const isCounted = date !== null && date >= from && date <= to && named !== null;
    return (
      isCounted && SIGNED.has(job) && own !== true && known.has(deviceKey) && !/[\p{L}\d]/u.test(by)
    );
  });
  if (unsigned.length === 0) return "";
  const of = (word: string): number => unsigned.filter(({ job }) => job === word).length;
  const kinds = [
    counted(of("inspected"), "inspection"),
    counted(of("replaced"), "replacement"),
    counted(of("calibrated"), "task"),
  ].filter((kind) => !kind.startsWith("0 "));
  return `Nobody signed for ${unsigned.length} of the entries that count here (${kinds.join(", ")}): By is blank.`;
}

function isDated(job: NamedJob): job is DatedJob {
  return job.date !== null;
}

function beginsText(begins: DatedJob | null, { weeks }: EvidencePeriod): string {
  const [first] = weeks;
  if (first === undefined || (begins !== null && begins.date < first + 7)) return "";
  if (begins === null) return "The Job log holds no inspection yet; every week counts as missed.";
  const { device, part, date } = begins;
  const what = [device, part].filter((text) => text !== "").join(" ");
  return `The Job log's first inspection is of ${what} on ${isoText(date)}; weeks before count as missed.`;
}
