import { headingRow } from "../../../src/book/sheets/layout.ts";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Budget, type BudgetRequest, budgetOf } from "../../../src/book/budget/budget.ts";
import { sumOf } from "../../../src/book/budget/money.ts";
import { budgetSays } from "../../../src/book/budget/says.ts";
import { fiscalYear } from "../../../src/book/budget/fiscal.ts";
import { demoBook, DEMO_SEED } from "../../../src/book/demo/workbook.ts";
import type { ShelfItem, Supply } from "../../../src/book/records/records.ts";
import { assumptionsOf } from "../../../src/book/budget/assumptions.ts";
import { budgetSheet } from "../../../src/book/budget/budget-sheet.ts";
import { bridgeSheet } from "../../../src/book/budget/budget-bridge.ts";
import { budgetSitesSheet, budgetWorkSheet } from "../../../src/book/budget/budget-sites.ts";
import { unitsSheet } from "../../../src/book/year/year-units.ts";
import { type CellValue, type Sheet, valueAt } from "../../../src/book/workbook/snapshot.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { NO_WHAT_IF, type WhatIf } from "../../../src/book/year/what-if.ts";
import { NODE_CODEC } from "../../../src/cli/files.ts";
import { type Day, day, isoText } from "../../../src/core/day.ts";
import { applyPlan, newWorkbook, openWorkbook } from "../../../src/xlsx/index.ts";
import { birthsBook, BIRTHS_DATE } from "../../scenes/births.ts";
import { JULY, partsWith, siteWith, small, type Small } from "../../scenes/programme.ts";
import { jobOf, on } from "../../scenes/scene.ts";
import { onShelf } from "../../scenes/shelf.ts";
import { sheetAt, sparespan } from "../../cli/session.ts";
import type { Settings } from "../../../src/book/records/settings.ts";

const USUAL = { from: null, level: null, pooled: false, births: false, whatIf: NO_WHAT_IF };
const sum = (numbers: readonly number[]): number => numbers.reduce((all, one) => all + one, 0);

/** One device with sets due on 2026-08-20 and every three months, nothing on the shelf; fiscal year from July. */
function programme(set: Partial<Supply> = {}, settings: Partial<Settings> = {}): Small {
  return small([{ id: "A-1" }], {
    parts: partsWith(set, { packPrice: null }),
    settings: { fiscalStart: 7, ...settings },
    sites: [siteWith("S01")],
  });
}

const budget = (given: Small, more: Partial<BudgetRequest> = {}): Budget =>
  budgetOf(given.snapshot, given.reading, { ...USUAL, ...more });

describe("a fiscal year", () => {
  it("is the one that began in the last two months, else the next one, or the one said", () => {
    expect(fiscalYear(JULY, 7, null)).toMatchObject({
      name: "2026/27",
      from: day("2026-07-01"),
      months: 12,
    });
    expect(fiscalYear(JULY, 6, null)).toMatchObject({
      name: "2026/27",
      from: day("2026-06-01"),
      months: 11,
      isRunning: true,
    });
    expect(fiscalYear(JULY, 5, null)).toMatchObject({
      name: "2027/28",
      from: day("2027-05-01"),
      months: 22,
      isRunning: false,
    });
    expect(fiscalYear(JULY, 1, null)).toMatchObject({ name: "2027", months: 18 });
    expect(fiscalYear(JULY, 7, day("2026-10-01"))).toMatchObject({
      name: "2026-10 to 2027-09",
      from: day("2026-10-01"),
      months: 15,
    });
    expect(
      fiscalYear(JULY, 10, null).quarters.map(({ name, from, first, last }) => [
        name,
        isoText(from),
        first,
        last,
      ]),
    ).toEqual([
      ["2026/27 Q1", "2026-10-01", 3, 5],
      ["2026/27 Q2", "2027-01-01", 6, 8],
      ["2026/27 Q3", "2027-04-01", 9, 11],
      ["2026/27 Q4", "2027-07-01", 12, 14],
    ]);
  });
});

