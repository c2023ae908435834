import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { NODE_CODEC } from "../../src/cli/files.ts";
import { applyPlan, openWorkbook } from "../../src/xlsx/index.ts";
import { officeMissing, recalculated } from "./office.ts";
import { sheetAt, sparespan } from "../cli/session.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-self-"));
const at = (name: string): string => join(folder, name);
const DAY = ["--report-date", "2026-07-06"];
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** A copy without the add-in of one of the demonstration's books. */
async function copyOf(book: string): Promise<string> {
  await sparespan("demo", folder, "--force");
  const [columns, copy] = [at(`${book}-columns.xlsx`), at(`${book}-copy.xlsx`)];
  await sparespan("columns", at(`velloran-20260706-${book}.xlsx`), "-o", columns, ...DAY);
  await sparespan("share", "copy", columns, "-o", copy, ...DAY);
  return copy;
}

/** Column Agree of the Self-test sheet after LibreOffice has calculated everything anew. */
async function agreeing(path: string): Promise<(string | number | undefined)[]> {
  const [answer] = await recalculated([{ path, sheet: "Self-test" }]);
  const rows = answer?.plain ?? [];
  const head = rows.findIndex((row) => row[6] === "Agree");
  return rows.slice(head + 1).flatMap((row) => (row[0] === "" ? [] : [row[6]]));
}

describe("the Self-test sheet of a copy", () => {
  it("agrees in every row once another program has calculated it, on a tidy and an untidy book", async ({
    skip,
  }) => {
    const missing = officeMissing();
    if (missing !== null) skip(missing);
    for (const [book, least] of [
      ["clean", 100],
      ["untidy", 80],
    ] as const) {
      const agree = await agreeing(await copyOf(book));
      expect(agree.length).toBeGreaterThan(least);
      expect(new Set(agree)).toEqual(new Set(["yes"]));
    }
  });

  it("says NO for a row whose date was changed after the copy was made", async ({ skip }) => {
    const missing = officeMissing();
    if (missing !== null) skip(missing);
    const copy = await copyOf("clean");
    const open = openWorkbook(readFileSync(copy), { codec: NODE_CODEC });
    const register = sheetAt(copy, "Equipment");
    const column = (register.values[2] ?? []).indexOf("Electrode set replaced");
    const block = { column, rows: [3], values: [Number(register.values[3]?.[column]) - 400] };
    const edit = { kind: "fillCells", sheet: "Equipment", blocks: [block], expects: {} } as const;
    writeFileSync(at("changed.xlsx"), applyPlan(open, { summary: "changed", edits: [edit] }));
    const agree = await agreeing(at("changed.xlsx"));
    expect(agree.filter((one) => one !== "yes")).toEqual(["NO"]);
  });
});
