import { addMonths, type Day, day, monthStart, toSerial } from "../../src/core/day.ts";
import { type Chance, chance } from "../../src/book/demo/chance.ts";
import type { Ours, Part, Site, Supply } from "../../src/book/records/records.ts";
import { DEFAULT_PARTS } from "../../src/book/records/parts.ts";
import type { Edit, Plan, SheetCell } from "../../src/book/workbook/plan.ts";
import { HOLIDAYS, holidayRows } from "../../src/book/sheets/holidays.ts";
import { makeSheet } from "../../src/book/sheets/make-sheet.ts";
import { partRows, PARTS } from "../../src/book/sheets/parts.ts";
import { SETUP, VERSION } from "../../src/book/sheets/setup.ts";
import { setupRows } from "../../src/book/sheets/setup-rows.ts";
import { SHELF } from "../../src/book/sheets/shelf.ts";
import { bareSite, siteRows, SITES } from "../../src/book/sheets/sites.ts";
import { JOB_LOG } from "../../src/book/sheets/job-log.ts";
import type { CellValue } from "../../src/book/workbook/snapshot.ts";
import { type Settings, defaultSettings } from "../../src/book/records/settings.ts";

/** What a programme is told apart by: its choices as they were invented, never as they were read. */
export interface Invented {
  readonly plan: Plan;
  readonly system: 1900 | 1904;
  readonly ours: Pick<Ours, "settings" | "parts" | "sites" | "holidays">;
}

const FIRST = day("2023-01-31");
const YEARS = 4 * 365;
const WEEKENDS = [1, 2, 3, 4, 5, 6, 7, 11, 12, 13, 14, 15, 16, 17, "0000011", "1000001", "0010000"];
const DATE = "yyyy-mm-dd";

/** A whole programme by a seed: its own settings, parts, sites, holidays, counts, log, shelf and faults. */
export function randomProgramme(seed: number): Invented {
  const random = chance(seed);
  const system = random.share() < 0.3 ? 1904 : 1900;
  const reportDate = (FIRST + random.below(YEARS)) as Day;
  const scene: Scene = { random, system, reportDate };
  const settings = randomSettings(scene);
  const parts = randomParts(scene);
  const sites = randomSites(scene);
  const holidays = [
    ...new Set(
      Array.from({ length: random.below(12) }, () => reportDate - 200 + random.below(900)),
    ),
  ].map((date) => date as Day);
  const devices = randomDevices(scene, sites);
  const ways = ["none", "uses", "wide", "long"] as const;
  const usage = random.pick(ways);
  const edits = [
    ...registerSheet(scene, { parts, devices, usage }),
    ...(usage === "wide" || usage === "long" ? countsSheet(scene, devices, usage) : []),
    ...setupSheet(scene, settings),
    ...makeSheet(PARTS, PARTS.name, partRows(parts)),
    ...makeSheet(SITES, SITES.name, siteRows(sites)),
    ...makeSheet(
      HOLIDAYS,
      HOLIDAYS.name,
      holidayRows(
        holidays.map((date) => ({ date, name: "Holiday" })),
        system,
      ),
    ),
    ...(random.share() < 0.6 ? logSheet(scene, parts, devices) : []),
    ...(random.share() < 0.6 ? shelfSheet(scene, parts, sites) : []),
  ];
  const plan = { summary: `random programme ${seed}`, edits };
  return { plan, system, ours: { settings, parts, sites, holidays } };
}

interface Scene {
  readonly random: Chance;
  readonly system: 1900 | 1904;
  readonly reportDate: Day;
}

interface Row {
  readonly id: string;
  readonly site: CellValue;
}

function randomSettings({ random, reportDate }: Scene): Settings {
  const usual = defaultSettings(reportDate);
  return {
    ...usual,
    ...(random.share() < 0.2 ? {} : { noticeDays: random.below(60) }),
    ...(random.share() < 0.2 ? {} : { weekend: random.pick(WEEKENDS) }),
    ...(random.share() < 0.2 ? {} : { lateMonths: random.below(12) }),
    zeroCounts: random.share() < 0.5,
    countsAre: random.pick([null, "sessions", "babies"]),
    rescreenFactor: random.pick([1, 1.2, 1.65]),
    serviceLevel: random.pick([0.8, 0.9, 0.95, 0.99, 0.999]),
    spares: random.pick(["site", "device", "programme"]),
    reviewDays: random.below(90),
    fiscalStart: 1 + random.below(12),
    priceRise: random.pick([0, 0.03, 0.041, -0.02]),
    budgetLevel: random.pick([0.6, 0.8, 0.95]),
    freight: random.pick([0, 12, 7.45]),
  };
}

/** Setup as a person leaves it: what is as usual may stand blank. */
function setupSheet({ random, system, reportDate }: Scene, settings: Settings): Edit[] {
  const snapshot = { dateSystem: system };
  const usual = setupRows(defaultSettings(reportDate), snapshot);
  const rows = setupRows(settings, snapshot).map(([label, value, ...about], at): CellValue[] => {
    const isUsual = value === usual[at]?.[1] && label !== VERSION.label;
    return [label ?? null, isUsual && random.share() < 0.3 ? null : (value ?? null), ...about];
  });
  return makeSheet(SETUP, SETUP.name, rows);
}