describe("a budget by hand", () => {
  it("buys the year's sets and the spare that is missing, each quarter at its price", () => {
    // Due in August, November, February and May; the spare comes first; 10 % more from January.
    const found = budget(programme({}, { priceRise: 0.1, freight: 5 }));
    const [sets] = found.places;
    expect(sets?.quarters.map(({ packs, price, cost }) => [packs, price, cost])).toEqual([
      [2, 100, 200],
      [1, 100, 100],
      [1, 110, 110],
      [1, 110, 110],
    ]);
    expect([sets?.startStock, sets?.endStock, sets?.cost]).toEqual([0, 1, 520]);
    expect(found.expected).toBe(520 + sum(found.freight));
    // Without wear the schedule is certain: nothing to put aside.
    expect([found.contingency, found.upper]).toEqual([0, found.expected]);
  });

  it("prices what is bought by the day its order goes out: one quarter may have both prices", () => {
    // Due in November, February and so on; the quarter from December to February uses its set in February.
    const one = budget(programme({}, { priceRise: 0.1 }), { from: day("2026-09-01") });
    expect(one.places[0]?.quarters.map(({ price }) => price)).toEqual([100, 110, 110, 110]);
    const sets = [{ id: "A-1" }, { id: "A-2", set: on("2026-04-10") }];
    const two = small(sets, {
      parts: partsWith({}, { packPrice: null }),
      settings: { priceRise: 0.1 },
      sites: [siteWith("S01")],
    });
    // One is due on 10 January and ordered in December, one on 20 February and ordered in January: half at each price.
    const mixed = budget(two, { from: day("2026-12-01") });
    expect(mixed.places[0]?.quarters[0]?.price).toBe(105);
    expect(mixed.places[0]?.quarters[1]?.price).toBe(110);
    // What is needed in January is bought for last year's price where the lead time is long enough.
    expect(budget(two, { from: day("2026-11-01") }).places[0]?.quarters[0]?.price).toBe(100);
  });

  it("says what it does not hold: early ones, last year's cost, and where freight stands", () => {
    const blind = budget(programme({}, { freight: 5 }));
    const notes = budgetSheet(blind).notes.join(" ");
    // The treasurer's sentence stands with an upper figure only, and here one price is missing.
    expect(budgetSays(blind)).toEqual([
      "The twelve months 2026-07-01 to 2027-06-30 are running: the figures are what is left of them after 2026-07-06, unless they say so far or the year.",
      "Since 2026-07-01, at today's prices: 0.00 for what was replaced, 0.00 for what is on order, 0.00 for stock beyond the spares kept.",
      "What was spent since then is not known, so no figure is given for the year: the Job log is empty. What the accounts say, where they do, is used instead.",
      "Early replacements of Electrode set and Ear cushion are not counted: the Job log so far shows less than one month in use. The upper figure covers those that fall due, but none that wear out earlier.",
      "Last year's cost is unknown: the Job log holds no complete replacement of the last twelve months, so the whole budget counts as a change.",
      "Packs are in the quarter in which they are needed, at the price of the day their order goes out; freight is in the quarter of that day.",
    ]);
    for (const line of budgetSays(blind)) expect(notes).toContain(line);
    expect(blind.bridge[0]?.about).toContain("Unknown");
    expect(assumptionsOf(blind)).toContainEqual([
      "Electrode set: worn before its due date",
      "not counted: the Job log so far shows less than one month in use",
      "Job log",
    ]);
  });

  it("says from when on last year's cost is known, and nothing where all of it is", () => {
    const since = (first: string): string[] => {
      const jobs = ["SET", "CUSHION"].map((code) => jobOf("A-1", code, first));
      const again = jobs.map((job) => ({ ...job, date: day("2026-05-20") }));
      return budgetSays(
        budget(small([{ id: "A-1" }], { parts: partsWith(), ours: { jobs: [...jobs, ...again] } })),
      );
    };
    const [months, whatItHolds = ""] = since("2025-07-06");
    expect(months).toBe("The twelve months are 2027-01-01 to 2027-12-31.");
    expect(whatItHolds).toContain("In 81 of 100 years like this one");
    expect(since("2026-02-20")).toEqual([
      months,
      expect.stringContaining("of 100 years like this one"),
      "Last year's cost is not complete: the Job log begins on 2026-02-20, so the change since then looks larger than it is.",
    ]);
    expect(since("2025-07-06")).toEqual([months, whatItHolds]);
  });

  it("makes packs whole once a year, also where a pack is more than the need", () => {
    const found = budget(programme({ pack: 8, packPrice: 400 }));
    expect(found.places[0]?.quarters.map(({ packs }) => packs)).toEqual([1, 0, 0, 0]);
    expect(found.places[0]?.cost).toBe(400);
  });

  it("begins a later year with the spares that are kept", () => {
    const found = budget(programme(), { from: day("2026-10-01") });
    expect(found.places[0]).toMatchObject({ startStock: 1, endStock: 1, packs: 4 });
  });

  it("begins with what can be used: nothing that expires before, and what is left of plenty in a later year", () => {
    const start = (shelf: ShelfItem, from: Day | null = null): number | undefined => {
      const given = small([{ id: "A-1" }], {
        parts: partsWith({}, { packPrice: null }),
        settings: { fiscalStart: 7 },
        sites: [siteWith("S01")],
        ours: { shelf: [shelf] },
      });
      return budget(given, { from }).places[0]?.startStock;
    };
    expect(start(onShelf(5))).toBe(5);
    expect(start(onShelf(5, { expiry: day("2026-07-31") }))).toBe(0);
    // Of nine one is used on 20 August; the spare alone is kept where nothing else is left.
    expect(start(onShelf(9), day("2026-10-01"))).toBe(8);
    expect(start(onShelf(1), day("2026-10-01"))).toBe(1);
  });

  it("puts parts without a price aside and says so", () => {
    const found = budget(programme());
    expect(found.unpriced).toEqual(["Ear cushion"]);
    expect(budgetSheet(found).notes.join(" ")).toContain(
      "Not complete, so no upper figure is given: no price on Parts: Ear cushion.",
    );
    expect(budget(programme({ packPrice: null })).expected).toBe(0);
  });

  it("tells a what-if among its assumptions and in its bridge", () => {
    const whatIf: WhatIf = {
      ...NO_WHAT_IF,
      added: [{ site: "S09", devices: 1, uses: null }],
      wipes: [{ site: "", wipes: "alcohol" }],
    };
    const found = budget(programme(), { whatIf });
    const told = new Map(assumptionsOf(found).map(([what, value]) => [what, value]));
    expect(told.get("Devices assumed to be added at S09")).toBe(1);
    expect(told.get("Wipes assumed everywhere")).toBe("alcohol");
    // New on 6 July: sets in October, January and April.
    expect(found.bridge.find(({ step }) => step === "Sites")?.amount).toBe(300);
  });
});

