import { onlyRegister } from "../scenes/scene.ts";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import { REPORT_DATE } from "../../src/book/demo/programme.ts";
import type { Ours, Reading } from "../../src/book/records/records.ts";
import { sheetNamed } from "../../src/book/workbook/snapshot.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import {
  type Answers,
  columnAnswers,
  type Columns,
  columnsIn,
  commandAnswers,
  disagreements,
  type Kind,
  sheetAnswers,
} from "./answers.ts";
import { type Calendar, library, worksheet } from "./by-hand.ts";
import { differences } from "../taskpane/contract.ts";
import { excelCalls } from "../functions/excel-calls.ts";
import { calculator } from "./formula.ts";
import { handAnswers } from "./hand-answers.ts";
import { officeMissing, recalculated } from "./office.ts";
import { type Pane, paned, PANES } from "./panes.ts";
import { randomProgramme } from "../scenes/random-programme.ts";
import {
  type Asked,
  bookAt,
  bytesOf,
  type Commanded,
  commanded,
  COUNTS,
  type Result,
  RESULTS,
} from "./roads.ts";

const RANDOM = 500;
/** The demonstration's two books come before the random ones. */
const DEMOS = 2;
/** LibreOffice begins with the first books while the others are still being made. */
const AT_ONCE = 250;
const COLUMNS = ["interval", "due", "state", "check", "today"] as const;
const BY_CALL = [...COLUMNS, "year, by date", "order by", "cost"] as const;

/**
 * Which road gives which answers; each is held against what the command line says. What the panes write is
 * held against what the command line writes, cell by cell. A need-by date, an order's quantity, a reorder
 * point, a budget and a year in which parts wear are no single call, since usage is open in them;
 * reference/year.py works them out anew.
 */
const GIVES = {
  "sheets of the command line": [
    ...["year, by date", "year, by count", "year, by a life"],
    ...["need by", "quantity", "order by", "cost", "reorder point"],
  ],
  library: BY_CALL,
  "worksheet functions": BY_CALL,
  "text of live formulas": COLUMNS,
  "portable formulas in LibreOffice": COLUMNS,
} as const satisfies Readonly<Record<string, readonly Kind[]>>;
type Road = keyof typeof GIVES;

interface Programme extends Asked {
  readonly ours: Pick<Ours, "settings" | "parts" | "sites" | "holidays">;
  readonly reading: Reading;
  readonly columns: Columns;
  readonly commanded: Commanded;
  readonly wanted: Answers;
}

const folder = mkdtempSync(join(tmpdir(), "sparespan-same-"));
const missing = officeMissing();
const programmes: Programme[] = [];
const offices: ReturnType<typeof recalculated>[] = [];

/** Hands the programmes since the last time to LibreOffice. */
function handedOver(from: number): void {
  if (missing !== null) return;
  const before = offices.at(-1) ?? Promise.resolve([]);
  const jobs = programmes.slice(from).map(({ commanded: { columns: path }, reading }) => ({
    path,
    sheet: onlyRegister(reading).sheet,
  }));
  const office = before.then(() => recalculated(jobs));
  // A failure is told where the answers are looked at.
  office.catch(() => null);
  offices.push(office);
}

function resultsOf(nth: number): readonly Result[] {
  if (nth < DEMOS) return ["order", "ahead"];
  return RESULTS[nth % RESULTS.length] ?? [];
}

/** A programme with all the command line says of it. */
async function begun(asked: Asked, invented: Programme["ours"] | null): Promise<Programme> {
  const done = await commanded(folder, asked, resultsOf(programmes.length));
  const { reportDate, system } = asked;
  const book = done.worked;
  const reading = readWorkbook(book, reportDate, { reportDate });
  const sheet = sheetNamed(book, onlyRegister(reading).sheet);
  if (sheet === null) throw new Error(`${asked.name} has no register`);
  const columns = columnsIn(sheet, reading);
  const wanted = commandAnswers(columns, done, reading, system);
  const ours = invented ?? reading.ours;
  return { ...asked, ours, reading, columns, commanded: done, wanted };
}

beforeAll(async () => {
  for (const dirty of [false, true]) {
    const bytes = bytesOf(demoBook(DEMO_SEED, dirty).plan, 1900);
    const name = dirty ? "untidy demonstration" : "clean demonstration";
    const asked = { name, bytes, system: 1900, reportDate: REPORT_DATE } as const;
    programmes.push(await begun(asked, null));
  }
  for (let seed = 1; seed <= RANDOM; seed += 1) {
    const { plan, system, ours } = randomProgramme(seed);
    const { reportDate } = ours.settings;
    const asked = { name: `programme ${seed}`, bytes: bytesOf(plan, system), system, reportDate };
    programmes.push(await begun(asked, ours));
    if (programmes.length % AT_ONCE === 0) handedOver(programmes.length - AT_ONCE);
  }
  handedOver(programmes.length - (programmes.length % AT_ONCE));
});

