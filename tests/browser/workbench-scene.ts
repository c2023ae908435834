import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Locator, Page } from "playwright-core";
import { afterAll, beforeAll, expect } from "vitest";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import { type Sheet, sheetNamed, type Snapshot } from "../../src/book/workbook/snapshot.ts";
import { day } from "../../src/core/day.ts";
import { serve, type Serving } from "../../src/cli/serve.ts";
import { shelfFor } from "../../src/cli/serve-book.ts";
import { pageFolder } from "../../src/cli/serve-page.ts";
import { newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import { drawn, PATIENCE } from "./driver.ts";
import { openBrowser } from "./served.ts";

export const SCREENS = "build/screens";
export const BYTES = newWorkbook(demoBook(DEMO_SEED, false).plan);

/** The workbook of a file. */
export function snapshotOf(path: string): Snapshot {
  return openWorkbook(readFileSync(path)).snapshot;
}

/** Its register. */
export function equipment(book: Snapshot): Sheet {
  const sheet = sheetNamed(book, "Equipment");
  if (sheet === null) throw new Error("no sheet Equipment");
  return sheet;
}

/** The workbench over a file, in a browser; what the browser complains of is gathered. */
export interface Scene {
  readonly folder: string;
  /** The file it was started with. */
  readonly path: string;
  readonly complaints: string[];
  readonly browser: () => Browser;
  /** Serves another file, or none. */
  readonly served: (path: string | null) => Promise<Serving>;
  readonly opened: (address?: string) => Promise<Page>;
}

/** Sets the scene before the tests that follow, and clears it after them. */
export function workbenchScene(chromium: string): Scene {
  const folder = mkdtempSync(join(tmpdir(), "workbench-"));
  const path = join(folder, "equipment.xlsx");
  let browser: Browser | null = null;
  let serving: Serving | null = null;
  let built = "";
  const complaints: string[] = [];
  const served = (file: string | null): Promise<Serving> => {
    return serve(
      { folder: built, book: file === null ? null : shelfFor(file, () => day("2026-07-06")) },
      0,
    );
  };

  beforeAll(async () => {
    mkdirSync(SCREENS, { recursive: true });
    writeFileSync(path, BYTES);
    built = pageFolder({ err: () => undefined }) ?? "";
    serving = await served(path);
    browser = await openBrowser(chromium);
  }, 300_000);

  afterAll(async () => {
    await browser?.close();
    await serving?.stop();
    rmSync(folder, { recursive: true, force: true });
  });

  const present = (): Browser => {
    if (browser === null) throw new Error("the browser is not open yet");
    return browser;
  };
  return {
    folder,
    path,
    complaints,
    browser: present,
    served,
    async opened(address = serving?.address ?? "") {
      const page = await present().newPage({ viewport: { width: 1366, height: 768 } });
      page.setDefaultTimeout(PATIENCE);
      page.on("pageerror", (error) => complaints.push(error.message));
      page.on("request", (request) => {
        const url = new URL(request.url());
        if (url.protocol === "http:" && url.hostname === "127.0.0.1") return;
        if (url.protocol !== "data:" && url.protocol !== "blob:") complaints.push(request.url());
      });
      await page.goto(address);
      await told(page, /is open|invented/);
      await page.getByText("35 devices on Equipment.", { exact: true }).waitFor();
      return page;
    },
  };
}

/** What the workbench says, once it says such a thing. */
export async function told(page: Page, words: RegExp): Promise<string> {
  const status = page.locator("#status");
  await status.filter({ hasText: words }).waitFor({ timeout: PATIENCE });
  return (await status.textContent()) ?? "";
}

/** Goes to a cell by its name and types into it, as a person does. */
export async function type(page: Page, cell: string, text: string): Promise<void> {
  await goTo(page, cell);
  await page.keyboard.type(text);
  await page.keyboard.press("Enter");
  // What was typed is taken once the next cell is at hand.
  const below = cell.replace(/\d+$/, (row) => String(Number(row) + 1));
  await expect.poll(() => nameBox(page).inputValue(), { timeout: PATIENCE }).toBe(below);
  await drawn(page);
}

/** Where the grid says which cell is at hand. */
function nameBox(page: Page): Locator {
  return page.locator("#grid input").first();
}

/** Goes to a cell, or some cells, by name. */
export async function goTo(page: Page, cell: string): Promise<void> {
  const name = nameBox(page);
  await name.click();
  await name.fill(cell);
  await page.keyboard.press("Enter");
  // The keys go to the cell once the box has let go of them.
  const typing = `document.activeElement.matches("#grid input")`;
  await expect.poll(() => page.evaluate(typing), { timeout: PATIENCE }).toBe(false);
  await drawn(page);
}

/** Saves the file; gives what the workbench says. */
export async function save(page: Page): Promise<string> {
  await page.locator("#save").click();
  return told(page, /Saved in|nothing was saved/);
}