describe.each([
  ["velloran", () => newWorkbook(demoBook(DEMO_SEED, false).plan, { codec: NODE_CODEC }), JULY],
  ["births", birthsBook, BIRTHS_DATE],
] as const)("the budget of programme %s", (_, bytes, reportDate) => {
  const { snapshot } = openWorkbook(bytes(), { codec: NODE_CODEC });
  const reading = readWorkbook(snapshot, reportDate, { reportDate });
  const apart = budgetOf(snapshot, reading, USUAL);
  const number = (cell: CellValue | undefined): number => (typeof cell === "number" ? cell : 0);

  it("quarters add up to the year, sites to the programme, to the cent", () => {
    const rows = budgetSheet(apart).rows;
    const quarters = rows.filter(
      ([, quarter]) => typeof quarter === "string" && quarter.includes(" Q"),
    );
    const [left, upper] = [/^(?:Expected|Left), /, /^Upper figure/].map((item) =>
      number(rows.find(([name]) => typeof name === "string" && item.test(name))?.[5]),
    );
    const used = apart.soFar?.replaced ?? 0;
    expect(sumOf(quarters.map((row) => number(row[5])))).toBe(sumOf([left ?? NaN, used]));
    expect(sumOf([left ?? NaN, apart.contingency])).toBe(upper);
    const sites = budgetSitesSheet(apart).rows;
    for (const [item, quarter, , units, packs, cost] of quarters) {
      if (item === "Freight") continue;
      const done = (apart.soFar?.done ?? []).filter(
        ({ part, date }) =>
          part.name === item &&
          [...apart.fiscal.quarters].reverse().find(({ from }) => from <= date)?.name === quarter,
      );
      const own = sites.filter((row) => row[2] === item && row[3] === quarter);
      expect(sumOf([...own.map((row) => number(row[7])), ...done.map((one) => one.cost)])).toBe(
        cost,
      );
      expect(sum(own.map((row) => number(row[5])))).toBe(packs);
      const soFar = sum(done.map((one) => one.units));
      expect(sum(own.map((row) => number(row[4]))) + soFar).toBeCloseTo(number(units), 6);
    }
  });

  it("packs times price is the cost of every site, part and quarter", () => {
    for (const [, , item, , , packs, price, cost] of budgetSitesSheet(apart).rows) {
      expect([item, sumOf([number(packs) * number(price)])]).toEqual([item, number(cost)]);
    }
  });

  it("every pack can be followed: used, kept and there on Budget calculation", () => {
    for (const row of budgetWorkSheet(apart).rows) {
      const [used = 0, start = 0, end = 0, again = 0, buy, pack, packs] = row
        .slice(2, 9)
        .map(number);
      expect(buy).toBeCloseTo(Math.max(0, used + end + again - start), 9);
      // The mean of whole packs: no less than the mean need asks for, and less than a pack more. Intervals
      // that other uses would give move the mean need itself by a few percent.
      const whole = (buy ?? 0) / (pack ?? 1);
      expect(packs).toBeGreaterThanOrEqual(0.95 * whole - 1e-9);
      expect(packs).toBeLessThan(1.05 * whole + 1);
    }
  });

  it("the bridge adds up to the budget, to the cent", () => {
    const rows = bridgeSheet(apart).rows;
    const steps = rows.slice(0, -1);
    const all = apart.whole?.expected ?? apart.expected;
    expect(sumOf(steps.map(([, amount]) => number(amount)))).toBe(all);
    expect(steps.at(-1)?.[2]).toBe(all);
    expect(rows.at(-1)?.[1]).toBe(all);
  });

  it("one store for all uses as much and never buys more packs", () => {
    const pooled = budgetOf(snapshot, reading, { ...USUAL, pooled: true });
    for (const { part } of apart.year.parts) {
      const own = ({ places }: Budget) => places.filter((place) => place.part.code === part.code);
      const used = (found: Budget): number => sum(own(found).map(({ units }) => units));
      const packs = (found: Budget): number => sum(own(found).map((place) => place.packs));
      expect(used(pooled)).toBeCloseTo(used(apart), 6);
      expect(packs(pooled)).toBeLessThanOrEqual(packs(apart));
    }
  });

  it("a surer upper figure is never lower", () => {
    const uppers = [0.5, 0.8, 0.95, 0.999].map(
      (level) => budgetOf(snapshot, reading, { ...USUAL, level }).upper,
    );
    expect([...uppers].sort((one, other) => one - other)).toEqual(uppers);
  });

  it("Year by device holds every device in service and the uses the budget goes by", () => {
    const rows = unitsSheet(apart.year).rows;
    const devices = new Set(rows.map((row) => row[2]));
    const told = assumptionsOf(apart).find(([what]) => what === "Devices in service");
    expect(devices.size).toBe(told?.[1]);
    const inService = reading.devices.filter(({ retired }) => !retired).length;
    expect(devices.size).toBe(inService);
  });
});

