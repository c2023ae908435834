import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError } from "../../src/core/errors.ts";
import { twoLevelShort } from "../../src/core/place.ts";
import { shareOut, type Supplied } from "../../src/core/two-levels.ts";

const short = (store: number, there: readonly number[], lead: number, sites: readonly Supplied[]) =>
  twoLevelShort(
    { stock: store, leadMonths: lead },
    sites.map((site, at) => ({ ...site, stock: there[at] ?? 0 })),
  ).short.reduce((sum, one) => sum + one, 0);

/** Every way to give so many units to a store and its sites. */
function* ways(units: number, places: number): Generator<readonly number[]> {
  if (places === 1) {
    yield [units];
    return;
  }
  for (let first = 0; first <= units; first += 1) {
    for (const rest of ways(units - first, places - 1)) yield [first, ...rest];
  }
}

describe("second implementation: every way to share out", () => {
  it("finds none that leaves less to be short", () => {
    const site = fc.record({
      perMonth: fc.double({ min: 0.01, max: 2, noNaN: true }),
      leadMonths: fc.double({ min: 0.03, max: 0.5, noNaN: true }),
    });
    const check = fc.property(
      fc.integer({ min: 0, max: 6 }),
      fc.double({ min: 0.3, max: 3, noNaN: true }),
      fc.array(site, { minLength: 1, maxLength: 3 }),
      (units, lead, sites) => {
        const found = shareOut(units, lead, sites);
        expect(found.store + found.sites.reduce((sum, one) => sum + one, 0)).toBe(units);
        expect(found.inStore).toBeCloseTo(short(units, [], lead, sites), 12);
        expect(found.short).toBeCloseTo(short(found.store, found.sites, lead, sites), 12);
        for (const [store = 0, ...there] of ways(units, 1 + sites.length)) {
          // A unit called for less than once in a million times is left in the store.
          const other = short(store, there, lead, sites);
          expect(found.short).toBeLessThanOrEqual(other * (1 + 1e-6) + units * 1e-6);
        }
      },
    );
    fc.assert(check, { numRuns: 60 });
  });
});

describe("spares shared out", () => {
  const sites = Array.from({ length: 8 }, () => ({ perMonth: 0.5, leadMonths: 0.066 }));

  it("lie at the sites where they are called for often, and in the store where they are rare", () => {
    // Simulated in tests/bench/store.ts: with 5 in the store calls wait 1.1 days, with 13 in it 2.0.
    expect(shareOut(13, 1.2, sites)).toMatchObject({ store: 5, sites: sites.map(() => 1) });
    const rare = sites.map((site) => ({ ...site, perMonth: 0.05 }));
    expect(shareOut(2, 1.2, rare).store).toBe(2);
  });

  it("of more units never leave more to be short, also where some numbers are passed over", () => {
    const left = [0, 5, 13, 39, 40, 100].map((units) => shareOut(units, 1.2, sites).short);
    left.slice(1).forEach((one, at) => {
      expect(one).toBeLessThanOrEqual(left[at] ?? 0);
    });
  });

  it("refuse what is no number of units, no lead time and no calls", () => {
    expect(() => shareOut(1.5, 1, sites)).toThrow("units must be a whole number, got 1.5");
    expect(() => shareOut(-1, 1, sites)).toThrow(InputError);
    expect(() => shareOut(3, 0, sites)).toThrow("leadMonths must be above 0, got 0");
    expect(() => shareOut(3, 1, [])).toThrow("perMonth must be above 0 at one site, got 0");
  });
});
