import { describe, expect, it } from "vitest";
import { lifeUnder } from "../../../src/core/exposed.ts";
import { exposureIn, lifeChoice, type LifeChoice } from "../../../src/book/year/life-choice.ts";
import { kindFits } from "../../../src/book/year/site-kinds.ts";
import { remembering } from "../../../src/book/records/remembering.ts";
import { lifeOf, wearLines } from "../../../src/book/year/wear-lines.ts";
import { partOf, yearOf, small } from "../../scenes/programme.ts";
import { type Truth, wornProgramme } from "../../scenes/worn.ts";

const BY_MONTHS: Truth = { shape: 2.5, scale: () => 8 };
const BY_USES: Truth = { shape: 2.5, scale: (uses) => 240 / uses };
const BY_WIPES: Truth = { shape: 2.5, scale: (_, alcohol) => (alcohol ? 5 : 10) };

const chosen = (seed: number, truth: Truth): LifeChoice => chosenUnder(truth)(seed);

const chosenUnder = remembering((truth: Truth) =>
  remembering((seed: number): LifeChoice => choiceOf(seed, truth)),
);

function choiceOf(seed: number, truth: Truth): LifeChoice {
  const programme = wornProgramme(seed, truth);
  const { part, wear } = partOf(yearOf(programme), "CUSHION");
  const choice = lifeChoice(programme.reading, part, wear);
  if (choice === null) throw new Error("no choice");
  return choice;
}

const SEEDS = Array.from({ length: 12 }, (_, at) => at + 1);
const kinds = (truth: Truth): string[] =>
  SEEDS.map((seed) => chosen(seed, truth)).map(({ by, wipes }) => `${by}${wipes ? ", wipes" : ""}`);
const share = (found: readonly string[], kind: RegExp): number =>
  found.filter((one) => kind.test(one)).length / found.length;

describe("what a life goes by, in drawn programmes of which it is known", () => {
  it("is months where use makes no difference", () => {
    expect(share(kinds(BY_MONTHS), /^months$/)).toBeGreaterThanOrEqual(0.9);
  });
  it("is uses, or months faster at more use, where parts last so many uses", () => {
    expect(share(kinds(BY_USES), /^(uses|months and use)/)).toBe(1);
  });
  it("is wipes where those halve it", () => {
    expect(share(kinds(BY_WIPES), /, wipes$/)).toBe(1);
  });
  it("has about the true life at any use", () => {
    for (const uses of [15, 40, 80]) {
      const found = SEEDS.map((seed) => {
        const choice = chosen(seed, BY_USES);
        return lifeUnder(choice.fit, exposureIn(choice, { uses, alcohol: true })).scale;
      });
      const mean = found.reduce((sum, one) => sum + one, 0) / found.length;
      expect(mean / (240 / uses)).toBeGreaterThan(0.85);
      expect(mean / (240 / uses)).toBeLessThan(1.15);
    }
  });
});

describe("whether the interval fits, by kind of site", () => {
  const programme = wornProgramme(1, BY_USES);
  const year = yearOf(programme);
  const part = partOf(year, "CUSHION");

  it("is judged by the device whose parts wear soonest, never for a longer interval than its own", () => {
    const choice = chosen(1, BY_USES);
    const fits = kindFits(part.part, part.units, choice);
    expect(fits.length).toBeGreaterThan(1);
    expect(fits.reduce((sum, { devices }) => sum + devices, 0)).toBe(part.units.length);
    for (const { months, low, share: worn, high } of fits) {
      expect(low).toBeLessThan(worn);
      expect(worn).toBeLessThan(high);
      expect(months).toBeLessThanOrEqual(part.part.longest ?? 0);
    }
    const costs = { ...part.part.supply, earlyCost: 400 };
    for (const fit of kindFits({ ...part.part, supply: costs }, part.units, choice)) {
      expect(fit.leastCost).not.toBeNull();
      expect(fit.leastCost ?? Infinity).toBeLessThanOrEqual(fit.months);
    }
  });
  it("is told in a line a kind, with what it goes by and how that was chosen", () => {
    const lines = wearLines(year, part, 10);
    expect(lines[2]).toMatch(
      /^ {2}Its life goes by .*: that foretells lives held out better than months/,
    );
    expect(lines.slice(3).join("\n")).toMatch(
      /^ {2}(At the (short|long)est interval|Between the two) \(\d+ devices?, up to \d+ uses a month\) worn: /m,
    );
  });
});

describe("too little to choose by", () => {
  it("a log with few worn ends, or devices without counts, says nothing of uses", () => {
    const rare = wornProgramme(3, { shape: 2.5, scale: () => 60 });
    const year = yearOf(rare);
    expect(lifeOf(year, partOf(year, "CUSHION"))).toBeNull();
    const worn = wornProgramme(3, BY_USES);
    const uncounted = { ...worn, reading: { ...worn.reading, counts: [] } };
    const without = yearOf(uncounted);
    expect(lifeOf(without, partOf(without, "CUSHION"))).toBeNull();
    const none = yearOf(small([{ id: "A-1" }]));
    expect(wearLines(none, partOf(none, "CUSHION"), 10)).toHaveLength(1);
  });
});
