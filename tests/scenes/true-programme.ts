import { type Chance, chance } from "../../src/book/demo/chance.ts";
import { DEFAULT_PARTS } from "../../src/book/records/parts.ts";
import type { Part, Site } from "../../src/book/records/records.ts";
import { defaultSettings, type Settings } from "../../src/book/records/settings.ts";
import { HOLIDAYS, holidayRows } from "../../src/book/sheets/holidays.ts";
import { JOB_LOG } from "../../src/book/sheets/job-log.ts";
import { makeSheet } from "../../src/book/sheets/make-sheet.ts";
import { partRows, PARTS } from "../../src/book/sheets/parts.ts";
import { SETUP } from "../../src/book/sheets/setup.ts";
import { setupRows } from "../../src/book/sheets/setup-rows.ts";
import { SHELF } from "../../src/book/sheets/shelf.ts";
import { bareSite, siteRows, SITES } from "../../src/book/sheets/sites.ts";
import type { Edit, SheetCell } from "../../src/book/workbook/plan.ts";
import type { CellValue, Snapshot } from "../../src/book/workbook/snapshot.ts";
import { NODE_CODEC } from "../../src/cli/files.ts";
import { addMonths, type Day, day, monthStart, toSerial } from "../../src/core/day.ts";
import { newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";

/** How a programme keeps its book. */
export interface Habit {
  readonly counts: "wide" | "long" | "uses" | "none";
  /** Where the dates of the last replacements stand. */
  readonly dates: "register" | "log" | "both";
  readonly system: 1900 | 1904;
}

/** A programme in which every cell is true, agrees with the others and is told apart from a wrong one. */
export interface TrueProgramme {
  readonly habit: Habit;
  readonly reportDate: Day;
  readonly snapshot: Snapshot;
}

const EARLIEST = day("2024-02-29");
const DATE = "yyyy-mm-dd";
const MONTHS = 15;

/** Every way of keeping a book, so that seeds in a row take them in turn. */
export const HABITS: readonly Habit[] = (["wide", "long", "uses", "none"] as const).flatMap(
  (counts) =>
    (["register", "log", "both"] as const).flatMap((dates) =>
      ([1900, 1904] as const).map((system) => ({ counts, dates, system })),
    ),
);

interface Scene {
  readonly random: Chance;
  readonly habit: Habit;
  readonly reportDate: Day;
  readonly parts: readonly Part[];
  readonly sites: readonly Site[];
  readonly devices: readonly Kept[];
}

/** A device with the days on which each of its parts was replaced, the latest last. */
interface Kept {
  readonly id: string;
  readonly site: string;
  readonly commissioned: Day;
  readonly uses: number;
  readonly replaced: ReadonlyMap<string, readonly Day[]>;
}

/** The programme of a seed. */
export function trueProgramme(seed: number): TrueProgramme {
  const random = chance(seed + 7_919);
  const habit = HABITS[seed % HABITS.length] ?? { counts: "wide", dates: "both", system: 1900 };
  const reportDate = (EARLIEST + random.below(900)) as Day;
  const parts = partsOf(random);
  const sites = sitesOf(random);
  const devices = devicesOf(random, { parts, sites, reportDate });
  const scene: Scene = { random, habit, reportDate, parts, sites, devices };
  const { system } = habit;
  const edits = [
    registerSheet(scene),
    ...(habit.counts === "wide" || habit.counts === "long" ? [countsSheet(scene)] : []),
    ...makeSheet(SETUP, SETUP.name, setupRows(settingsOf(scene), { dateSystem: system })),
    ...makeSheet(PARTS, PARTS.name, partRows(parts)),
    ...makeSheet(SITES, SITES.name, siteRows(sites)),
    ...makeSheet(HOLIDAYS, HOLIDAYS.name, holidayRows(holidaysOf(scene), system)),
    ...makeSheet(SHELF, SHELF.name, shelfRows(scene)),
    ...makeSheet(JOB_LOG, JOB_LOG.name, habit.dates === "register" ? [] : jobRows(scene)),
  ];
  const bytes = newWorkbook(
    { summary: "a true programme", edits },
    { dateSystem: system, codec: NODE_CODEC },
  );
  return { habit, reportDate, snapshot: openWorkbook(bytes, { codec: NODE_CODEC }).snapshot };
}

function partsOf(random: Chance): Part[] {
  return DEFAULT_PARTS.filter(({ task }) => !task || random.share() < 0.5).map((part): Part => {
    const supply = {
      ...part.supply,
      perReplacement: random.pick([1, 1, 2]),
      pack: random.pick([1, 2, 5]),
      packPrice: 20 + random.below(20_000) / 100,
      leadDays: 20 + random.below(50),
      leadSpread: 2 + random.below(8),
      shelfMonths: 24 + random.below(24),
      supplier: random.pick(["One", "Two"]),
    };
    if (part.task) return { ...part, shortest: 12, longest: 12, supply };
    const shortest = random.pick([2, 3, 4]);
    const curve = random.pick([
      { useBudget: 150 + random.below(300), lightUse: null, heavyUse: null },
      { useBudget: null, lightUse: 20, heavyUse: 90 + random.below(60) },
      { useBudget: 200 + random.below(300), lightUse: 20, heavyUse: 100 + random.below(50) },
    ]);
    return { ...part, ...curve, shortest, longest: shortest + random.pick([1, 3, 4]), supply };
  });
}

function sitesOf(random: Chance): Site[] {
  return Array.from({ length: 1 + random.below(3) }, (_, at) => ({
    ...bareSite(`S0${at + 1}`),
    name: ["Harbour House", "Mill Lane", "Old Quay"][at] ?? "",
    earlierNames: at === 0 ? ["Harbour Annexe"] : [],
    wipes: random.pick(["alcohol-free", "alcohol-free", "alcohol"]),
    births: 900 + random.below(900),
    expectedUses: 40 + random.below(60),
  }));
}

function devicesOf(
  random: Chance,
  { parts, sites, reportDate }: Pick<Scene, "parts" | "sites" | "reportDate">,
): Kept[] {
  return Array.from({ length: 2 + random.below(3) }, (_, at) => {
    const commissioned = (reportDate - 1200 - random.below(600)) as Day;
    const daysOf = (part: Part): readonly Day[] => {
      const every = (part.shortest ?? 3) * 30;
      const last = reportDate - 3 - random.below(Math.floor(every * 1.15));
      const back = part.task ? 2 : 5;
      return Array.from({ length: back }, (_unused, ago) => last - ago * (every - 6))
        .filter((date) => date > commissioned)
        .reverse()
        .map((date) => date as Day);
    };
    return {
      id: `D${String(at + 1).padStart(3, "0")}`,
      site: random.pick(sites).code,
      commissioned,
      uses: 45 + random.below(70),
      replaced: new Map(parts.map((part) => [part.code, daysOf(part)])),
    };
  });
}

function settingsOf({ random, habit, reportDate }: Scene): Settings {
  return {
    ...defaultSettings(reportDate),
    noticeDays: 7 + random.below(20),
    weekend: random.pick([1, 7, 11]),
    countsAre: habit.counts === "none" ? null : "sessions",
    rescreenFactor: 1.1,
    serviceLevel: random.pick([0.9, 0.95, 0.99]),
    reviewDays: 14 + random.below(30),
    fiscalStart: random.pick([1, 7, 10]),
    currency: "EUR",
    priceRise: 0.03,
    budgetLevel: 0.8,
    freight: 12,
    coverage: 0.98,
    dayOrder: "dmy",
  };
}

function holidaysOf({
  random,
  reportDate,
}: Scene): { readonly date: Day; readonly name: string }[] {
  return Array.from({ length: 6 }, (_, at) => ({
    date: (reportDate - 60 + at * 37 + random.below(30)) as Day,
    name: `Holiday ${at + 1}`,
  }));
}

interface Column<T> {
  /** A number is the first day of a month. */
  readonly heading: string | number;
  readonly isDate?: true;
  readonly cell: (row: T) => CellValue;
}

/** A sheet of rows as people keep it. */
function listSheet<T>(
  sheet: string,
  top: number,
  rows: readonly T[],
  columns: readonly Column<T>[],
): Edit {
  const cells = columns.flatMap(({ heading, isDate, cell }, column): SheetCell[] => [
    { row: top, column, value: heading, ...(typeof heading === "number" ? { format: DATE } : {}) },
    ...rows.flatMap((one, at): SheetCell[] => {
      const value = cell(one);
      const look = isDate === true ? { format: DATE } : {};
      return value === null ? [] : [{ row: top + 1 + at, column, value, ...look }];
    }),
  ]);
  return { kind: "addSheet", sheet, cells, widths: columns.map(() => 14), freezeRows: top + 1 };
}

function registerSheet({ random, habit, parts, devices }: Scene): Edit {
  const serial = (date: Day | undefined): CellValue =>
    date === undefined ? null : toSerial(date, habit.system);
  const own: Column<Kept>[] =
    habit.counts === "uses" ? [{ heading: "Average uses a month", cell: ({ uses }) => uses }] : [];
  const lasts: Column<Kept>[] =
    habit.dates === "log"
      ? []
      : parts.map((part) => ({
          heading: part.task ? "Last calibrated" : `${part.name} replaced`,
          isDate: true,
          cell: ({ replaced }) => serial(replaced.get(part.code)?.at(-1)),
        }));
  const columns: readonly Column<Kept>[] = [
    { heading: "Device", cell: ({ id }) => id },
    { heading: "Site", cell: ({ site }) => site },
    { heading: "Status", cell: () => "In service" },
    { heading: "Commissioned", isDate: true, cell: ({ commissioned }) => serial(commissioned) },
    ...own,
    ...lasts,
  ];
  return listSheet("Equipment", random.pick([0, 2]), devices, columns);
}

function countsSheet({ random, habit, reportDate, devices }: Scene): Edit {
  const months = Array.from({ length: MONTHS }, (_, at) =>
    addMonths(monthStart(reportDate), at - MONTHS),
  );
  const serial = (month: Day): number => toSerial(month, habit.system);
  if (habit.counts === "wide") {
    return listSheet("Monthly sessions", 0, devices, [
      { heading: "Device", cell: ({ id }) => id },
      ...months.map((month) => ({
        heading: serial(month),
        cell: ({ uses }: Kept) => random.poisson(uses),
      })),
    ]);
  }
  const lines = devices.flatMap((device) => months.map((month) => ({ ...device, month })));
  return listSheet("Monthly sessions", 0, lines, [
    { heading: "Device", cell: ({ id }) => id },
    { heading: "Month", isDate: true, cell: ({ month }) => serial(month) },
    { heading: "Sessions", cell: ({ uses }) => random.poisson(uses) },
  ]);
}

function shelfRows({ random, habit, reportDate, parts, sites }: Scene): CellValue[][] {
  const today = toSerial(reportDate, habit.system);
  return parts
    .filter(({ task }) => !task)
    .flatMap(({ code }) =>
      sites.map(({ code: site }, at): CellValue[] => {
        const onOrder = random.pick([null, null, 1, 2]);
        return [
          ...[code, site, 1 + random.below(3), today - 1 - random.below(10)],
          ...[onOrder, onOrder === null ? null : today + 5 + random.below(20)],
          ...[`L${code}${at}`, today + 300 + random.below(300)],
        ];
      }),
    );
}

/** Every replacement, one of them called for by an inspection, and the last weeks' inspections. */
function jobRows({ random, habit, reportDate, parts, devices }: Scene): CellValue[][] {
  const dated = (date: number, ...rest: CellValue[]): readonly [number, CellValue[]] => [
    date,
    [toSerial(date as Day, habit.system), ...rest],
  ];
  const rows = devices.flatMap(({ id, replaced }) =>
    parts.flatMap((part) => {
      const days = replaced.get(part.code) ?? [];
      const job = part.task ? "calibrated" : "replaced";
      const early = random.share() < 0.4 && !part.task ? days.at(-2) : undefined;
      return days.flatMap((date) => [
        ...(date === early ? [dated(date, id, part.code, "inspected", "crack", null)] : []),
        dated(date, id, part.code, job, null, part.task ? null : "yes"),
      ]);
    }),
  );
  const checked = devices.flatMap(({ id }) =>
    parts
      .filter(({ perWeek }) => perWeek > 0)
      .flatMap((part) =>
        [1, 4].map((ago) => dated(reportDate - ago, id, part.name, "inspected", "clean", null)),
      ),
  );
  return [...rows, ...checked].sort(([one], [other]) => one - other).map(([, row]) => row);
}