describe("sparespan budget, ahead and order", () => {
  const folder = mkdtempSync(join(tmpdir(), "sparespan-budget-"));
  const at = (name: string): string => join(folder, name);
  const BOOK = at("velloran-20260706-clean.xlsx");
  const DAY = ["--report-date", "2026-07-06"];
  beforeAll(async () => {
    await sparespan("demo", folder);
  });
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  const column = (sheet: Sheet, heading: string): number =>
    (sheet.values[headingRow(sheet)] ?? []).findIndex((value) => value === heading);

  it.each(["ahead", "order", "budget"])(
    "%s run twice changes nothing the second time",
    async (job) => {
      const path = at(`${job}.xlsx`);
      expect((await sparespan(job, BOOK, "-o", path, ...DAY)).code).toBe(0);
      const again = await sparespan(job, path, "--dry-run", ...DAY);
      expect(again.out.trimEnd().split("\n").at(-1)).toBe("nothing to change");
    },
  );

  it("shows the same figures in a book that counts its days from 1904", async () => {
    const first = at("moved.xlsx");
    const { plan } = demoBook(DEMO_SEED, false);
    const moved = JSON.parse(
      JSON.stringify(plan, (_, value: unknown) =>
        typeof value === "number" && value > 40_000 && value < 60_000 ? value - 1462 : value,
      ),
    ) as typeof plan;
    writeFileSync(first, newWorkbook(moved, { codec: NODE_CODEC, dateSystem: 1904 }));
    const [there, here] = [at("1904.xlsx"), at("1900.xlsx")];
    const told = await sparespan("budget", first, "--json", "-o", there, ...DAY);
    const other = await sparespan("budget", BOOK, "--json", "-o", here, ...DAY);
    expect(told.code).toBe(0);
    expect(told.out.replace("1904.xlsx", "1900.xlsx")).toBe(other.out);
    const [shifted, plain] = [sheetAt(there, "Budget"), sheetAt(here, "Budget")];
    const from = column(plain, "From");
    const row = headingRow(plain) + 1;
    expect(valueAt(shifted, row, from)).toBe(Number(valueAt(plain, row, from)) - 1462);
    const again = await sparespan("budget", there, "--dry-run", ...DAY);
    expect(again.out.trimEnd().split("\n").at(-1)).toBe("nothing to change");
  });

  it("keeps what was typed with its row, and refuses to lose it", async () => {
    const [made, typed, kept] = [at("made.xlsx"), at("typed.xlsx"), at("kept.xlsx")];
    await sparespan("budget", BOOK, "-o", made, ...DAY);
    const sheet = sheetAt(made, "Budget");
    // Below the sums of the year.
    const top = sheet.values.findIndex(
      (cells) => cells[1] === "2026/27 Q1" && cells[0] !== "Freight",
    );
    const [ordered, cost] = [column(sheet, "Ordered so far"), column(sheet, "Cost so far")];
    const open = openWorkbook(readFileSync(made), { codec: NODE_CODEC });
    // Electrode set of the third quarter changes places with the first, as sorting may do it.
    const cell = (row: number, column: number): CellValue => valueAt(sheet, row, column);
    const blocks = [0, 1, 2, ordered, cost].map((column) => {
      const fresh = new Map<number, CellValue>([
        [ordered, 7],
        [cost, 650],
      ]);
      return {
        column,
        rows: [top, top + 2],
        values: [fresh.get(column) ?? cell(top + 2, column), cell(top, column)],
      };
    });
    const edit = { kind: "fillCells", sheet: "Budget", blocks, expects: {} } as const;
    writeFileSync(typed, applyPlan(open, { summary: "typed", edits: [edit] }));
    expect((await sparespan("budget", typed, "-o", kept, "--volume", "20", ...DAY)).code).toBe(0);
    const after = sheetAt(kept, "Budget");
    const row = after.values.findIndex((cells) => cells[ordered] === 7);
    expect(row).toBe(top + 2);
    expect([valueAt(after, row, 0), valueAt(after, row, 1)]).toEqual([
      "Electrode set",
      "2026/27 Q3",
    ]);
    expect(valueAt(after, row, cost)).toBe(650);
    const lost = await sparespan(
      "budget",
      typed,
      "-o",
      at("lost.xlsx"),
      "--from",
      "2026-10",
      ...DAY,
    );
    expect(lost.code).toBe(2);
    expect(lost.err).toContain(
      "Budget has text typed for a row that no longer exists (Electrode set, 2026/27 Q3): move it to one of your own sheets first.",
    );
  });

  it("names the fiscal year it was last worked out for", async () => {
    const [first, second] = [at("first.xlsx"), at("second.xlsx")];
    await sparespan("budget", BOOK, "-o", first, ...DAY);
    await sparespan("budget", first, "-o", second, "--from", "2027-07", ...DAY);
    expect(valueAt(sheetAt(second, "Budget"), 0, 0)).toBe("Budget of parts, fiscal year 2027/28");
  });

  it.each([
    [["--from", "2025-07"], "--from must be a month within four years whose twelve months are not"],
    [["--from", "2026-08", "--spent", "5"], "--spent goes with a year that is running"],
    [["--level", "0.2"], "level"],
    [["--volume", "many"], "volume"],
    [["--interval", "SET=9-3"], "--interval must be PART=SHORTEST-LONGEST"],
    [["--add", "S09"], "--add must be SITE=DEVICES"],
    [["--wipes", "bleach"], "wipes"],
    [["--retire", "VR-999"], '"VR-999" is not in the register'],
  ])("refuses %j", async (options, said) => {
    const { code, err, out } = await sparespan("budget", BOOK, ...options, ...DAY);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toContain(said);
  });

  it("refuses twelve months that ended yesterday, not the day before", async () => {
    const from = ["budget", BOOK, "--from", "2025-07", "--report-date"];
    expect((await sparespan(...from, "2026-07-01")).code).toBe(2);
    expect((await sparespan(...from, "2026-06-30")).out).toContain("2025-07-01 to 2026-06-30 are");
  });
});
