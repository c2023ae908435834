import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { demoBook, DEMO_SEED } from "../../../src/book/demo/workbook.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { unitsSheet } from "../../../src/book/year/year-units.ts";
import { yearSheet } from "../../../src/book/year/year-ahead.ts";
import { missingTexts } from "../../../src/book/year/use.ts";
import { NO_WHAT_IF, type WhatIf } from "../../../src/book/year/what-if.ts";
import { type Year, yearAhead } from "../../../src/book/year/year.ts";
import { NODE_CODEC } from "../../../src/cli/files.ts";
import {
  addMonths,
  day,
  type Day,
  daysInMonth,
  isoText,
  monthStart,
} from "../../../src/core/day.ts";
import { newWorkbook, openWorkbook } from "../../../src/xlsx/index.ts";
import { birthsBook, BIRTHS_DATE } from "../../scenes/births.ts";
import {
  JULY,
  partOf,
  partsWith,
  siteWith,
  small,
  type Typical,
  yearOf,
} from "../../scenes/programme.ts";
import { jobOf, on } from "../../scenes/scene.ts";
import { cases } from "../../cases.ts";

/** Counts of so many uses a day in the months that ended. */
function daily(rate: number, months = 13): number[] {
  return Array.from({ length: months }, (_, at) => {
    const [year = 0, month = 1] = isoText(addMonths(monthStart(JULY), at - months))
      .split("-")
      .map(Number);
    return rate * daysInMonth(year, month);
  });
}

/** One use a day is 30.44 a month: sets last 180 / 30.44 = 5 months, cushions 9 − 3 · 10.44 / 40 = 8. */
const usual: Typical = { id: "A-1", counts: daily(1) };

/** Replacements on schedule by month, "2026-10 1" and so on, those without left out. */
function plannedIn(year: Year, code: string): string[] {
  return partOf(year, code).months.flatMap(({ scheduled }, at) =>
    scheduled === 0 ? [] : [`${isoText(year.months[at] ?? JULY).slice(0, 7)} ${scheduled}`],
  );
}

const intervals = (year: Year, code: string): [number, number][] =>
  partOf(year, code).units.map(({ months, then }) => [months, then]);