afterAll(async () => {
  // The books are not taken away under LibreOffice.
  await Promise.allSettled(offices);
  rmSync(folder, { recursive: true, force: true });
});

function agree(road: Road, answersOf: (programme: Programme, nth: number) => Answers | null): void {
  const different: string[] = [];
  let [asked, devices, compared] = [0, 0, 0];
  programmes.forEach((programme, nth) => {
    const answers = answersOf(programme, nth);
    if (answers === null) return;
    const found = disagreements(programme.wanted, answers, GIVES[road]);
    different.push(...found.different.map((text) => `${programme.name}, ${text}`));
    asked += 1;
    devices += programme.columns.rows.length;
    compared += found.compared;
  });
  process.stdout.write(`${road}: ${asked} programmes, ${devices} devices, ${compared} answers.\n`);
  expect([different.length, different.slice(0, 20)]).toEqual([0, []]);
  expect(asked).toBeGreaterThan(RANDOM / 2);
  expect(compared).toBeGreaterThan(asked * 20);
}

/** The demonstration is looked at in both panes; a random programme in one, for the sake of time. */
function panesFor({ system }: Programme, nth: number): readonly Pane[] {
  // The workbench refuses a book that counts its days from 1904.
  if (system === 1904) return ["the pane in Excel"];
  return PANES.filter((_, at) => nth < DEMOS || nth % PANES.length === at);
}

/** Where a pane differs from the command line in today's counts or in any cell; and the cells compared. */
async function besidePane(
  programme: Programme,
  nth: number,
  pane: Pane,
): Promise<{ readonly different: readonly string[]; readonly cells: number }> {
  const { commanded: line, name } = programme;
  const { written, today } = await paned(pane, programme, resultsOf(nth));
  const wanted = bookAt(line.written);
  const counts = COUNTS.filter((what) => line.today[what] !== today[what]);
  const filled = wanted.sheets
    .flatMap(({ values }) => values.flat())
    .filter((cell) => cell !== null);
  return {
    different: [...counts, ...differences(wanted, written)].map(
      (text) => `${name}, ${pane}: ${text}`,
    ),
    cells: filled.length,
  };
}

function calendarOf({ system, ours }: Programme): Calendar {
  return { system, settings: ours.settings, holidays: ours.holidays };
}

describe("the same answers as the command line", () => {
  it("sheets of the command line", () => {
    agree("sheets of the command line", ({ commanded: { worked }, wanted, reportDate, system }) =>
      sheetAnswers(worked, wanted, reportDate, system),
    );
  });

  it("library", () => {
    agree("library", (programme) => {
      const calendar = calendarOf(programme);
      const { sites, parts } = programme.ours;
      return handAnswers(
        { ...programme, parts },
        { arithmetic: library(calendar), calendar, sites },
      );
    });
  });

  it("worksheet functions", () => {
    const doors = { 1900: excelCalls(1900), 1904: excelCalls(1904) };
    agree("worksheet functions", (programme) => {
      const calendar = calendarOf(programme);
      const { sites, parts } = programme.ours;
      const arithmetic = worksheet(calendar, doors[programme.system]);
      return handAnswers({ ...programme, parts }, { arithmetic, calendar, sites });
    });
  });

  it("text of live formulas, which books of the 1904 system do not take", () => {
    const door = excelCalls(1900);
    agree("text of live formulas", ({ commanded: { live }, columns, reading }) => {
      const sheet = live === null ? null : sheetNamed(live, onlyRegister(reading).sheet);
      if (live === null || sheet === null) return null;
      return columnAnswers(columns, calculator(live, sheet, door));
    });
  });

  it("the panes in Excel and in the workbench: after the same jobs the same cells", async () => {
    const different: string[] = [];
    const told = Object.fromEntries(PANES.map((pane) => [pane, { programmes: 0, cells: 0 }]));
    for (const [nth, programme] of programmes.entries()) {
      for (const pane of panesFor(programme, nth)) {
        const found = await besidePane(programme, nth, pane);
        different.push(...found.different);
        const { programmes: before = 0, cells = 0 } = told[pane] ?? {};
        told[pane] = { programmes: before + 1, cells: cells + found.cells };
      }
    }
    for (const [pane, { programmes: seen, cells }] of Object.entries(told)) {
      process.stdout.write(`${pane}: ${seen} programmes, ${cells} cells.\n`);
      expect(cells).toBeGreaterThan(seen * 100);
      expect(seen).toBeGreaterThan(RANDOM / 4);
    }
    expect([different.length, different.slice(0, 20)]).toEqual([0, []]);
  });

  it("portable formulas in LibreOffice", async ({ skip }) => {
    if (missing !== null) skip(missing);
    const found = (await Promise.all(offices)).flat();
    agree("portable formulas in LibreOffice", ({ columns }, nth) =>
      columnAnswers(columns, (row, column) => found[nth]?.plain[row]?.[column] ?? ""),
    );
  });
});
