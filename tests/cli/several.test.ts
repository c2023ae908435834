import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { textOf } from "../../src/book/workbook/cells.ts";
import { day } from "../../src/core/day.ts";
import type { Snapshot } from "../../src/book/workbook/snapshot.ts";
import {
  bytesOf,
  SEVERAL,
  sheetPerSite,
  sheetsOfTheirOwn,
  together,
  withCounts,
  withRetired,
} from "../scenes/several-sheets.ts";
import { sheetAt, sparespan } from "./session.ts";

/** Registers on several sheets through the commands, as files. */
const folder = mkdtempSync(join(tmpdir(), "sparespan-several-"));
const at = (...names: string[]): string => join(folder, ...names);
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const SAID = ["--match", "register=Northfield", "--match", "register=Southport"];
const DAY = ["--report-date", "2026-06-30"];

function kept(name: string, book: Snapshot): string {
  const path = at(name);
  writeFileSync(path, bytesOf(book));
  return path;
}

async function json(...args: readonly string[]): Promise<Record<string, unknown>> {
  const { code, out, err } = await sparespan(...args, "--json");
  expect(code, err).toBeLessThan(2);
  return JSON.parse(out) as Record<string, unknown>;
}

/** An answer without the places it was read from, its lists in an order of their own. */
function placeless(value: unknown): unknown {
  if (Array.isArray(value)) {
    const all = value.map(placeless);
    const isPlain = all.every((one) => typeof one === "number" || one === null);
    return isPlain ? all : all.sort((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1));
  }
  if (typeof value !== "object" || value === null) return value;
  const kept = Object.entries(value).filter(([key]) => !["sheet", "row", "faults"].includes(key));
  return Object.fromEntries(kept.map(([key, one]) => [key, placeless(one)]));
}

const COMMANDS: readonly (readonly string[])[] = [
  ["today"],
  ["ahead"],
  ["order"],
  ["budget"],
  ["evidence"],
  ["rounds"],
  ["calendar"],
];

describe("registers on several sheets", () => {
  // Devices of one type lack the column of the other's part; together they have both.
  const alike = SEVERAL.filter(({ habit }) => habit !== "a sheet for each type of device");

  it.each(alike)("answer as one sheet with a column of sites: $habit", async (one) => {
    const several = kept("several.xlsx", withCounts(one.book(), one));
    const single = kept("single.xlsx", withCounts(together(one), one));
    for (const command of COMMANDS) {
      const answers = await Promise.all(
        [several, single].map((path) => json(...command, path, ...DAY)),
      );
      expect(placeless(answers[0]), command.join(" ")).toEqual(placeless(answers[1]));
    }
  });

  it.each(SEVERAL)(
    "get their columns once, and keep every cell: $habit",
    async ({ book, sheets }) => {
      const path = kept("columns.xlsx", book());
      const done = await sparespan("columns", path, "--in-place", ...DAY);
      expect(done.code, done.err).toBeLessThan(2);
      const written = readFileSync(path);
      expect((await sparespan("columns", path, "--in-place", ...DAY)).out).toMatch(
        /: nothing to change\n$/,
      );
      expect(readFileSync(path).equals(written)).toBe(true);
      const { registers } = (await json("check", path, ...DAY)) as {
        registers: { sheet: string }[];
      };
      expect(registers.map(({ sheet }) => sheet)).toEqual(sheets);
      for (const { name, values } of book().sheets) {
        const after = sheetAt(path, name).values;
        expect(
          values.map((row, at) => row.map((_, column) => after[at]?.[column] ?? null)),
        ).toEqual(values);
      }
    },
  );
});

describe("a sheet that looks like a register and is not read", () => {
  const said =
    "Southport looks like a register, but is not read: 2 devices of it are not on Northfield";

  it("is told first by each job, and a second choice adds it", async () => {
    const path = kept("chosen.xlsx", sheetPerSite());
    const match = SAID.slice(0, 2);
    for (const command of [["today"], ["order"], ["budget"], ["ahead"], ["check"]]) {
      const { out } = await sparespan(...command, path, ...match, ...DAY);
      expect(out, command.join(" ")).toContain(said);
    }
    const { doubts } = await json("today", path, ...match, ...DAY);
    expect(doubts).toEqual(["Southport (register not read)", "Eastham (register not read)"]);
    const { doubts: left, devices } = await json("today", path, ...SAID, ...DAY);
    expect([left, devices]).toEqual([["Eastham (register not read)"], 5]);
  });

  it("is told where it came after Setup had remembered the others", async () => {
    const path = kept("later.xlsx", sheetPerSite());
    await sparespan("columns", path, "--in-place", ...DAY, ...SAID);
    const { doubts, devices } = await json("today", path, ...DAY);
    expect([doubts, devices]).toEqual([["Eastham (register not read)"], 5]);
    const read = sheetAt(path, "Setup").values.filter(([label]) =>
      /^Register/.test(textOf(label ?? null)),
    );
    expect(read.map((row) => row.slice(0, 2))).toEqual([
      ["Register", "Northfield"],
      ["Register 2", "Southport"],
    ]);
    const bytes = readFileSync(path);
    expect((await sparespan("columns", path, "--in-place", ...DAY)).out).toContain("nothing to");
    expect(readFileSync(path).equals(bytes)).toBe(true);
  });
});

