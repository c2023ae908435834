import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { functions } from "../../functions/index.ts";
import { NODE_CODEC } from "../../src/cli/files.ts";
import { applyPlan, openWorkbook } from "../../src/xlsx/index.ts";
import { sheetAt, sparespan } from "../cli/session.ts";
import { officeMissing, recalculated } from "./office.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-first-run-"));
const BOOK = join(folder, "velloran-20260706-first-run.xlsx");
beforeAll(async () => {
  await sparespan("demo", folder);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** The sheet once LibreOffice, which does not know our functions, has calculated it. */
async function calculated(path: string): Promise<(string | number)[][]> {
  const [answer] = await recalculated([{ path, sheet: "First run" }]);
  return answer?.plain ?? [];
}

describe("the First run sheet", () => {
  it("has a row for each function and holds no answer before Excel has worked it out", () => {
    const { values, formulas } = sheetAt(BOOK, "First run");
    const rows = values.slice(4);
    expect(rows.map(([name]) => name)).toEqual(functions.map(({ id }) => id));
    for (const [, ours, must, same] of rows) {
      expect([ours, same]).toEqual(["not calculated yet", "not calculated yet"]);
      expect(must).not.toBe("not calculated yet");
    }
    expect(JSON.stringify([...formulas])).toContain("SPARE");
  });

  it("says that none is the same in a program that does not know them", async ({ skip }) => {
    const missing = officeMissing();
    if (missing !== null) skip(missing);
    const rows = await calculated(BOOK);
    expect(rows[1]?.[0]).toBe("0 of 24 functions give what they must");
    expect(new Set(rows.slice(4).map((row) => row[3]))).toEqual(new Set(["NO"]));
  });

  it("says which one is not, where the others give what they must", async ({ skip }) => {
    const missing = officeMissing();
    if (missing !== null) skip(missing);
    const open = openWorkbook(readFileSync(BOOK), { codec: NODE_CODEC });
    const must = sheetAt(BOOK, "First run")
      .values.slice(4)
      .map((row) => row[2] ?? null);
    const given = must.map((value, at) => (at === 3 ? Number(value) + 1 : value));
    const block = { column: 1, rows: given.map((_, at) => 4 + at), values: given };
    const edit = { kind: "fillCells", sheet: "First run", blocks: [block], expects: {} } as const;
    const path = join(folder, "given.xlsx");
    writeFileSync(path, applyPlan(open, { summary: "given", edits: [edit] }));
    const rows = await calculated(path);
    expect(rows[1]?.[0]).toBe("23 of 24 functions give what they must");
    expect(rows.slice(4).flatMap((row) => (row[3] === "yes" ? [] : [row[0]]))).toEqual([
      functions[3]?.id,
    ]);
  });
});
