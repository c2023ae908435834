import {
  type JobIndex,
  jobIndex,
  type NamedJob,
  partFinder,
  renews,
} from "../records/job-index.ts";
import type { Day } from "../../core/day.ts";
import type { Device, Part, Reading, ShelfItem } from "../records/records.ts";
import { siteOf } from "../records/site-names.ts";
import { NO_SITE, siteNames } from "../reading/dates/serving.ts";

/** Where a lot is, was or may be; in the order of what has to be looked at first. */
export const TRACES = ["fitted now", "on the shelf", "lot unknown", "fitted before"] as const;

/** One place of a trace. */
export interface Trace {
  readonly kind: (typeof TRACES)[number];
  readonly site: string;
  /** "" for a shelf. */
  readonly device: string;
  readonly part: string;
  /** "" where it was not recorded. */
  readonly lot: string;
  readonly fitted: Day | null;
  readonly replaced: Day | null;
  /** Units on a shelf; null where there is no count, and for a device. */
  readonly units: number | null;
  readonly note: string;
}

/** A row of the Job log that puts a lot on a device. */
export interface Fitting {
  readonly job: NamedJob;
  readonly device: Device | null;
  readonly part: Part | null;
}

/** The book as a trace looks at it. */
export interface TraceBook {
  readonly reading: Reading;
  readonly log: JobIndex;
  readonly partOf: (text: string) => Part | null;
  readonly siteAt: (device: Device) => string;
  readonly byKey: ReadonlyMap<string, Device>;
}

/** Gets a book ready for tracing. */
export function traceBook(reading: Reading): TraceBook {
  const { devices, ours } = reading;
  return {
    reading,
    log: jobIndex(reading.ours),
    partOf: partFinder(ours.parts),
    siteAt: siteNames(reading),
    byKey: new Map([...devices].reverse().map((device) => [device.key, device])),
  };
}

/** Where a row of the log has put a lot; doubt keeps it there. */
export function fittingTrace(book: TraceBook, { job, device, part }: Fitting): Trace {
  const { log, siteAt } = book;
  const renewals = device === null || part === null ? [] : log.of(device.key, part).renewals;
  const { date } = job;
  const next = date === null ? undefined : renewals.find((one) => one.date > date);
  return {
    kind: next !== undefined ? "fitted before" : job.lot === "" ? "lot unknown" : "fitted now",
    site: device === null ? NO_SITE : siteAt(device),
    device: device?.id ?? job.device,
    part: part?.name ?? job.part,
    lot: job.lot,
    fitted: date,
    replaced: next?.date ?? null,
    units: null,
    note: doubtsOf({ job, device, part }, book.reading.ours.settings.reportDate),
  };
}

/** What makes a row of the log doubtful, in words. */
function doubtsOf({ job, device, part }: Fitting, reportDate: Day): string {
  const isReplacement = job.job === "replaced";
  const doubts: readonly (readonly [boolean, string])[] = [
    [device === null, "not in the register"],
    [device?.retired === true, "device retired"],
    [(device?.doubt ?? null) !== null, device?.doubt ?? ""],
    [part === null, "no known part"],
    [job.date === null, "no date recorded"],
    [job.date !== null && job.date > reportDate, "after the report date"],
    [!isReplacement, `from a row of the job ${job.job || "(blank)"}`],
    [
      isReplacement && (part === null ? job.complete !== true : !renews(job, part)),
      "not marked as a complete set",
    ],
    [job.lot === "", "lot not recorded"],
  ];
  return doubts.flatMap(([holds, words]) => (holds ? [words] : [])).join("; ");
}

/** A lot on a shelf. */
export function shelfTrace(
  { reading, partOf }: TraceBook,
  item: ShelfItem,
  kind: Trace["kind"],
): Trace {
  return {
    kind,
    site: siteOf(reading.ours.sites, item.site) || "programme's store",
    device: "",
    part: partOf(item.part)?.name ?? item.part,
    lot: item.lot,
    fitted: null,
    replaced: null,
    units: item.onHand,
    note: item.onHand === null ? "not counted" : "",
  };
}

interface Unknown {
  readonly device: Device;
  readonly part: Part;
  readonly fitted?: Day | null;
}

/** A part in use whose lot was not recorded. */
export function unknownTrace(
  { siteAt }: TraceBook,
  { device, part, fitted = null }: Unknown,
  note: string,
): Trace {
  return {
    kind: "lot unknown",
    site: siteAt(device),
    device: device.id,
    part: part.name,
    lot: "",
    fitted,
    replaced: null,
    units: null,
    note,
  };
}
