import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { performance } from "node:perf_hooks";
import type { Browser, Page } from "playwright-core";
import type { Plan, SheetCell } from "../../src/book/workbook/plan.ts";
import { day } from "../../src/core/day.ts";
import { serve } from "../../src/cli/serve.ts";
import { shelfFor } from "../../src/cli/serve-book.ts";
import { pageFolder } from "../../src/cli/serve-page.ts";
import { newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import { chromiumPath, openBrowser } from "../browser/served.ts";
import { randomBook } from "../scenes/random-book.ts";

const SIZES = [100, 10_000, 100_000];
const CELLS = 10_000;
const PATIENCE = { timeout: 300_000 };

/** The workbench in a headless browser: how soon a book is there, its heap, and a recalculation. */
export async function benchWorkbench(folder: string, say: (text: string) => void): Promise<void> {
  const chromium = chromiumPath();
  const built = pageFolder({ err: (text) => process.stderr.write(text) });
  if (chromium === null || built === null) {
    say("workbench: not measured, for Chromium or the built page is missing");
    return;
  }
  const browser = await openBrowser(chromium);
  for (const rows of SIZES) {
    const path = join(folder, `workbench-${rows}.xlsx`);
    writeFileSync(path, newWorkbook(randomBook(rows, 5, 1900)));
    const found = await withBook({ browser, built, path }, async (page, sinceStart) => {
      const shown = sinceStart();
      await page
        .getByText(/devices on /)
        .first()
        .waitFor(PATIENCE);
      const listed = sinceStart();
      const heap = await page.evaluate<number>("performance.memory.usedJSHeapSize");
      return `shown after ${seconds(shown)} s, the list after ${seconds(listed)} s, heap ${Math.round(heap / 1e6)} MB`;
    });
    say(`workbench, ${rows} rows: ${found}`);
  }
  const path = join(folder, "workbench-cells.xlsx");
  writeFileSync(path, newWorkbook(functionCells()));
  const recalculated = await withBook({ browser, built, path }, async (page) => [
    await typeAndSave(page, path, 4),
    await typeAndSave(page, path, 5),
    await typeAndSave(page, path, 6),
  ]);
  say(
    `workbench, a cell that ${CELLS} function cells depend on, typed until saved with all results: ${recalculated.join(", ")} s`,
  );
  await browser.close();
}

interface Place {
  readonly browser: Browser;
  readonly built: string;
  readonly path: string;
}

async function withBook<T>(
  { browser, built, path }: Place,
  work: (page: Page, sinceStart: () => number) => Promise<T>,
): Promise<T> {
  const book = shelfFor(path, () => day("2026-07-06"));
  const serving = await serve({ folder: built, book }, 0);
  const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
  const began = performance.now();
  await page.goto(serving.address);
  await page
    .locator("#status")
    .filter({ hasText: /is open/ })
    .waitFor(PATIENCE);
  const found = await work(page, () => performance.now() - began);
  await page.close();
  await serving.stop();
  return found;
}

/** So many next due dates that all depend on B1. */
function functionCells(): Plan {
  const cells: SheetCell[] = Array.from({ length: CELLS }, (_, row): SheetCell[] => [
    { row, column: 0, value: 46_000 + (row % 300), format: "yyyy-mm-dd" },
    {
      row,
      column: 2,
      value: 46_100,
      format: "yyyy-mm-dd",
      formula: { text: "SPARE.NEXTDUE(A{r},$B$1)", live: true },
    },
  ]).flat();
  cells.push({ row: 0, column: 1, value: 3 });
  const sheet = { sheet: "Dates", cells, widths: [12, 10, 12], freezeRows: 0 };
  return { summary: "function cells", edits: [{ kind: "addSheet", ...sheet }] };
}

/** Seconds from Enter to the file with all results; throws where one of them is not the new one. */
async function typeAndSave(page: Page, path: string, months: number): Promise<number> {
  const before = lastDate(path);
  const name = page.locator("#grid input").first();
  await name.click();
  await name.fill("B1");
  await page.keyboard.press("Enter");
  await page.waitForTimeout(500);
  await page.keyboard.type(String(months));
  await page.evaluate('document.querySelector("#status").textContent = ""');
  const began = performance.now();
  await page.keyboard.press("Enter");
  await page.locator("#file", { hasText: "(not saved)" }).waitFor(PATIENCE);
  await page.locator("#save").click();
  await page
    .locator("#status")
    .filter({ hasText: /^Saved in/ })
    .waitFor(PATIENCE);
  const took = performance.now() - began;
  const after = lastDate(path);
  if (!(after > before + 20)) throw new Error(`the last date went from ${before} to ${after}`);
  return seconds(took);
}

function lastDate(path: string): number {
  const { values } = openWorkbook(readFileSync(path)).snapshot.sheets[0] ?? { values: [] };
  return Number(values[CELLS - 1]?.[2]);
}

function seconds(milliseconds: number): number {
  return Math.round(milliseconds / 10) / 100;
}
