import { spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import process from "node:process";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { cases } from "../cases.ts";
import { sheetAt, sparespan } from "../cli/session.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-writers-"));
const BOOK = join(folder, "velloran-20260706-clean.xlsx");
const MAIN = join("build", "src", "cli", "main.js");
const SLOW = pathToFileURL(join("tests", "elsewhere", "slow-disk.mjs")).href;

const WRITER = join("tests", "elsewhere", "writer.mjs");

/** How often two write at once. */
const TIMES = cases("Two writers at once", 200, 10);

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

/** Runs a program in a process of its own, on a slow disk; it goes on when two have read the book. */
function slowly(place: string, ...args: string[]): Promise<Writer> {
  const env = { ...process.env, SLOW_DISK_MEET: join(place, "meet") };
  return new Promise((done) => {
    const job = spawn(process.execPath, ["--import", SLOW, ...args], { env });
    let err = "";
    job.stderr.on("data", (text: Buffer) => (err += text.toString()));
    job.on("exit", (code) => {
      done({ code, err });
    });
  });
}

/** A book in a folder of its own. */
function placed(name: string, content: Uint8Array): { place: string; book: string } {
  const place = join(folder, name);
  mkdirSync(join(place, "meet"), { recursive: true });
  const book = join(place, "book.xlsx");
  writeFileSync(book, content);
  return { place, book };
}

/** What must hold when both are through, whoever came first; gives how many entries came in. */
function judged(place: string, writers: readonly Writer[], before: Uint8Array): number {
  for (const { code, err } of writers) {
    if (code !== 2) continue;
    expect(err).toMatch(/is being written by another run|has been changed by another program/);
  }
  const names = readdirSync(place);
  expect(names.filter((name) => name.startsWith("."))).toEqual([]);
  const copies = names.filter((name) => name.includes(" before "));
  expect(copies.map((name) => readFileSync(join(place, name)).equals(before))).toEqual([true]);
  return writers.filter(({ code }) => code !== 2).length;
}

describe("two writers at once on a slow disk", () => {
  it(`lose nothing in ${String(TIMES)} times: who was not in time is refused`, async () => {
    const before = Buffer.from("the book\n");
    const done: number[] = [];
    for (let time = 0; time < TIMES; time += 1) {
      const { place, book } = placed(`time-${String(time)}`, before);
      const entries = ["one", "other"];
      const writers = await Promise.all(entries.map((entry) => slowly(place, WRITER, book, entry)));
      const written = entries.filter((_, index) => writers[index]?.code === 0);
      const held = readFileSync(book, "utf8").split("\n").slice(1, -1);
      expect(held.sort(), JSON.stringify(writers)).toEqual(written);
      done.push(judged(place, writers, before));
      rmSync(place, { recursive: true });
    }
    // Both had read the book before either wrote: one must be refused, or nothing was shown.
    expect(new Set(done)).toEqual(new Set([1]));
  }, 2_400_000);

  it("that log a job lose neither entry", async () => {
    const before = readFileSync(BOOK);
    const { place, book } = placed("log", before);
    const devices = ["VR-104", "VR-105"];
    const rest = "--part CUSHION --job inspected --finding clean --by LS1 --in-place";
    const day = ["--report-date", "2026-07-06"];
    const writers = await Promise.all(
      devices.map((device) =>
        slowly(place, MAIN, "log", book, "--device", device, ...rest.split(" "), ...day),
      ),
    );
    expect(judged(place, writers, before)).toBe(1);
    const mine = sheetAt(book, "Job log").values.filter((row) => row.includes("LS1"));
    const known = sheetAt(BOOK, "Job log").values.filter((row) => row.includes("LS1"));
    const [entry] = mine.slice(known.length);
    expect(mine.length - known.length).toBe(1);
    expect(entry).toContain(devices.find((_, index) => writers[index]?.code !== 2));
  }, 120_000);
});
