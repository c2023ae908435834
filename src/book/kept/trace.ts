import type { Day } from "../../core/day.ts";
import { keyOf } from "../cells.ts";
import type { Device, Job, Part, Reading, ShelfItem } from "../records.ts";
import { siteOf } from "../site-names.ts";
import { type KeptLog, keptLog, partFinder } from "./log.ts";
import { NO_SITE, siteNames } from "./serving.ts";

/** Where a lot is, was or may be; in the order of what has to be looked at first. */
export const TRACES = ["fitted now", "on the shelf", "lot unknown", "fitted before"] as const;

/** One place of a trace. */
export interface Trace {
  readonly kind: (typeof TRACES)[number];
  readonly site: string;
  /** "" for a shelf. */
  readonly device: string;
  readonly part: string;
  /** "" where nobody wrote it. */
  readonly lot: string;
  readonly fitted: Day | null;
  readonly replaced: Day | null;
  /** Units on a shelf; null where nobody counted, and for a device. */
  readonly units: number | null;
  readonly note: string;
}

/** A row of the Work log that puts a lot on a device. */
interface Fitting {
  readonly job: Job;
  readonly device: Device | null;
  readonly part: Part | null;
}

interface Book {
  readonly reading: Reading;
  readonly log: KeptLog;
  readonly partOf: (text: string) => Part | null;
  readonly siteAt: (device: Device) => string;
  readonly byKey: ReadonlyMap<string, Device>;
}

function bookOf(reading: Reading): Book {
  const { devices, ours } = reading;
  return {
    reading,
    log: keptLog(reading),
    partOf: partFinder(ours.parts),
    siteAt: siteNames(reading),
    byKey: new Map([...devices].reverse().map((device) => [keyOf(device.id), device])),
  };
}

/**
 * Where a lot is or was, and where it may be: parts of the same kind in use or on a shelf whose lot nobody
 * wrote. Doubt counts as affected: a row of the log without a day, with a part of a set or of any job that
 * names the lot is fitted until a complete replacement on a later day.
 */
export function traceLot(reading: Reading, lot: string): Trace[] {
  const book = bookOf(reading);
  const { ours } = reading;
  const wanted = keyOf(lot);
  const fitted = fittingsOf(book, (job) => keyOf(job.lot) === wanted);
  const shelved = ours.shelf.filter((item) => keyOf(item.lot) === wanted);
  const kinds = kindsOf(book, [...fitted.map(({ part }) => part), ...partsOf(book, shelved)]);
  const traces = fitted.map((one) => fittingTrace(book, one));
  const sure = new Set(
    traces.flatMap(({ kind, device, part }) =>
      kind === "fitted now" ? [`${keyOf(device)}\n${part}`] : [],
    ),
  );
  const unknown = unknownInUse(book, kinds).filter(
    ({ device, part }) => !sure.has(`${keyOf(device)}\n${part}`),
  );
  const unmarked = ours.shelf.filter((item) => {
    const part = book.partOf(item.part);
    return item.lot === "" && item.onHand !== 0 && (part === null || kinds.includes(part));
  });
  return [
    ...traces,
    ...shelved.map((item) => shelfTrace(book, item, "on the shelf")),
    ...unmarked
      .filter((item) => item.onHand !== null)
      .map((item) => shelfTrace(book, item, "lot unknown")),
    ...unknown,
  ].sort(inOrder);
}

/** The lots a device has and had; null where neither the register nor the log knows the device. */
export function traceDevice(reading: Reading, device: string): Trace[] | null {
  const book = bookOf(reading);
  const wanted = keyOf(device);
  const isReplacement = ({ job, lot }: Job): boolean => job === "replaced" || lot !== "";
  const fitted = fittingsOf(book, (job) => keyOf(job.device) === wanted && isReplacement(job));
  const known = book.byKey.get(wanted);
  if (known === undefined && fitted.length === 0) return null;
  const parts = reading.ours.parts.filter(({ task }) => !task);
  const bare = parts.filter((part) => !fitted.some((one) => one.part === part));
  return [
    ...fitted.filter(({ part }) => part?.task !== true).map((one) => fittingTrace(book, one)),
    ...(known === undefined || known.retired
      ? []
      : bare.map((part) => unknownTrace(book, { device: known, part }, UNLOGGED))),
  ].sort(inOrder);
}

