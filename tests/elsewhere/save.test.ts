import { spawn, spawnSync } from "node:child_process";
import {
  chmodSync,
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openWorkbook } from "../../src/xlsx/index.ts";
import { numbers } from "../xlsx/mutations.ts";
import { sparespan } from "../cli/session.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-save-"));
const at = (...names: string[]): string => join(folder, ...names);
const BOOK = at("velloran-20260706-clean.xlsx");
const MAIN = join("build", "src", "cli", "main.js");
const DAY = ["--report-date", "2026-07-06"];

beforeAll(async () => {
  await sparespan("demo", folder);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Starts a save in place and kills it after some milliseconds; gives whether it was still at work. */
function killed(book: string, after: number): Promise<boolean> {
  return new Promise((done) => {
    const job = spawn(process.execPath, [MAIN, "columns", book, "--in-place", ...DAY]);
    const timer = setTimeout(() => job.kill("SIGKILL"), after);
    job.on("exit", (_, signal) => {
      clearTimeout(timer);
      done(signal === "SIGKILL");
    });
  });
}

describe("a save in place", () => {
  it("killed at any moment leaves the book as it was or as it was to be, never between", async () => {
    const before = readFileSync(BOOK);
    const random = numbers(3);
    const begun = performance.now();
    copyFileSync(BOOK, at("whole.xlsx"));
    expect(await killed(at("whole.xlsx"), 60_000)).toBe(false);
    const whole = performance.now() - begun;
    const ends = { before: 0, after: 0, killed: 0 };
    for (let run = 0; run < 40; run += 1) {
      const place = at(`run-${run}`);
      mkdirSync(place);
      const book = join(place, "book.xlsx");
      copyFileSync(BOOK, book);
      // Most of the time goes into starting; the later part is where the writing happens.
      if (await killed(book, whole * (0.3 + random(800) / 1000))) ends.killed += 1;
      const now = readFileSync(book);
      if (now.equals(before)) ends.before += 1;
      else {
        const { sheets } = openWorkbook(now).snapshot;
        expect(sheets.map(({ name }) => name)).toContain("Read me");
        const copies = readdirSync(place).filter((name) => name.startsWith("book before "));
        expect(copies.map((name) => readFileSync(join(place, name)).equals(before))).toEqual([
          true,
        ]);
        ends.after += 1;
      }
    }
    expect(ends.before + ends.after).toBe(40);
    expect(ends.killed).toBeGreaterThan(5);
  });

  it.each(["~$open.xlsx", ".~lock.open.xlsx#"])(
    "of a book that is open elsewhere, as %s beside it says, waits for --force",
    async (mark) => {
      const place = at(mark.slice(0, 2));
      const book = join(place, "open.xlsx");
      mkdirSync(place);
      copyFileSync(BOOK, book);
      writeFileSync(join(place, mark), "somebody");
      const job = ["columns", book, "--in-place", "--json", ...DAY];
      expect(await sparespan(...job)).toMatchObject({
        code: 2,
        out: "",
        err: `sparespan: ${book} seems to be open in another program (${mark} lies beside it): close it there first, or remove that file if no program has the book open, or give --force\n`,
      });
      expect(readFileSync(book).equals(readFileSync(BOOK))).toBe(true);
      expect(readdirSync(place).sort()).toEqual([mark, "open.xlsx"].sort());
      // Another file is nobody's yet, and reading harms nobody.
      expect((await sparespan("columns", book, "-o", join(place, "to.xlsx"), ...DAY)).code).toBe(0);
      expect((await sparespan(...job, "--force")).code).toBe(0);
      expect(readFileSync(book).equals(readFileSync(BOOK))).toBe(false);
      expect(readdirSync(place)).toContain(mark);
    },
  );

  it("that does not fit says so, and the book stays as it was", ({ skip }) => {
    if (process.platform === "win32") skip("there is no ulimit here");
    const book = at("small.xlsx");
    copyFileSync(BOOK, book);
    const command = `ulimit -f 8; "${process.execPath}" ${MAIN} columns "${book}" --in-place ${DAY.join(" ")}`;
    const done = spawnSync("bash", ["-c", command], { encoding: "utf8" });
    expect(done.status).toBe(2);
    expect(done.stderr).toMatch(/does not fit/);
    expect(readFileSync(book).equals(readFileSync(BOOK))).toBe(true);
    expect(readdirSync(folder).filter((name) => name.includes(".tmp"))).toEqual([]);
  });

  it("into a folder that may not be written says so", ({ skip }) => {
    if (process.getuid === undefined) skip("there are no such permissions here");
    const place = at("locked");
    mkdirSync(place);
    copyFileSync(BOOK, join(place, "book.xlsx"));
    for (const path of [folder, place]) chmodSync(path, 0o555);
    const job = [MAIN, "columns", join(place, "book.xlsx"), "--in-place", ...DAY];
    // The superuser may write everywhere: somebody else does it then.
    const other = process.getuid?.() === 0 ? { uid: 65534, gid: 65534 } : {};
    const done = spawnSync(process.execPath, job, { encoding: "utf8", ...other });
    for (const path of [folder, place]) chmodSync(path, 0o755);
    expect(done.stderr).toMatch(/no permission/);
    expect(done.status).toBe(2);
    expect(readFileSync(join(place, "book.xlsx")).equals(readFileSync(BOOK))).toBe(true);
  });
});
