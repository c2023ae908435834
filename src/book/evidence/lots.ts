import { type JobIndex, partFinder } from "../records/job-index.ts";
import type { Day } from "../../core/day.ts";
import { keyOf } from "../workbook/cells.ts";
import { judge } from "../columns/judge.ts";
import type { Part, Reading } from "../records/records.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import type { Serving } from "../reading/dates/serving.ts";

/** The lot of a part in use. */
export interface LotFitted {
  readonly device: string;
  readonly site: string;
  readonly part: Part;
  /** "" where it was not recorded. */
  readonly lot: string;
  /** The last complete replacement; null where none is logged. */
  readonly fitted: Day | null;
  /** The earliest expiry the Shelf has for this part and lot. */
  readonly expiry: Day | null;
  /** What is not as it should be, "" where nothing. */
  readonly gap: string;
}

/** The lots in use on a day, those that are unknown first. */
export function lotsFitted(
  snapshot: Snapshot,
  reading: Reading,
  { devices, log }: { readonly devices: readonly Serving[]; readonly log: JobIndex },
): LotFitted[] {
  const judged = judge(snapshot, reading);
  const expiries = expiryOf(reading);
  const { reportDate } = reading.ours.settings;
  const parts = judged.parts.filter(({ task }) => !task);
  const inUse = devices.filter(({ end }) => end === null || end > reportDate);
  return inUse
    .flatMap(({ device, site, at }) =>
      parts.flatMap((part): LotFitted[] => {
        if (judged.rowAt(part, at) === null) return [];
        const last = log.of(device.key, part).renewals.at(-1);
        const lot = last?.lot ?? "";
        const fitted = last?.date ?? null;
        const expiry = lot === "" ? null : (expiries.get(lotKey(part, lot)) ?? null);
        const gap = gapOf({ lot, fitted, expiry });
        return [{ device: device.id, site, part, lot, fitted, expiry, gap }];
      }),
    )
    .sort(
      (one, other) =>
        Number(one.gap === "") - Number(other.gap === "") ||
        one.site.localeCompare(other.site, "en") ||
        one.device.localeCompare(other.device, "en"),
    );
}

function gapOf({ lot, fitted, expiry }: Pick<LotFitted, "lot" | "fitted" | "expiry">): string {
  if (fitted === null) return "no complete replacement logged";
  if (lot === "") return "lot not recorded";
  return expiry !== null && fitted > expiry ? "fitted after its expiry" : "";
}

function expiryOf({ ours }: Reading): ReadonlyMap<string, Day> {
  const partOf = partFinder(ours.parts);
  const earliest = new Map<string, Day>();
  for (const { part: text, lot, expiry } of ours.shelf) {
    const part = partOf(text);
    if (part === null || expiry === null || lot === "") continue;
    const key = lotKey(part, lot);
    if (expiry < (earliest.get(key) ?? Infinity)) earliest.set(key, expiry);
  }
  return earliest;
}

/** Lots are the same whatever the case and the spaces around. */
function lotKey(part: Part, lot: string): string {
  return `${part.code}\n${keyOf(lot)}`;
}