describe("a job on a device of several registers", () => {
  const log = (path: string, ...more: readonly string[]) =>
    sparespan(
      ...["log", path, "--part", "SET", "--job", "replaced", "--complete", "--by", "LS1"],
      ...["--in-place", "--date", "2026-06-29", ...DAY, ...more],
    );

  it.each(["HS-02", "HS-11", "HS-21"])("moves the date on its own sheet: %s", async (device) => {
    const path = kept(`log ${device}.xlsx`, sheetsOfTheirOwn());
    await sparespan("columns", path, "--in-place", ...DAY);
    const before = sheetsAt(path);
    const { out, code } = await log(path, "--device", device);
    expect([code, out]).toEqual([
      0,
      expect.stringMatching(new RegExp(`Electrode set of ${device}: next due 2026-`)),
    ]);
    const changed = sheetsAt(path).flatMap((after, sheet) =>
      after.values.flatMap((row, at) =>
        row.flatMap((value, column) =>
          value === day("2026-06-29") && before[sheet]?.values[at]?.[column] !== value
            ? [`${after.name} ${textOf(row[after.device] ?? null)}`]
            : [],
        ),
      ),
    );
    const home = { "HS-02": "Northfield", "HS-11": "Southport", "HS-21": "Eastham" }[device];
    // Last replaced, and beside it the column of the Job log's dates where there is one.
    expect(changed).toEqual([`${home ?? ""} ${device}`]);
    expect((await sparespan("today", path, ...DAY, "--json")).out).not.toContain("Check row");
  });

  it("that stands on two is refused until the sheet is said", async () => {
    const path = kept("twice.xlsx", withRetired());
    expect((await log(path, "--device", "HS-12")).err).toBe(
      'sparespan: The job cannot be logged: HS-12 stands in row 3 of Southport and row 4 of Retired; say which: --row 3 --sheet "Southport", or select the row.\n',
    );
    const sure = ["--row", "3", "--sheet", "southport"];
    expect((await log(path, "--device", "HS-12", ...sure)).code).toBe(0);
    const dated = sheetAt(path, "Southport").values.map((row) => row[2]);
    expect(dated).toContain(day("2026-06-29"));
    const wrong = await log(path, "--device", "HS-12", "--sheet", "Northfield");
    expect(wrong.err).toContain("Northfield is not HS-12");
  });

  it("may say the sheet in a file of jobs, and the position of a part", async () => {
    const job = { date: "2026-06-29", device: "HS-12", part: "SET", job: "replaced", by: "LS1" };
    const from = async (name: string, file: string, text: string) => {
      const path = kept(name, withRetired());
      const lines = join(folder, file);
      writeFileSync(lines, text);
      const said = await sparespan("log", path, "--from", lines, "--in-place", ...DAY);
      return { said, dated: sheetAt(path, "Southport").values.map((row) => row[2]) };
    };
    const json = (more: object): string =>
      `${JSON.stringify({ ...job, complete: true, ...more })}\n`;
    const unsaid = await from("from 1.xlsx", "jobs 1.json", json({}));
    expect(unsaid.said.out).toContain('say which: --row 3 --sheet "Southport"');
    for (const text of [
      json({ sheet: "Southport" }),
      "date,device,part,job,complete,by,sheet\n2026-06-29,HS-12,SET,replaced,yes,LS1,southport\n",
    ]) {
      const { said, dated } = await from("from 2.xlsx", "jobs 2", text);
      expect(said.out).toContain(": replaced SET of HS-12 on 2026-06-29\n");
      expect(dated).toContain(day("2026-06-29"));
    }
    const red = await from(
      "from 3.xlsx",
      "jobs 3.json",
      json({ sheet: "Southport", position: "red" }),
    );
    expect(red.said.out).toContain(
      "the register has one date for Electrode set and none of its position red",
    );
  });
});

function sheetsAt(path: string) {
  return ["Northfield", "Southport", "Eastham"].map((name) => {
    const { values } = sheetAt(path, name);
    const [headings = []] = values;
    return {
      name,
      values,
      device: headings.findIndex((one) => /^(?:Device|Unit|Inv)/.test(textOf(one))),
    };
  });
}
