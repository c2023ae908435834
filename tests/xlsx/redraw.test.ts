import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { partsOf, sparespan } from "../cli/session.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-redraw-"));
const at = (name: string): string => join(folder, name);
const BOOK = at("velloran-20260706-clean.xlsx");
const DAY = ["--report-date", "2026-07-06"];

beforeAll(async () => {
  await sparespan("demo", folder);
  await sparespan("ahead", BOOK, "-o", at("year.xlsx"), ...DAY);
  await sparespan("ahead", at("year.xlsx"), "--months", "24", "-o", at("longer.xlsx"), ...DAY);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

function charts(path: string): string[] {
  return [...partsOf(path)].flatMap(([name, text]) =>
    name.includes("charts/chart") ? [text] : [],
  );
}

/** The rows each series of a chart shows. */
function rowsOf(chart: string): Set<string> {
  return new Set(
    [...chart.matchAll(/\$[A-Z]+\$(\d+):\$[A-Z]+\$(\d+)/g)].map((match) =>
      match.slice(1, 3).join("-"),
    ),
  );
}

describe("a chart of ours, its sheet being written anew", () => {
  it("is drawn where it stands: no chart more, its rows those of the longer table", () => {
    const [before, after] = [charts(at("year.xlsx")), charts(at("longer.xlsx"))];
    expect(after.length).toBe(before.length);
    // Three parts one below the other, a year back and one or two years on; then the sheet of uses.
    expect(before.map((chart) => [...rowsOf(chart)])).toEqual([
      ["43-67"],
      ["68-92"],
      ["93-117"],
      ["23-58"],
    ]);
    expect(after.map((chart) => [...rowsOf(chart)])).toEqual([
      ["43-79"],
      ["80-116"],
      ["117-153"],
      ["23-70"],
    ]);
  });
  it("tells its new figures in the text for those who cannot see it", () => {
    const told = (path: string): string[] =>
      [...partsOf(path)].flatMap(([name, text]) =>
        name.includes("drawings/drawing")
          ? [...text.matchAll(/descr="([^"]*)"/g)].map((m) => m[1] ?? "")
          : [],
      );
    const [before, after] = [told(at("year.xlsx")), told(at("longer.xlsx"))];
    expect(after.length).toBe(before.length);
    expect(after[0]).toContain("over 24 months");
    for (const [index, text] of after.entries()) expect(text).not.toBe(before[index]);
  });
  it("stays as it is when nothing differs", async () => {
    const again = await sparespan("ahead", at("longer.xlsx"), "--months", "24", "-n", ...DAY);
    expect(again.out.trimEnd().split("\n").at(-1)).toBe("nothing to change");
  });
});