describe("a year ahead by hand", () => {
  it("plans each part by its interval now and then", () => {
    const year = yearOf(small([usual]));
    expect([intervals(year, "SET"), intervals(year, "CUSHION")]).toEqual([[[5, 5]], [[8, 8]]]);
    expect(plannedIn(year, "SET")).toEqual(["2026-10 1", "2027-03 1"]);
    expect(plannedIn(year, "CUSHION")).toEqual(["2027-01 1"]);
    expect(partOf(year, "SET").total).toEqual({
      scheduled: 2,
      unplanned: 0,
      expected: 2,
      // By counts of 30 a month, which are uncertain themselves, the five months may become four.
      ...{ low: 2, high: 3 },
      holds: expect.closeTo(1) as number,
    });
  });

  it("looks twelve whole months ahead from any day: 12 sets every three months are 48", () => {
    const devices = Array.from({ length: 12 }, (_, at) => ({
      id: `A-${at + 1}`,
      set: on(isoText((day("2026-11-27") - 7 * at) as Day)),
    }));
    for (const date of ["2026-11-30", "2026-12-01", "2026-12-08"]) {
      const year = yearOf(small(devices, { settings: { reportDate: day(date) } }));
      const { months, total } = partOf(year, "SET");
      expect([total.expected, total.low, total.high]).toEqual([48, 48, 48]);
      expect(months.reduce((all, { expected }) => all + expected, 0)).toBe(48);
      expect(months).toHaveLength(13);
      const parts = yearSheet(year).rows.map((row) => row.at(-1));
      const told = parts.filter((text) => text !== null);
      // November 2027 ends with the twelve months that begin on its last day.
      const end = date === "2026-11-30" ? [] : [`to ${isoText(addMonths(day(date), 12))}`];
      expect(told.slice(0, 1 + end.length)).toEqual([`after ${date}`, ...end]);
    }
  });

  it("does an overdue part at once and once, and goes on from there", () => {
    const year = yearOf(small([{ ...usual, set: on("2025-06-01") }]));
    expect(plannedIn(year, "SET")).toEqual(["2026-07 1", "2026-12 1", "2027-05 1"]);
  });

  it("plans nothing for a device after the month in which it leaves, and nothing for a retired one", () => {
    const leaving = { ...usual, retiredOn: on("2026-11-30") };
    expect(plannedIn(yearOf(small([leaving])), "SET")).toEqual(["2026-10 1"]);
    const long = on("2025-10-01");
    const gone = { id: "A-2", status: "Retired", set: long, cushion: long };
    expect(partOf(yearOf(small([usual, gone])), "SET").units.length).toBe(1);
  });

  it.each([
    ["a text date", { set: "last spring" }],
    ["no date", { set: "" }],
    ["a date to come", { set: on("2026-08-01") }],
  ])("takes %s as due at once, and gives it the shortest interval from then on", (_, wrong) => {
    const year = yearOf(small([{ ...usual, ...wrong }]));
    // Twelve whole months end on 6 July 2027, the fifth of these days.
    expect(plannedIn(year, "SET")).toEqual([
      ...["2026-07 1", "2026-10 1", "2027-01 1", "2027-04 1", "2027-07 1"],
    ]);
    expect(partOf(year, "SET").units[0]?.doubt).toContain("taken as due at once");
  });

  it.each([
    ["the day of the report", "2026-07-06", null],
    ["three weeks before it", "2026-06-19", null],
    ["five weeks before it", "2026-06-05", 0],
  ])("counts early replacements of a set fitted %s only after a month in use", (_, date, worn) => {
    const year = yearOf(small([usual], { ours: { jobs: [jobOf("A-1", "SET", date)] } }));
    const { wear, total } = partOf(year, "SET");
    expect(wear.wear === null ? null : wear.failures).toBe(worn);
    expect(total.unplanned > 0).toBe(worn !== null);
    expect(total.high > total.low).toBe(worn !== null);
  });

  it("names the site whose count of a month is missing", () => {
    const counts = daily(1).map((count, at) => (at === 11 ? null : count));
    const { use } = yearOf(small([usual, { id: "A-2", site: "S02", counts }]));
    expect(missingTexts(use, (month) => isoText(month).slice(0, 7))).toEqual(["2026-05 (S02)"]);
  });

  it("takes an open finding as due at once", () => {
    const crack = jobOf("A-1", "SET", "2026-07-01", { job: "inspected", finding: "crack" });
    const year = yearOf(small([usual], { ours: { jobs: [crack] } }), { wear: "none" });
    expect(plannedIn(year, "SET")).toEqual(["2026-07 1", "2026-12 1", "2027-05 1"]);
    expect(partOf(year, "SET").units[0]?.doubt).toBe("finding crack: due at once");
  });

  it("does not average a new device's uses over months before it", () => {
    // 58 a month beside 58: the months before it had made of both some 44.
    const at58 = Array.from({ length: 24 }, () => 58);
    const added = {
      ...usual,
      id: "A-2",
      counts: at58.map((count, at) => (at < 19 ? null : count)),
    };
    const both = yearOf(small([{ ...usual, counts: at58 }, added]));
    expect(both.use.devices.size).toBe(2);
    for (const uses of both.use.devices.values()) expect(uses / 58).toBeCloseTo(1, 1);
    // Where it took its uses from the other, nothing is made up: together they are used as before.
    const shared = at58.map((count, at) => (at < 19 ? count : count / 2));
    const half = yearOf(
      small([
        { ...usual, counts: shared },
        { ...added, counts: added.counts.map((count) => (count === null ? null : count / 2)) },
      ]),
    );
    expect(half.use.devices.size).toBe(2);
    for (const uses of half.use.devices.values()) expect(uses / 29).toBeCloseTo(1, 1);
  });

  it("uses an estimate at a site too new for counts, and says so", () => {
    const sites = [siteWith("S01"), siteWith("S02", { expectedUses: 20 })];
    const year = yearOf(small([usual, { id: "B-1", site: "S02" }], { sites }));
    expect(intervals(year, "SET")).toEqual([
      [5, 5],
      [3, 6],
    ]);
    expect(year.estimated).toEqual(["B-1"]);
  });

  it("mixes the first counts into an estimate, where they are higher", () => {
    const sites = [siteWith("S01"), siteWith("S02", { expectedUses: 20 })];
    const afterOf = (counts: readonly (number | string | null)[]): number | undefined =>
      intervals(
        yearOf(small([usual, { id: "B-1", site: "S02", counts }], { sites })),
        "SET",
      )[1]?.[1];
    // Uses of 180 a part: 20 a month last the longest six months; two months at 60 make it (2 × 60 + 20) / 3 a month.
    expect(afterOf([])).toBe(6);
    expect(afterOf([60, 60])).toBe(3);
    // One month of 60: (60 + 2 × 20) / 3, about 33 a month, lasts five.
    expect(afterOf([60])).toBe(5);
    // Fewer uses than estimated are too few counts to go by, and by doubtful ones the shortest interval holds.
    expect(afterOf([5, 5])).toBe(6);
    expect(afterOf([60, "?"])).toBe(3);
    // A month that others have counted is the most of what is known.
    expect(afterOf([60, null])).toBe(3);
  });

  it("never uses an estimate for counts that are faulty or late", () => {
    const sites = [siteWith("S01", { expectedUses: 20 })];
    const faulty = { ...usual, id: "A-2", counts: [...daily(1).slice(0, -1), "?"] };
    const late = {
      ...usual,
      id: "A-3",
      counts: [...daily(1).slice(0, -5), null, null, null, null, null],
    };
    const year = yearOf(small([usual, faulty, late], { sites }));
    expect(intervals(year, "SET").slice(1)).toEqual([
      [3, 3],
      [3, 3],
    ]);
    expect(year.estimated).toEqual([]);
  });

  it("is not lowered by a month in which a device has no count, whether its cell is blank or its row missing", () => {
    const more = { ...usual, id: "A-2", counts: daily(2) };
    const gap = { ...more, counts: daily(2).map((count, at) => (at === 10 ? null : count)) };
    const full = yearOf(small([usual, more]));
    for (const long of [false, true]) {
      const year = yearOf(small([usual, gap], { long }));
      const [all, sound] = [year, full].map(({ use }) =>
        use.programme.ahead.reduce((sum, { uses }) => sum + uses, 0),
      );
      expect(all).toBeLessThan(1.1 * (sound ?? NaN));
      expect(year.use.sites[0]?.history.length).toBe(12);
      expect(year.use.sites[0]?.missing.map(isoText)).toEqual(["2026-04-01"]);
      year.use.programme.ahead.forEach(({ uses }, at) => {
        expect(uses).toBeGreaterThanOrEqual((full.use.programme.ahead[at]?.uses ?? NaN) - 1e-6);
      });
    }
  });

  it("gives cushions of vinyl the short end unless the site's wipes are known to be free of alcohol", () => {
    for (const [wipes, months] of [
      ["alcohol", 6],
      ["", 6],
      ["alcohol-free", 8],
    ] as const) {
      const year = yearOf(small([usual], { sites: [siteWith("S01", { wipes })] }));
      expect([wipes, intervals(year, "CUSHION")]).toEqual([wipes, [[months, months]]]);
    }
  });

  it("turns babies into sessions", () => {
    const settings = { countsBabies: true, rescreenFactor: 1.5 };
    expect(intervals(yearOf(small([usual], { settings })), "SET")).toEqual([[3, 3]]);
  });

  it("reckons sessions from births where asked to, shared alike where nothing is counted", () => {
    const sites = [siteWith("S01", { births: 730 })];
    const settings = { rescreenFactor: 1.2, coverage: 0.5 };
    const year = yearOf(
      small([{ id: "A-1" }, { id: "A-2" }], { sites, settings }),
      {},
      { births: true },
    );
    const sessions = year.use.programme.ahead.reduce((sum, { uses }) => sum + uses, 0);
    expect(sessions).toBeCloseTo(730 * 0.5 * 1.2, 9);
    expect(year.use.devices.get("a-1")).toBeCloseTo((438 / 365 / 2) * 30.436875, 9);
  });

  it("keeps a part whose limits are crossed, at the shorter end; a device that stands twice may be two", () => {
    const parts = partsWith().map((part) => (part.code === "SET" ? { ...part, longest: 2 } : part));
    const year = yearOf(small([usual, usual], { parts }));
    expect(year.leftOut).toEqual([]);
    expect(intervals(year, "SET")).toEqual([
      [2, 2],
      [2, 2],
    ]);
    expect(partOf(year, "CUSHION").units.map(({ doubt }) => doubt)).toEqual([
      "Date in doubt (device is in several rows): taken as due at once",
      "Date in doubt (device is in several rows): taken as due at once",
    ]);
  });
});

