import fc from "fast-check";
import { day } from "../../src/core/day.ts";

export const TODAY = day("2026-07-06");

/** Stands in every foreign text: what leaves the programme must not hold it. */
export const FOREIGN = "stays-here";

/** What a stranger's book is like. */
export interface Traits {
  readonly seed: number;
  readonly system: 1900 | 1904;
  readonly devices: number;
  /** Merged title rows above the headings. */
  readonly titles: number;
  readonly dates: "serial" | "text" | "mixed";
  /** Rows between the devices that are none: blank, totals, headings again, notes, rows without a device. */
  readonly between: boolean;
  readonly counts: "wide" | "long" | "none";
  readonly filter: "none" | "idle" | "active";
  readonly isProtected: boolean;
  readonly table: boolean;
  readonly hidden: boolean;
  readonly named: boolean;
  readonly dressed: boolean;
  /** A column of the stranger's formulas; bare ones carry no stored result. */
  readonly formulas: "none" | "stored" | "bare";
  readonly styles: boolean;
  readonly shared: boolean;
  readonly extras: number;
}

const often = (arbitrary: number): fc.Arbitrary<boolean> =>
  fc.integer({ min: 0, max: 99 }).map((one) => one < arbitrary);

export const TRAITS: fc.Arbitrary<Traits> = fc.noBias(
  fc.record({
    seed: fc.noShrink(fc.integer({ min: 1, max: 1 << 30 })),
    system: fc.constantFrom(1900 as const, 1900 as const, 1900 as const, 1904 as const),
    devices: fc.integer({ min: 1, max: 9 }),
    titles: fc.integer({ min: 0, max: 3 }),
    dates: fc.constantFrom("serial" as const, "serial" as const, "text" as const, "mixed" as const),
    between: often(50),
    counts: fc.constantFrom("wide" as const, "long" as const, "none" as const),
    filter: fc.constantFrom(
      "none" as const,
      "none" as const,
      "none" as const,
      "idle" as const,
      "active" as const,
    ),
    isProtected: often(12),
    table: often(30),
    hidden: often(30),
    named: often(30),
    dressed: often(30),
    formulas: fc.constantFrom("none" as const, "none" as const, "stored" as const, "bare" as const),
    styles: often(4),
    shared: often(40),
    extras: fc.integer({ min: 0, max: 3 }),
  }),
);
