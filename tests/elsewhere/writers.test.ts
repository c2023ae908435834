import { spawn } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { cases } from "../cases.ts";
import { sheetAt, sparespan } from "../cli/session.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-writers-"));
const BOOK = join(folder, "velloran-20260706-clean.xlsx");
const MAIN = join("build", "src", "cli", "main.js");
const SLOW = pathToFileURL(join("tests", "elsewhere", "slow-disk.mjs")).href;

/** How often two write at once. */
const TIMES = cases("Two writers at once", 200, 8);

beforeAll(async () => {
  await sparespan("demo", folder);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

interface Writer {
  readonly code: number | null;
  readonly err: string;
}

/** Logs a job of a device in a process of its own, on a slow disk. */
function logging(book: string, device: string): Promise<Writer> {
  const entry = [
    "--device",
    device,
    "--part",
    "CUSHION",
    "--job",
    "inspected",
    "--finding",
    "clean",
  ];
  const args = ["log", book, ...entry, "--by", "LS1", "--in-place", "--report-date", "2026-07-06"];
  return new Promise((done) => {
    const job = spawn(process.execPath, ["--import", SLOW, MAIN, ...args]);
    let err = "";
    job.stderr.on("data", (text: Buffer) => (err += text.toString()));
    job.on("exit", (code) => {
      done({ code, err });
    });
  });
}

/** The devices with a job of that day in the Job log. */
function logged(book: string): string[] {
  const { values } = sheetAt(book, "Job log");
  const text = values.map((row) => row.map(String));
  const at = text.find((row) => row.includes("Device"))?.indexOf("Device") ?? -1;
  return text
    .filter((row) => row.includes("inspected") && row.includes("LS1"))
    .map((row) => row[at] ?? "");
}

describe("two writers at once on a slow disk", () => {
  it(`lose nothing in ${String(TIMES)} times: who was not in time is refused`, async () => {
    const known = logged(BOOK).length;
    const ends = { both: 0, one: 0, none: 0 };
    for (let time = 0; time < TIMES; time += 1) {
      const place = join(folder, `slow-disk-book-${String(time)}`);
      mkdirSync(place);
      const book = join(place, "book.xlsx");
      copyFileSync(BOOK, book);
      const devices = ["VR-104", "VR-105"];
      const writers = await Promise.all(devices.map((device) => logging(book, device)));
      const done = devices.filter((_, index) => writers[index]?.code !== 2);
      expect(logged(book).slice(known).sort(), JSON.stringify(writers)).toEqual(done);
      for (const { code, err } of writers) {
        if (code === 2)
          expect(err).toMatch(
            /is being written by another run|has been changed by another program/,
          );
      }
      expect(readdirSync(place).filter((name) => name.startsWith("."))).toEqual([]);
      const copies = readdirSync(place).filter((name) => name.includes(" before "));
      expect(
        copies.map((name) => readFileSync(join(place, name)).equals(readFileSync(BOOK))),
      ).toEqual([true]);
      ends[done.length === 2 ? "both" : done.length === 1 ? "one" : "none"] += 1;
      rmSync(place, { recursive: true });
    }
    // They must have met, or nothing was shown.
    expect(ends.one).toBeGreaterThan(TIMES / 4);
    expect(ends.none).toBe(0);
  }, 1_800_000);
});
