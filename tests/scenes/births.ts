import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { chance } from "../../src/book/demo/chance.ts";
import { DEFAULT_PARTS } from "../../src/book/records/parts.ts";
import type { Edit, SheetCell } from "../../src/book/workbook/plan.ts";
import type { Part, Site } from "../../src/book/records/records.ts";
import { HOLIDAYS, holidayRows } from "../../src/book/sheets/holidays.ts";
import { makeSheet } from "../../src/book/sheets/make-sheet.ts";
import { partRows, PARTS } from "../../src/book/sheets/parts.ts";
import { SETUP } from "../../src/book/sheets/setup.ts";
import { setupRows } from "../../src/book/sheets/setup-rows.ts";
import { SHELF } from "../../src/book/sheets/shelf.ts";
import { bareSite, siteRows, SITES } from "../../src/book/sheets/sites.ts";
import { JOB_LOG } from "../../src/book/sheets/job-log.ts";
import type { CellValue } from "../../src/book/workbook/snapshot.ts";
import { NODE_CODEC } from "../../src/cli/files.ts";
import { addMonths, day, type Day } from "../../src/core/day.ts";
import { newWorkbook } from "../../src/xlsx/index.ts";
import { defaultSettings } from "../../src/book/records/settings.ts";

/**
 * A programme on open data: sites are the jurisdictions of the CDC table of 2022, devices go by their
 * births, babies a month by their share screened and by the births of 2012 to 2014 (data/SOURCES.md).
 * Devices, dates, jobs, prices and shelves are drawn; some cells are wrong on purpose.
 */
export const BIRTHS_DATE = day("2015-01-15");
const BIRTHS_A_DEVICE = 2500;
const YEARS = [2012, 2013, 2014] as const;
const SEED = 20150115;
/** A site without three counts, whose use is somebody's estimate. */
const NEW_SITE = "Guam";

interface Served {
  readonly id: string;
  readonly site: string;
  readonly counts: readonly number[];
  /** Its number, which decides what is wrong with it. */
  readonly at: number;
}

type Row = readonly CellValue[];

/** The workbook's bytes; the same each time. */
export function birthsBook(): Uint8Array {
  const random = chance(SEED);
  const devices = devicesOf(random);
  const jobs = jobsOf(devices, random);
  const usual = defaultSettings(BIRTHS_DATE);
  const orders = {
    ...{ serviceLevel: 0.9, reviewDays: 28, fiscalStart: 10, priceRise: 0.04, budgetLevel: 0.9 },
    ...{ freight: 20, coverage: 0.985 },
  };
  const settings = { ...usual, countsAre: "babies" as const, rescreenFactor: 1.045, ...orders };
  const edits: Edit[] = [
    sheet("Equipment", registerOf(devices, jobs, random), "yyyy-mm-dd"),
    sheet("Monthly babies", countsOf(devices), "mmm yyyy"),
    ...makeSheet(SETUP, SETUP.name, setupRows(settings, { dateSystem: 1900 })),
    ...makeSheet(PARTS, PARTS.name, partRows(partsOf())),
    ...makeSheet(SITES, SITES.name, siteRows(sitesOf())),
    ...makeSheet(HOLIDAYS, HOLIDAYS.name, holidayRows(FREE_DAYS, 1900)),
    ...makeSheet(JOB_LOG, JOB_LOG.name, jobs),
    ...makeSheet(SHELF, SHELF.name, shelfOf(devices, random)),
  ];
  return newWorkbook({ summary: "a programme on open data", edits }, { codec: NODE_CODEC });
}

const FREE_DAYS = ["2015-01-19", "2015-05-25", "2015-07-03", "2015-09-07", "2015-12-25"].map(
  (date) => ({ date: day(date), name: "Holiday" }),
);

function table(name: string): (readonly string[])[] {
  const text = readFileSync(resolve("tests/reference/data", `${name}.csv`), "utf8");
  const [, ...lines] = text.trim().split(/\r?\n/);
  return lines.map((line) => line.split(","));
}

function jurisdictions(): { code: string; births: number; screened: number }[] {
  return table("ehdi2022").map(([code = "", births, , screened]) => {
    return { code, births: Number(births), screened: Number(screened) };
  });
}

/** Share of its year's births that each month had. */
function shares(): number[] {
  const months = table("ssa_monthly").map((cells) => cells.map(Number));
  return YEARS.flatMap((year) => {
    const own = months.filter(([of]) => of === year).map(([, , births = 0]) => births);
    const whole = own.reduce((sum, births) => sum + births, 0);
    return own.map((births) => births / whole);
  });
}

function devicesOf(random: ReturnType<typeof chance>): Served[] {
  const devices: Served[] = [];
  for (const { code, births, screened } of jurisdictions()) {
    const number = Math.max(1, Math.round(births / BIRTHS_A_DEVICE));
    const weights = Array.from({ length: number }, () => random.gamma(4));
    const whole = weights.reduce((sum, weight) => sum + weight, 0);
    for (const weight of weights) {
      const counts = shares().map((share) => Math.round((screened * share * weight) / whole));
      const at = devices.length;
      devices.push({ id: `BE-${String(1000 + at)}`, site: code, counts, at });
    }
  }
  return devices;
}

function partsOf(): Part[] {
  return DEFAULT_PARTS.map((part) => {
    if (part.code === "SET") {
      const supply = { pack: 4, packPrice: 395.5, leadDays: 40, leadSpread: 12, supplier: "One" };
      return { ...part, useBudget: 900, supply: { ...part.supply, ...supply } };
    }
    if (part.task) return { ...part, supply: { ...part.supply, packPrice: 150 } };
    const supply = { perReplacement: 2, pack: 10, packPrice: 82.35, leadDays: 25, supplier: "Two" };
    return { ...part, lightUse: 100, heavyUse: 300, supply: { ...part.supply, ...supply } };
  });
}

