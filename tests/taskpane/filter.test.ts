import { describe, expect, it } from "vitest";
import { openWorkbook } from "../../src/xlsx/index.ts";
import { filteredBook, filterOf } from "../scenes/filtered.ts";
import { excelTrial, fileTrial, paperTrial, type Trial, workbenchTrial } from "./contract.ts";
import { columnsOn } from "./desk.ts";

/** The user's own filter over the register, in every host that takes our columns. */
const { bytes, area } = filteredBook();
const start = openWorkbook(bytes).snapshot;

const HOSTS: readonly (readonly [string, () => Trial | Promise<Trial>])[] = [
  ["a file", () => fileTrial(bytes)],
  ["Excel", () => excelTrial(start)],
  ["paper", () => paperTrial(start)],
  ["the workbench", () => workbenchTrial(bytes)],
];

describe.each(HOSTS)("a filter in %s", (_, made) => {
  it("reaches the new columns, and goes back with them", async () => {
    const host = await made();
    const plan = columnsOn(await host.snapshot());
    const receipt = await host.apply(plan);
    const after = await host.snapshot();
    const last = Math.max(...(after.sheets[0]?.values.map((row) => row.length) ?? [])) - 1;
    expect(last).toBeGreaterThan(area.lastColumn);
    expect(filterOf(after)).toEqual({ ...area, lastColumn: last });
    expect(after.sheets[0]?.filter?.active).toBe(false);
    if (host.takeBack === undefined || receipt === null) return;
    await host.takeBack(receipt);
    expect(filterOf(await host.snapshot())).toEqual(area);
  });
});
