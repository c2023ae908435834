import { keyOf } from "../workbook/cells.ts";
import { isOf } from "../records/job-index.ts";
import { eachPosition, wholeOf } from "../records/positions.ts";
import type { Job, Part, Reading, ShelfItem } from "../records/records.ts";
import {
  type Fitting,
  fittingTrace,
  shelfTrace,
  type Trace,
  type TraceBook,
  traceBook,
  TRACES,
  unknownTrace,
} from "./trace-place.ts";

/**
 * Where a lot is or was, and where it may be: parts of the same kind in use or on a shelf whose lot nobody
 * wrote. Doubt counts as affected: a row of the log without a day, with a part of a set or of any job that
 * names the lot is fitted until a complete replacement on a later day.
 */
export function traceLot(reading: Reading, lot: string): Trace[] {
  const book = traceBook(reading);
  const { ours } = reading;
  const wanted = keyOf(lot);
  const fitted = fittingsOf(book, (job) => keyOf(job.lot) === wanted);
  const shelved = ours.shelf.filter((item) => keyOf(item.lot) === wanted);
  const kinds = kindsOf(book, [...fitted.map(({ part }) => part), ...partsOf(book, shelved)]);
  const traces = tracesOf(book, fitted);
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
    ...unmarked.map((item) => shelfTrace(book, item, "lot unknown")),
    ...unknown,
  ].sort(inOrder);
}

/** The lots a device has and had; null where neither the register nor the log knows the device. */
export function traceDevice(reading: Reading, device: string): Trace[] | null {
  const book = traceBook(reading);
  const wanted = keyOf(device);
  const isReplacement = ({ job, lot }: Job): boolean => job === "replaced" || lot !== "";
  const fitted = fittingsOf(book, (job) => job.deviceKey === wanted && isReplacement(job));
  const known = book.byKey.get(wanted);
  if (known === undefined && fitted.length === 0) return null;
  const parts = reading.ours.parts.filter(({ task }) => !task);
  const bare = parts
    .flatMap(eachPosition)
    .filter((part) => !fitted.some(({ job }) => isOf(job, part)));
  return [
    ...fitted.filter(({ part }) => part?.task !== true).map((one) => fittingTrace(book, one)),
    ...(known === undefined || known.retired
      ? []
      : bare.map((part) => unknownTrace(book, { device: known, part }, UNLOGGED))),
  ].sort(inOrder);
}

function fittingsOf({ log, byKey }: TraceBook, wanted: (job: Job) => boolean): Fitting[] {
  return log.all
    .filter(wanted)
    .map((job) => ({ job, device: byKey.get(job.deviceKey) ?? null, part: job.named }));
}

function partsOf({ partOf }: TraceBook, items: readonly ShelfItem[]): (Part | null)[] {
  return items.map(({ part }) => partOf(part));
}

/** One trace for the rows that tell of the same lot in the same interval; the complete replacement speaks. */
function tracesOf(book: TraceBook, fittings: readonly Fitting[]): Trace[] {
  const rank = ({ job }: Fitting): number =>
    job.job !== "replaced" ? 2 : job.complete === true ? 0 : 1;
  const told = new Map<string, Trace>();
  for (const one of [...fittings].sort((a, b) => rank(a) - rank(b))) {
    const trace = fittingTrace(book, one);
    const { device, part, lot, replaced } = trace;
    const key = JSON.stringify([keyOf(device), part, keyOf(lot), replaced]);
    if (!told.has(key)) told.set(key, trace);
  }
  return [...told.values()];
}

/** The kinds of part a lot was seen with; all that wear where it was seen with none that is known. */
function kindsOf({ reading }: TraceBook, seen: readonly (Part | null)[]): Part[] {
  const wearing = reading.ours.parts.filter(({ task }) => !task);
  const whole = seen.map((part) => part && wholeOf(part));
  const known = wearing.filter((part) => whole.includes(part));
  return known.length === 0 || seen.includes(null) ? wearing : known;
}

const UNLOGGED = "no complete replacement logged";

/** Parts in use whose lot was not recorded, on the last complete replacement or on any row after it. */
function unknownInUse(book: TraceBook, kinds: readonly Part[]): Trace[] {
  const blank = new Map<string, Job[]>();
  for (const job of book.log.all) {
    if (job.job !== "replaced" || job.lot !== "") continue;
    const key = `${job.deviceKey}\n${job.named?.code ?? ""}`;
    blank.set(key, [...(blank.get(key) ?? []), job]);
  }
  return [...book.byKey.values()].reverse().flatMap((device) =>
    device.retired
      ? []
      : kinds.flatMap(eachPosition).flatMap((part): Trace[] => {
          const last = book.log.of(device.key, part).renewals.at(-1);
          const key = device.key;
          const since = [`${key}\n${part.code}`, `${key}\n`]
            .flatMap((at) => blank.get(at) ?? [])
            .some(({ date }) => date === null || date >= (last?.date ?? 0));
          if (last !== undefined && !since) return [];
          const why = last === undefined ? UNLOGGED : "lot not recorded";
          return [unknownTrace(book, { device, part, fitted: last?.date ?? null }, why)];
        }),
  );
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