function sitesOf(): Site[] {
  const wipes = ["alcohol-free", "alcohol", ""];
  return jurisdictions().map(({ code, births }, at) => ({
    ...bareSite(code),
    wipes: wipes[at % 3] ?? "",
    births,
    expectedUses: code === NEW_SITE ? 140 : null,
  }));
}

/** Months that are missing, late or no number on purpose; a site that has just begun. */
function countsOf(devices: readonly Served[]): Row[] {
  const first = day("2012-01-01");
  return [
    ["Device", "Month", "Babies"],
    ...devices.flatMap(({ id, site, counts, at }) =>
      counts.flatMap((count, month): Row[] => {
        if (site === NEW_SITE && month < 34) return [];
        if (at % 73 === 20 && (month === 28 || month === 35)) return [];
        if (at % 127 === 40 && month > 30) return [];
        if (leftTidily(at) && month > 34) return [];
        const cell = at % 61 === 9 && month === 34 ? "n/a" : count;
        return [[id, addMonths(first, month), cell]];
      }),
    ),
  ];
}

/** The last day of the devices that have left. */
const GONE = day("2014-11-30");

/** Every other one of them left for good; what the others did later contradicts it. */
function leftTidily(at: number): boolean {
  return at % 178 === 3;
}

const HEADINGS = ["Device", "Site", "Status", "Retired on"] as const;

function registerOf(
  devices: readonly Served[],
  jobs: readonly Row[],
  random: ReturnType<typeof chance>,
): Row[] {
  const latest = new Map(
    jobs
      .filter(([, , , job, , complete]) => job === "replaced" && complete === "yes")
      .map(([date, device, part]) => [JSON.stringify([device, part]), date ?? null]),
  );
  return [
    [...HEADINGS, "Electrode set replaced", "Ear cushion replaced", "Last calibrated"],
    ...devices.map(({ id, site, at }): Row => {
      const gone = at % 89 === 3;
      const leaves = at % 83 === 11 ? day("2015-06-20") : null;
      const latestDay = leftTidily(at) ? GONE : BIRTHS_DATE;
      const drawn = latestDay - random.below(290);
      const cushion = latest.get(JSON.stringify([id, "CUSHION"])) ?? drawn;
      return [
        ...[id, site, gone ? "Retired" : "In service", gone ? GONE : leaves],
        at % 97 === 5 ? "unknown" : (latest.get(JSON.stringify([id, "SET"])) ?? null),
        at % 101 === 7 ? null : cushion,
        latestDay - random.below(380),
      ];
    }),
  ];
}

/** Sets of every device, cushions of some; sets wear out now and then, two cushions ever did. */
function jobsOf(devices: readonly Served[], random: ReturnType<typeof chance>): Row[] {
  const jobs: Row[] = [];
  for (const { id, at } of devices) {
    const end = at % 89 === 3 ? GONE : BIRTHS_DATE - 6;
    let worn = false;
    for (let date = day("2013-01-15") + random.below(120); date <= end;) {
      jobs.push([date, id, "SET", "replaced", worn ? "residue" : null, "yes", null, "LS", null]);
      worn = random.share() < 0.08;
      date += worn ? 15 + random.below(90) : 85 + random.below(70);
    }
    if (at % 9 === 0) {
      const last = end - random.below(150);
      const finding = at < 18 ? "hardened" : null;
      jobs.push([last - 190, id, "CUSHION", "replaced", null, "yes", null, "LS", null]);
      jobs.push([last, id, "CUSHION", "replaced", finding, "yes", null, "LS", null]);
    }
    if (at % 120 === 50) {
      jobs.push([BIRTHS_DATE - 2, id, "SET", "inspected", "crack", null, null, "LS", null]);
    }
    if (at === 33)
      jobs.push([BIRTHS_DATE - 1, id, "SET", "replaced", null, "no", null, "LS", null]);
  }
  return jobs.sort(([one], [other]) => Number(one) - Number(other));
}

/** Some lots are past their expiry, some will be before they are used; some units are on order. */
function shelfOf(devices: readonly Served[], random: ReturnType<typeof chance>): Row[] {
  const counted = day("2015-01-12");
  const rows = jurisdictions().flatMap(({ code }, at): Row[] => {
    const there = devices.filter(({ site }) => site === code).length;
    const some = (): number => random.below(3) + Math.ceil(there / 8);
    const ordered = at % 4 === 1 ? 4 : null;
    const arrives: Day | null = ordered === null ? null : day("2015-02-02");
    return [
      ["SET", code, some(), counted, ordered, arrives, `A${at}`, day("2016-03-31")],
      ["SET", code, at % 3, counted, null, null, `B${at}`, day("2014-12-31")],
      ["CUSHION", code, 2 * some(), counted, null, null, `C${at}`, day("2016-12-31")],
      ["CUSHION", code, at % 5, counted, null, null, `D${at}`, day("2015-02-10")],
    ];
  });
  return [...rows, ["SET", null, 10, counted, null, null, "E", day("2016-06-30")]];
}

function sheet(name: string, rows: readonly Row[], format: string): Edit {
  const cells = rows.flatMap((values, row) =>
    values.flatMap((value, column): SheetCell[] => {
      if (value === null) return [];
      const dated = typeof value === "number" && value > 40_000 ? { format } : {};
      return [{ row, column, value, ...dated }];
    }),
  );
  return { kind: "addSheet", sheet: name, cells, widths: [], freezeRows: 1 };
}