function fittingsOf(book: Book, wanted: (job: Job) => boolean): Fitting[] {
  return book.reading.ours.jobs.filter(wanted).map((job) => ({
    job,
    device: book.byKey.get(keyOf(job.device)) ?? null,
    part: book.partOf(job.part),
  }));
}

function partsOf({ partOf }: Book, items: readonly ShelfItem[]): (Part | null)[] {
  return items.map(({ part }) => partOf(part));
}

/** The kinds of part a lot was seen with; all that wear where it was seen with none that is known. */
function kindsOf({ reading }: Book, seen: readonly (Part | null)[]): Part[] {
  const wearing = reading.ours.parts.filter(({ task }) => !task);
  const known = wearing.filter((part) => seen.includes(part));
  return known.length === 0 || seen.includes(null) ? wearing : known;
}

function fittingTrace(book: Book, { job, device, part }: Fitting): Trace {
  const { reading, log, siteAt } = book;
  const renewals = device === null || part === null ? [] : log.of(device.id, part).renewals;
  const { date } = job;
  const next = date === null ? undefined : renewals.find((one) => one.date > date);
  const gone = device?.retired === true;
  const notes = [
    ...(device === null ? ["not in the register"] : gone ? ["device retired"] : []),
    ...(part === null ? ["no part named"] : []),
    ...(date === null ? ["no day written"] : []),
    ...(date !== null && date > reading.ours.settings.reportDate ? ["after the report date"] : []),
    ...(job.job === "replaced" ? [] : [`from a row of the job ${job.job || "(blank)"}`]),
    ...(job.job === "replaced" && job.complete !== true ? ["not marked as a complete set"] : []),
    ...(job.lot === "" ? ["lot not written"] : []),
  ];
  return {
    kind: next !== undefined ? "fitted before" : job.lot === "" ? "lot unknown" : "fitted now",
    site: device === null ? NO_SITE : siteAt(device),
    device: device?.id ?? job.device,
    part: part?.name ?? job.part,
    lot: job.lot,
    fitted: date,
    replaced: next?.date ?? null,
    units: null,
    note: notes.join("; "),
  };
}

function shelfTrace({ reading, partOf }: Book, item: ShelfItem, kind: Trace["kind"]): Trace {
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

const UNLOGGED = "no complete replacement logged";

/** Parts in use whose lot nobody wrote, on the last complete replacement or on any row after it. */
function unknownInUse(book: Book, kinds: readonly Part[]): Trace[] {
  const blank = new Map<string, Job[]>();
  for (const job of book.reading.ours.jobs) {
    if (job.job !== "replaced" || job.lot !== "") continue;
    const part = book.partOf(job.part);
    const key = `${keyOf(job.device)}\n${part?.code ?? ""}`;
    blank.set(key, [...(blank.get(key) ?? []), job]);
  }
  return [...book.byKey.values()].reverse().flatMap((device) =>
    device.retired
      ? []
      : kinds.flatMap((part): Trace[] => {
          const last = book.log.of(device.id, part).renewals.at(-1);
          const key = keyOf(device.id);
          const since = [`${key}\n${part.code}`, `${key}\n`]
            .flatMap((at) => blank.get(at) ?? [])
            .some(({ date }) => date === null || date >= (last?.date ?? 0));
          if (last !== undefined && !since) return [];
          const why = last === undefined ? UNLOGGED : "lot not written";
          return [unknownTrace(book, { device, part, fitted: last?.date ?? null }, why)];
        }),
  );
}

interface Unknown {
  readonly device: Device;
  readonly part: Part;
  readonly fitted?: Day | null;
}

function unknownTrace(
  { siteAt }: Book,
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

function inOrder(one: Trace, other: Trace): number {
  return (
    TRACES.indexOf(one.kind) - TRACES.indexOf(other.kind) ||
    one.site.localeCompare(other.site, "en") ||
    one.device.localeCompare(other.device, "en") ||
    one.part.localeCompare(other.part, "en") ||
    (one.fitted ?? 0) - (other.fitted ?? 0)
  );
}