describe("what if", () => {
  const two = [usual, { ...usual, id: "B-1", site: "S02" }];
  const supposed = (whatIf: Partial<WhatIf>): Year => yearOf(small(two), whatIf);

  it("more volume shortens the interval now and then", () => {
    expect(intervals(supposed({ volume: 1 }), "SET")).toEqual([
      [3, 3],
      [3, 3],
    ]);
  });

  it("another interval holds within those of Parts and is refused beyond them", () => {
    const shorter = { part: "SET", shortest: 3, longest: 4 };
    expect(intervals(supposed({ intervals: [shorter] }), "SET")).toEqual([
      [4, 4],
      [4, 4],
    ]);
    expect(() => supposed({ intervals: [{ ...shorter, longest: 7 }] })).toThrow(
      "The what-if cannot be worked out: Electrode set: 7 months is longer than the 6 on Parts, which is the most allowed.",
    );
  });

  it("other wipes hold at one site or everywhere", () => {
    const there = supposed({ wipes: [{ site: "S02", wipes: "alcohol" }] });
    expect(intervals(there, "CUSHION")).toEqual([
      [8, 8],
      [6, 6],
    ]);
    const everywhere = supposed({ wipes: [{ site: "", wipes: "alcohol" }] });
    expect(intervals(everywhere, "CUSHION")).toEqual([
      [6, 6],
      [6, 6],
    ]);
  });

  it("added devices begin with new parts, by the uses said or, unknown, the shortest interval", () => {
    const year = supposed({
      added: [
        { site: "S09", devices: 2, uses: 40 },
        { site: "S08", devices: 1, uses: null },
      ],
    });
    expect(intervals(year, "SET").slice(2)).toEqual([
      [4, 4],
      [4, 4],
      [3, 3],
    ]);
    const added = partOf(year, "SET").sites.find(({ site }) => site === "S09");
    expect(added?.months.map(({ scheduled }) => scheduled)).toEqual([
      0, 0, 0, 0, 2, 0, 0, 0, 2, 0, 0, 0, 2,
    ]);
  });

  it("the work of a device that leaves falls to the others of its site", () => {
    const here = small([usual, { ...usual, id: "A-2" }]);
    expect(intervals(yearOf(here, { retired: ["a-2"] }), "SET")).toEqual([[5, 3]]);
  });

  it("wear of the log counts or does not", () => {
    const jobs = [
      jobOf("A-1", "SET", "2026-01-06"),
      jobOf("A-1", "SET", "2026-05-20", { finding: "crack" }),
    ];
    const worn = small([usual], { ours: { jobs } });
    const [counted, none] = [yearOf(worn), yearOf(worn, { wear: "none" })];
    // One worn end in 181 days less half of half a week: (1 + ½) a so many months, over 365 days to come.
    // The log is young: a shortest interval of the one device is put to it.
    const rate = 1.5 / ((181 - 1.75) / 30.436875 + 3);
    expect(partOf(counted, "SET").total.unplanned).toBeCloseTo((rate * 365) / 30.436875, 9);
    expect(partOf(none, "SET").total.unplanned).toBe(0);
  });

  it("names everything it cannot use", () => {
    const wrong = {
      ...{ retired: ["X"], intervals: [{ part: "HOSE", shortest: 1, longest: 2 }] },
      wipes: [{ site: "S77", wipes: "alcohol" }],
    };
    expect(() => supposed(wrong)).toThrow(
      'The what-if cannot be worked out: "X" is not in the register; "HOSE" is not a part on Parts; "S77" is not a site of the programme.',
    );
  });
});

