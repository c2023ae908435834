import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, it } from "vitest";
import { typedBook } from "../scenes/own-log-book.ts";
import { sparespan } from "./session.ts";

/** Where uses were taken from: a sheet of something else taken for it would be seen. */
const folder = mkdtempSync(join(tmpdir(), "sparespan-uses-"));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

it("check, today and start name the sheet of the uses with its months once, and none where there is none", async () => {
  const kit = [
    ["Device", "Site", "Electrode set replaced"],
    ["A1", "Alder", "2026-03-02"],
    ["A2", "Alder", "2026-03-02"],
  ];
  const numbers = [
    ["Device", "2026-01", "2026-02", "2026-03", "2026-04"],
    ["A1", 30, 31, 29, null],
  ];
  const lines = async (word: string, sheets: Parameters<typeof typedBook>[0]) => {
    const path = join(folder, `${word}.xlsx`);
    writeFileSync(path, typedBook(sheets));
    const { out } = await sparespan(
      word,
      path,
      "--report-date",
      "2026-06-30",
      ...(word === "start" ? ["--once"] : []),
    );
    return out.split("\n").filter((line) => line.startsWith("Uses from"));
  };
  for (const word of ["check", "today", "start"]) {
    expect(await lines(word, { Kit: kit, Numbers: numbers })).toEqual([
      "Uses from Numbers: 3 counts of uses, 2026-01 to 2026-03.",
    ]);
    expect(await lines(word, { Kit: kit, Consumption: numbers })).toEqual([]);
  }
});