function randomParts({ random }: Scene): Part[] {
  const kinds = random.share() < 0.3 ? DEFAULT_PARTS.slice(0, 2) : DEFAULT_PARTS;
  return kinds.map((part): Part => {
    const supply = randomSupply(random, part.supply);
    if (part.task) {
      const months = 6 + random.below(19);
      return { ...part, shortest: months, longest: months, supply };
    }
    const shortest = random.pick([1, 2, 3, 4, 6]);
    const longest = shortest + random.pick([0, 0, 1, 2, 3, 6, 12]);
    const curve = random.below(4);
    const light = random.pick([0, 5, 20, 35.5]);
    const ramp = { lightUse: light, heavyUse: light + random.pick([0, 10, 40, 61.25]) };
    const spent = { useBudget: random.pick([60, 180, 300.5, 600]) };
    // A part whose limits are crossed or missing is told, and no date of it is reckoned.
    const faulty = random.pick([{ longest: shortest - 1 }, { longest: null }, { lightUse: 9 }]);
    return {
      ...part,
      ...{ shortest, longest, supply, vinyl: random.share() < 0.4 },
      ...(curve % 2 === 1 ? spent : {}),
      ...(curve >= 2 ? ramp : {}),
      ...(random.share() < 0.06 ? faulty : {}),
    };
  });
}

function randomSupply(random: Chance, usual: Supply): Supply {
  return {
    ...usual,
    perReplacement: random.pick([1, 1, 1, 2]),
    pack: random.pick([1, 1, 2, 5, 10]),
    packPrice: random.share() < 0.15 ? null : 1 + random.below(50_000) / 100,
    leadDays: 1 + random.below(120),
    leadSpread: random.pick([0, 0, 5, 20]),
    supplier: random.pick(["", "One", "Two"]),
  };
}

function randomSites({ random }: Scene): Site[] {
  return Array.from({ length: 1 + random.below(4) }, (_, at) => ({
    ...bareSite(random.share() < 0.1 ? String(at + 1) : `S0${at + 1}`),
    wipes: random.pick(["alcohol-free", "alcohol-free", "alcohol", "", "Alcohol-free"]),
    expectedUses: random.pick([null, null, 45]),
  })).map((site) => ({ ...site, numeric: /^\d+$/.test(site.code) }));
}

function randomDevices({ random }: Scene, sites: readonly Site[]): Row[] {
  return Array.from({ length: 2 + random.below(9) }, (_, at) => {
    const { code, numeric } = random.pick(sites);
    const site = numeric ? Number(code) : code;
    return {
      id: `D${String(at + 1).padStart(3, "0")}`,
      site: bad(random, site, [null, "S99", "S0?", "*", code.toLowerCase(), `${code} `]),
    };
  });
}

const BAD_SHARE = 0.07;

function bad(random: Chance, good: CellValue, faults: readonly CellValue[]): CellValue {
  return random.share() < BAD_SHARE ? random.pick(faults) : good;
}

/** A date within so many days before the report date, as a cell holds it, now and then with a fault. */
function dated({ random, system, reportDate }: Scene, back = 420): CellValue {
  const serial = toSerial(reportDate, system) - random.below(back);
  const good = random.share() < 0.1 ? serial + 0.5 : serial;
  return bad(random, good, [
    ...[null, "", "12/03/2026", "soon", 61, -5, 0, true, " ", { error: "#N/A" }],
    ...[serial + 900, serial - 8000],
  ]);
}

interface Made {
  readonly parts: readonly Part[];
  readonly devices: readonly Row[];
  readonly usage: "none" | "uses" | "wide" | "long";
}

interface Column {
  readonly heading: string;
  readonly date: boolean;
  readonly cell: (device: Row) => CellValue;
}

function registerSheet(scene: Scene, { parts, devices, usage }: Made): Edit[] {
  const { random, system, reportDate } = scene;
  const today = toSerial(reportDate, system);
  const uses = (): CellValue =>
    bad(random, random.below(9000) / 100, [null, "", "40", -3, 0, true, { error: "#REF!" }, 1e9]);
  const words = [
    "Retired",
    " retired ",
    "Disposed",
    "written  off",
    "Ausgemustert",
    "RÉFORMÉ",
    "reforme",
    null,
    3,
  ];
  const status = (): CellValue => bad(random, "In service", words);
  const gone = (): CellValue => bad(random, null, [today - 30, today, today + 200, "soon"]);
  const found = (): CellValue =>
    bad(random, "clean", ["Residue", "hairline crack", "HARDENED", null, 4, { error: "#N/A" }]);
  const own = (heading: string, date: boolean, cell: Column["cell"]): Column[] =>
    random.share() < 0.7 ? [{ heading, date, cell }] : [];
  const rest = [
    ...own("Status", false, status),
    ...own("Retired on", true, gone),
    ...(usage === "uses" ? [{ heading: "Average uses a month", date: false, cell: uses }] : []),
    ...parts.flatMap((part) => [
      ...(part.task || random.share() < 0.9
        ? [
            {
              heading: part.task ? "Last calibrated" : `${part.name} replaced`,
              date: true,
              cell: () => dated(scene),
            },
          ]
        : []),
      ...(part.task ? [] : own(`${part.name} finding`, false, found)),
    ]),
  ];
  const columns: readonly Column[] = [
    { heading: "Device", date: false, cell: ({ id }) => id },
    { heading: "Site", date: false, cell: ({ site }) => site },
    ...shuffled(random, rest),
  ];
  const top = random.pick([0, 2]);
  return [sheetOf("Equipment", top, columns, devices)];
}