describe.each([
  ["velloran", () => newWorkbook(demoBook(DEMO_SEED, false).plan, { codec: NODE_CODEC }), JULY],
  ["births", birthsBook, BIRTHS_DATE],
] as const)("tie-outs of programme %s", (name, bytes, reportDate) => {
  const { snapshot } = openWorkbook(bytes(), { codec: NODE_CODEC });
  const reading = readWorkbook(snapshot, reportDate, { reportDate });
  const year = yearAhead(snapshot, reading, { months: 12, level: 0.9, whatIf: NO_WHAT_IF });
  const sum = (numbers: readonly number[]): number => numbers.reduce((all, one) => all + one, 0);

  it("devices add up to sites, sites to the programme, months to the year", () => {
    for (const { part, unitNeeds, sites, months, total, units } of year.parts) {
      months.forEach(({ scheduled, unplanned, expected }, at) => {
        expect(sum(unitNeeds.map((need) => need[at]?.scheduled ?? NaN))).toBeCloseTo(scheduled, 6);
        expect(sum(unitNeeds.map((need) => need[at]?.unplanned ?? NaN))).toBeCloseTo(unplanned, 6);
        expect(sum(sites.map((site) => site.months[at]?.scheduled ?? NaN))).toBeCloseTo(
          scheduled,
          6,
        );
        expect(scheduled + unplanned).toBeCloseTo(expected, 9);
      });
      expect([part.code, sum(sites.map((site) => site.units))]).toEqual([part.code, units.length]);
      expect(sum(months.map(({ expected }) => expected))).toBeCloseTo(total.expected, 6);
      expect(total.low).toBeLessThanOrEqual(total.expected);
      expect(total.high).toBeGreaterThanOrEqual(total.expected);
    }
  });

  it("rows of the register are all used, rejected or left out", () => {
    const rows = reading.devices.length;
    const gone = reading.devices.filter(({ retired }) => retired).length;
    expect(year.leftOut).toEqual([]);
    for (const { part, units } of year.parts) {
      expect([part.code, units.length + gone]).toEqual([part.code, rows]);
    }
  });

  it("the sheets show what was reckoned: sums of Year by device are those of Year ahead", () => {
    const byDevice = unitsSheet(year).rows;
    const byMonth = yearSheet(year).rows;
    for (const { part } of year.parts) {
      const own = (rows: readonly (readonly unknown[])[], column: number): number =>
        sum(rows.filter(([item]) => item === part.name).map((row) => Number(row[column] ?? 0)));
      expect([name, own(byDevice, 10)]).toEqual([
        name,
        expect.closeTo(own(byMonth, 5), 6) as number,
      ]);
    }
  });
});

