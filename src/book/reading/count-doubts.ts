import type { Day } from "../../core/day.ts";
import type { Count } from "../records/records.ts";
import { inDoubt, type Met, type Why } from "./count-parts.ts";
import type { CountSheet } from "./count-sheets.ts";
import type { Newer } from "./newest-counts.ts";
import { oddCounts } from "./odd-counts.ts";

interface Read {
  readonly byDevice: ReadonlyMap<string, Count[]>;
  /** Of how many rows a sum is. */
  readonly parts: ReadonlyMap<Count, number>;
  readonly met: Met[];
  /** Counts that a later row of their sheet put in the place of others. */
  readonly corrected: readonly Met[];
}

/** Rows of which most come twice are no corrections: each may be a part, and the higher one too low. */
export function doubtHabit({ byDevice, met, corrected }: Read): void {
  const all = [...byDevice.values()].flat().filter(({ count }) => count !== null);
  if (corrected.length < ENOUGH || corrected.length * 2 < all.length) return;
  for (const one of corrected) {
    const own = byDevice.get(one.count.deviceKey) ?? [];
    if (own.includes(one.count)) doubt(own, met, { ...one, why: "rows" });
  }
}

const ENOUGH = 4;

/** A month of fewer parts than one before it lacks some, and may be too low. */
export function doubtFewer({ byDevice, parts, met }: Read): void {
  for (const own of byDevice.values()) {
    let most = 1;
    for (const count of [...own].sort((one, other) => one.month - other.month)) {
      const number = parts.get(count) ?? 1;
      if (number < most && count.count !== null)
        doubt(own, met, { why: "fewer", count, other: "" });
      most = Math.max(most, number);
    }
  }
}

/** The newest count of a device may be an old one where a newer one was not read. */
export function doubtNewest({ byDevice, met }: Read, newer: ReadonlyMap<string, Newer>): void {
  for (const [key, why] of newer) {
    const own = byDevice.get(key) ?? [];
    const newest = own
      .filter(({ count }) => count !== null)
      .reduce<Count | null>(
        (last, one) => (last !== null && last.month > one.month ? last : one),
        null,
      );
    if (newest !== null) doubt(own, met, { why, count: newest, other: "" });
  }
}

/** Counts beside which stand others that are not used may lack what those have. */
export function doubtBeside({ byDevice, met }: Read, others: readonly Count[]): void {
  for (const { deviceKey, month, sheet, count, faulty } of others) {
    const own = byDevice.get(deviceKey) ?? [];
    const used = own.find((one) => one.month === month && one.count !== null);
    if (used === undefined || (count === null && !faulty)) continue;
    doubt(own, met, { why: "not used", count: used, other: sheet });
  }
}

/** The newest counts of all devices, where they changed together. */
export function doubtOdd({ byDevice, met }: Read, reportDate: Day): void {
  for (const [why, count] of oddCounts(byDevice.values(), reportDate)) {
    doubt(byDevice.get(count.deviceKey) ?? [], met, { why, count, other: "" });
  }
}

/** All counts of a sheet, where there is a reason. */
export function doubtSheet({ byDevice, met }: Read, { page }: CountSheet, why: Why | null): void {
  if (why === null) return;
  const { name } = page.sheet;
  for (const own of byDevice.values()) {
    for (const count of own.filter((one) => one.sheet === name && one.count !== null)) {
      doubt(own, met, { why, count, other: "" });
    }
  }
}

function doubt(own: Count[], met: Met[], one: Met): void {
  const at = own.indexOf(one.count);
  // It may be in doubt already.
  if (at < 0) return;
  own[at] = inDoubt(one.count);
  met.push(one);
}