function shuffled<T>(random: Chance, all: readonly T[]): T[] {
  return all
    .map((one) => ({ one, at: random.share() }))
    .sort((a, b) => a.at - b.at)
    .map(({ one }) => one);
}

function sheetOf(
  sheet: string,
  top: number,
  columns: readonly Column[],
  rows: readonly Row[],
): Edit {
  const cells = columns.flatMap(({ heading, date, cell }, column): SheetCell[] => [
    { row: top, column, value: heading },
    ...rows.flatMap((one, at): SheetCell[] => {
      const value = cell(one);
      // LibreOffice keeps TRUE as the number 1 with a look: with a date's look it is a date.
      const look = date && value !== true ? { format: DATE } : {};
      return value === null ? [] : [{ row: top + 1 + at, column, value, ...look }];
    }),
  ]);
  return { kind: "addSheet", sheet, cells, widths: columns.map(() => 14), freezeRows: top + 1 };
}

const MONTHS_BACK = 18;

function countsSheet(scene: Scene, devices: readonly Row[], way: "wide" | "long"): Edit[] {
  const { random, system, reportDate } = scene;
  const behind = random.below(5);
  const months = Array.from({ length: 3 + random.below(MONTHS_BACK) }, (_, at) =>
    addMonths(monthStart(reportDate), -1 - behind - at),
  ).reverse();
  const busy = 5 + random.below(90);
  const count = (): CellValue => bad(random, random.poisson(busy), [null, 0, "x", -4, 2.5]);
  const serial = (month: Day): number => toSerial(month, system);
  const head = ["Device", ...(way === "wide" ? months.map(serial) : ["Month", "Sessions"])];
  const lines: CellValue[][] =
    way === "wide"
      ? devices.map(({ id }) => [id, ...months.map(count)])
      : devices.flatMap(({ id }) => months.map((month) => [id, serial(month), count()]));
  const isDate = (row: number, column: number): boolean =>
    way === "wide" ? row === 0 && column > 0 : row > 0 && column === 1;
  const cells = [head, ...lines].flatMap((values, row) =>
    values.flatMap((value, column): SheetCell[] =>
      value === null
        ? []
        : [{ row, column, value, ...(isDate(row, column) ? { format: DATE } : {}) }],
    ),
  );
  const widths = head.map(() => 12);
  return [{ kind: "addSheet", sheet: "Monthly sessions", cells, widths, freezeRows: 1 }];
}

function logSheet(scene: Scene, parts: readonly Part[], devices: readonly Row[]): Edit[] {
  const { random, system, reportDate } = scene;
  const rows = Array.from({ length: random.below(30) }, (): CellValue[] => {
    const part = random.pick(parts);
    const date = bad(random, toSerial(reportDate, system) - random.below(700), [null, "soon"]);
    const job = part.task ? "calibrated" : random.pick(["replaced", "replaced", "inspected"]);
    const finding = random.pick([null, null, "clean", "clean", "residue", "crack", "worn look"]);
    const complete = random.pick(["yes", "yes", "yes", "no", null]);
    const device = bad(random, random.pick(devices).id, ["D999", null]);
    return [date, device, random.pick([part.code, part.name]), job, finding, complete];
  });
  return makeSheet(JOB_LOG, JOB_LOG.name, rows);
}

function shelfSheet(scene: Scene, parts: readonly Part[], sites: readonly Site[]): Edit[] {
  const { random, system, reportDate } = scene;
  const today = toSerial(reportDate, system);
  const rows = Array.from({ length: random.below(12) }, (): CellValue[] => {
    const { code, numeric } = random.pick(sites);
    const site = random.share() < 0.2 ? null : numeric ? Number(code) : code;
    const expiry = random.pick([null, null, today - 20, today + random.below(400)]);
    return [
      ...[random.pick(parts).code, site, bad(random, random.below(9), [null, "two"])],
      ...[today - random.below(90), random.pick([null, 2, 5]), today + random.below(60) - 20],
      ...[null, expiry],
    ];
  });
  return makeSheet(SHELF, SHELF.name, rows);
}
