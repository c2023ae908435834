import { copyFileSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { NODE_CODEC } from "../../src/cli/files.ts";
import { civilDay, day } from "../../src/core/day.ts";
import { openWorkbook } from "../../src/xlsx/index.ts";
import { sparespan } from "../cli/session.ts";
import { faults } from "../reference/workbooks/package-rules.ts";
import { onlyRegister } from "../scenes/scene.ts";
import { errorsOf, judgeMissing, newErrors } from "./file-judge.ts";
import { changedIn } from "./foreign.ts";

/**
 * The same register and counts as ten programs and libraries write them, each with the features it has
 * (tests/reference/workbooks/writers/make.py says which and how), through every job that writes.
 */
const BOOKS = join("tests", "reference", "workbooks", "writers");
const WRITERS = readdirSync(BOOKS).filter((name) => name.endsWith(".xlsx"));
const TODAY = day("2026-07-06");
const DAY = ["--report-date", "2026-07-06"];

const folder = mkdtempSync(join(tmpdir(), "sparespan-other-writers-"));
const at = (name: string): string => join(folder, name);
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** A job on the book that has the columns already. */
const JOBS: Readonly<Record<string, readonly string[]>> = {
  log: ["log", "--device", "W-04", ..."--part SET --job replaced --complete --by LS1".split(" ")],
  inspection: [
    "log",
    "--device",
    "W-05",
    ..."--part SET --job inspected --finding clean --by LS1".split(" "),
  ],
  rounds: ["rounds"],
  order: ["order"],
  ahead: ["ahead"],
  budget: ["budget"],
  evidence: ["evidence", "--from", "2026-01-01", "--to", "2026-06-30"],
  "live columns": ["columns", "--as", "live"],
  "columns as values": ["columns", "--as", "values"],
  "share copy": ["share", "copy"],
  "share copy as values": ["share", "copy", "--values"],
};

/** Row of W-04 in column C, which a logged replacement moves; one writer has a title above the headings. */
const moved = (headerRow: number): ReadonlySet<string> => new Set([`Equipment!C${headerRow + 5}`]);

describe.each(WRITERS)("the book %s", (name) => {
  const path = join(BOOKS, name);
  const before = readFileSync(path);
  const known = faults(before);
  const reading = readWorkbook(openWorkbook(before, { codec: NODE_CODEC }).snapshot, TODAY, {
    reportDate: TODAY,
  });

  it("is read as make.py wrote it: nine devices, their dates and counts, no fault", () => {
    const dates = Array.from({ length: 9 }, (_, at) => {
      const n = at + 1;
      return [
        `W-0${n}`,
        civilDay(2026, 1 + (n % 6), 3 + 2 * n),
        civilDay(2026, 1 + ((n * 2) % 6), 4 + n),
      ];
    });
    const read = reading.devices.map(({ id, lastDone }) => [
      id,
      lastDone[0]?.date,
      lastDone[1]?.date,
    ]);
    expect(read).toEqual(dates);
    const counts = reading.counts.map(({ device, count }) => [device, count]);
    const made = Array.from({ length: 54 }, (_, index) => {
      const device = Math.floor(index / 6);
      return [`W-0${device + 1}`, 60 + 7 * device + (index % 6)];
    });
    expect(counts).toEqual(made);
    expect(reading.problems.filter(({ severity }) => severity === "fault")).toEqual([]);
  });

  it("goes through every job that writes, and keeps everything that is not the job's", async () => {
    const errors = judgeMissing() === null ? await errorsOf(before) : null;
    const book = at(`columns-${name}`);
    copyFileSync(path, book);
    const columns = await sparespan("columns", book, "--in-place", ...DAY);
    expect(columns.code, columns.err).toBe(0);
    expect(changedIn(before, readFileSync(book), new Set())).toEqual([]);
    expect((await sparespan("columns", book, "--in-place", ...DAY)).out).toContain(
      "nothing to change",
    );
    for (const [job, [command = "", ...args]] of Object.entries(JOBS)) {
      const words = job.startsWith("share") ? [args.shift() ?? ""] : [];
      const out = at(`${job}-${name}`);
      const said = await sparespan(command, ...words, book, ...args, "-o", out, ...DAY);
      expect([job, said.code, said.err]).toEqual([
        job,
        said.code < 2 ? said.code : "ran",
        said.err,
      ]);
      const after = readFileSync(out);
      const cells = job === "log" ? moved(onlyRegister(reading).headerRow) : new Set<string>();
      expect([job, changedIn(before, after, cells)]).toEqual([job, []]);
      expect([job, faults(after).filter((fault) => !known.includes(fault))]).toEqual([job, []]);
      if (errors !== null) expect([job, await newErrors(errors, after)]).toEqual([job, []]);
    }
  }, 240_000);
});

it("ten writers are there", () => {
  expect(WRITERS).toHaveLength(10);
});