describe("for any programme", () => {
  const { snapshot } = openWorkbook(
    newWorkbook(demoBook(DEMO_SEED, false).plan, { codec: NODE_CODEC }),
    { codec: NODE_CODEC },
  );
  const reading = readWorkbook(snapshot, JULY, { reportDate: JULY });
  const expected = (whatIf: Partial<WhatIf>, code: string): number => {
    const all = { ...NO_WHAT_IF, ...whatIf };
    const year = yearAhead(snapshot, reading, { months: 12, level: 0.9, whatIf: all });
    return partOf(year, code).total.expected;
  };

  it("34 devices without early wear need 68 to 136 sets and 45 to 68 cushions a year, whatever the volume", () => {
    fc.assert(
      fc.property(fc.double({ min: -0.99, max: 9, noNaN: true }), (volume) => {
        const [sets, cushions] = [
          expected({ volume, wear: "none" }, "SET"),
          expected({ volume, wear: "none" }, "CUSHION"),
        ];
        // Twelve calendar months begun on the 6th end six days short of a year: a set or two fall into them.
        expect(sets).toBeGreaterThanOrEqual(68 - 2);
        expect(sets).toBeLessThanOrEqual(136);
        expect(cushions).toBeGreaterThanOrEqual(45);
        expect(cushions).toBeLessThanOrEqual(68);
      }),
      { numRuns: cases("A year without early wear", 25, 8) },
    );
  });

  it("more volume never needs fewer replacements", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -0.9, max: 3, noNaN: true }),
        fc.double({ min: 0, max: 3, noNaN: true }),
        (volume, more) => {
          for (const code of ["SET", "CUSHION"]) {
            const fewer = expected({ volume, wear: "none" }, code);
            expect(expected({ volume: volume + more, wear: "none" }, code)).toBeGreaterThanOrEqual(
              fewer,
            );
          }
        },
      ),
      { numRuns: cases("A year of more volume", 20, 8) },
    );
  });
});
