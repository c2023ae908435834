import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import axe from "axe-core";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import {
  address,
  cellKey,
  type Sheet,
  sheetNamed,
  type Snapshot,
} from "../../src/book/snapshot.ts";
import { serve, type Serving } from "../../src/cli/serve.ts";
import { shelfFor } from "../../src/cli/serve-book.ts";
import { pageFolder } from "../../src/cli/serve-page.ts";
import { newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import { differences } from "../contract.ts";
import { randomBook } from "../random-book.ts";
import { settled } from "./driver.ts";
import { FILE, FOUND, hostileFile, notShown, OPEN_ALL, SHEETS, TURN, WATCH } from "./hostile.ts";
import { chromiumPath, openBrowser } from "./served.ts";

/** The workbench in headless Chromium: real typing, a real file. */
const chromium = chromiumPath();
if (chromium === null) {
  process.stderr.write("The workbench is not driven: Chromium is not installed.\n");
}

const SCREENS = "build/screens";
const BYTES = newWorkbook(demoBook(DEMO_SEED, false).plan);

function snapshotOf(path: string): Snapshot {
  return openWorkbook(readFileSync(path)).snapshot;
}

function equipment(book: Snapshot): Sheet {
  const sheet = sheetNamed(book, "Equipment");
  if (sheet === null) throw new Error("no sheet Equipment");
  return sheet;
}

/** What the state column of ear cushions says in the row of a device. */
function stateOf(book: Snapshot, device: string): unknown {
  const { values } = equipment(book);
  const column = values[2]?.indexOf("Ear cushion: state") ?? -1;
  return values.find(([id]) => id === device)?.[column];
}

describe.skipIf(chromium === null)("the workbench in Chromium", () => {
  const folder = mkdtempSync(join(tmpdir(), "workbench-"));
  const path = join(folder, "equipment.xlsx");
  let browser: Browser;
  let serving: Serving;
  /** Folder of the built page. */
  let built = "";
  let minute = 0;
  const complaints: string[] = [];

  beforeAll(async () => {
    mkdirSync(SCREENS, { recursive: true });
    writeFileSync(path, BYTES);
    built = pageFolder({ err: () => undefined }) ?? "";
    const book = shelfFor(path, () => `2026-07-06 10${String((minute += 1)).padStart(2, "0")}00`);
    serving = await serve({ folder: built, book }, 0);
    browser = await openBrowser(chromium ?? "");
  }, 300_000);

  afterAll(async () => {
    await browser.close();
    await serving.stop();
    rmSync(folder, { recursive: true, force: true });
  });

  async function opened(address = serving.address): Promise<Page> {
    const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
    page.on("pageerror", (error) => complaints.push(error.message));
    page.on("request", (request) => {
      const url = new URL(request.url());
      if (url.protocol === "http:" && url.hostname === "127.0.0.1") return;
      if (url.protocol !== "data:" && url.protocol !== "blob:") complaints.push(request.url());
    });
    await page.goto(address);
    await told(page, /is open|invented/);
    await page.getByText("35 devices on Equipment.").waitFor();
    return page;
  }

  async function told(page: Page, words: RegExp): Promise<string> {
    const status = page.locator("#status");
    await status.filter({ hasText: words }).waitFor({ timeout: 30_000 });
    return (await status.textContent()) ?? "";
  }

  /** Goes to a cell by its name and types into it, as a person does. */
  async function type(page: Page, cell: string, text: string): Promise<void> {
    await goTo(page, cell);
    await page.keyboard.type(text);
    await page.keyboard.press("Enter");
    await page.waitForTimeout(300);
  }

  async function goTo(page: Page, cell: string): Promise<void> {
    const name = page.locator("#grid input").first();
    await name.click();
    await name.fill(cell);
    await page.keyboard.press("Enter");
    await page.waitForTimeout(300);
  }

  async function save(page: Page): Promise<string> {
    await page.locator("#save").click();
    return told(page, /Saved in|nothing was saved/);
  }

  it("calculates a typed function, shows a date, and saves it into the file with a dated copy", async () => {
    const page = await opened();
    await type(page, "G5", "=SPARE.NEXTDUE(H5,3)");
    await page.locator("#file", { hasText: "(not saved)" }).waitFor();
    await page.screenshot({ path: join(SCREENS, "workbench-typed.png") });
    expect(await save(page)).toContain(
      "The file as it was: equipment before 2026-07-06 100100.xlsx.",
    );
    const book = snapshotOf(path);
    const { values, formulas, formats } = equipment(book);
    // Row 5: last replaced 2026-04-30; three months later is Thursday 2026-07-30.
    expect(values[4]?.[6]).toBe(46_233);
    expect(formulas.get(cellKey(4, 6))).toBe("SPARE.NEXTDUE(H5,3)");
    expect(book.formats[formats[4]?.[6] ?? 0]).toBe("yyyy-mm-dd");
    const found = differences(openWorkbook(BYTES).snapshot, book);
    expect(found).toEqual(["Equipment!G5: blank / number 46233 =SPARE.NEXTDUE(H5,3) yyyy-mm-dd"]);
    expect(readdirSync(folder).filter((name) => name.includes("before"))).toHaveLength(1);
    await page.close();
  }, 60_000);

  it("carries a changed date to the formulas of the row and saves their results", async () => {
    const page = await opened();
    const before = equipment(snapshotOf(path));
    await type(page, "H5", "2026-05-29");
    await type(page, "E5", "2020-01-01");
    await save(page);
    const { values, formulas } = equipment(snapshotOf(path));
    // Three months after 2026-05-29 is a Saturday: the Friday before it, 2026-08-28.
    expect(values[4]?.[7]).toBe(46_171);
    expect(values[4]?.[6]).toBe(46_262);
    expect([...formulas]).toEqual([...before.formulas]);
    // (2026-07-06 less 2020-01-01) / 365.25, one decimal: 2,378 days.
    expect(values[4]?.[10]).toBe(6.5);
    await page.close();
  }, 60_000);

  it("saves the cells a function fills, months as dates, and fills them again when opened", async () => {
    const page = await opened();
    await type(page, "P40", "=SPARE.REPLACEAHEAD(H4:H6,3,DATE(2026,7,6),3)");
    await save(page);
    const book = snapshotOf(path);
    const { values, formats, formulas } = equipment(book);
    const months = [39, 40, 41].map((row) => values[row]?.[15]);
    // The first days of July, August and September 2026.
    expect(months).toEqual([46_204, 46_235, 46_266]);
    for (const row of [39, 40, 41]) {
      expect(book.formats[formats[row]?.[15] ?? 0]).toBe("yyyy-mm-dd");
    }
    expect(formulas.get(cellKey(39, 15))).toBe("SPARE.REPLACEAHEAD(H4:H6,3,DATE(2026,7,6),3)");
    await page.reload();
    await told(page, /is open/);
    expect(await page.locator("#file").textContent()).toBe("equipment.xlsx");
    await type(page, "P44", "=SUM(P40:P42)");
    await save(page);
    const again = equipment(snapshotOf(path));
    expect(again.values[43]?.[15]).toBe(46_204 + 46_235 + 46_266);
    expect([39, 40, 41].map((row) => again.values[row]?.[15])).toEqual(months);
    await goTo(page, "P40");
    await page.keyboard.press("Delete");
    await goTo(page, "P44");
    await page.keyboard.press("Delete");
    await save(page);
    const rest = equipment(snapshotOf(path));
    expect([39, 40, 41, 43].map((row) => rest.values[row]?.[15] ?? null)).toEqual([
      null,
      null,
      null,
      null,
    ]);
    await page.close();
  }, 60_000);

  it("pastes formulas so that they follow their rows", async () => {
    const page = await opened();
    await type(page, "P4", "=SPARE.NEXTDUE(I4,6)");
    await goTo(page, "P4");
    await page.keyboard.press("Control+c");
    await page.waitForTimeout(300);
    await goTo(page, "P5:P8");
    await page.keyboard.press("Control+v");
    await page.waitForTimeout(1000);
    await save(page);
    const { formulas, values } = equipment(snapshotOf(path));
    for (const row of [4, 7]) {
      expect(formulas.get(cellKey(row, 15))).toBe(`SPARE.NEXTDUE(I${row + 1},6)`);
      expect(values[row]?.[15]).toBeGreaterThan(46_000);
    }
    await goTo(page, "P4:P8");
    await page.keyboard.press("Delete");
    await save(page);
    expect(equipment(snapshotOf(path)).values[7]?.[15] ?? null).toBeNull();
    await page.close();
  }, 60_000);

  it("undoes typing, and a book that is typed back is not changed", async () => {
    const page = await opened();
    const before = readFileSync(path);
    await type(page, "L6", "typed");
    await page.keyboard.press("Control+z");
    await page.waitForTimeout(300);
    await save(page);
    expect(Buffer.compare(readFileSync(path), before)).toBe(0);
    await page.close();
  }, 60_000);

  it("tells why a function gave an error, and why something is refused", async () => {
    const page = await opened();
    await type(page, "G6", "=SPARE.NEXTDUE(H6,-3,4)");
    await goTo(page, "G6");
    await told(page, /^months must be a whole number from 1 to 1200, got -3$/);
    await goTo(page, "G7");
    await page.keyboard.press("Control+b");
    await told(page, /^Looks, rules and choices stay as the file has them/);
    await page.locator('[data-u-comp="sheet-bar-append-button"]').first().click();
    await told(page, /^Rows, columns and sheets stay where they are here/);
    await page.close();
  }, 60_000);

  it("writes the columns from the pane and takes them back to the very bytes", async () => {
    const page = await opened();
    const before = readFileSync(path);
    await page.getByRole("button", { name: "Columns", exact: true }).click();
    await page.getByRole("button", { name: "Show the columns" }).click();
    await page.getByRole("button", { name: "Do it" }).click();
    await page.getByRole("button", { name: "Take it back" }).waitFor();
    await save(page);
    const headings = equipment(snapshotOf(path)).values[2];
    expect(headings).toHaveLength(26);
    await page.screenshot({ path: join(SCREENS, "workbench-columns.png") });
    await page.getByRole("button", { name: "Take it back" }).click();
    await page.getByText("Taken back").first().waitFor();
    await save(page);
    expect(Buffer.compare(readFileSync(path), before)).toBe(0);
    await page.close();
  }, 60_000);

  it("lists the sheets of results, the latest first, and shows one", async () => {
    const page = await opened();
    const menu = page.locator("#reports");
    await menu.locator("summary").click();
    await menu.getByText("No report yet").waitFor();
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: "Order", exact: true }).click();
    await page.getByRole("button", { name: "Show the order list" }).click();
    await page.getByRole("button", { name: "Do it" }).click();
    await page.getByRole("button", { name: "Take it back" }).waitFor();
    await menu.locator("summary").click();
    await menu.locator("button").first().waitFor();
    expect(await menu.locator("button").allTextContents()).toEqual([
      expect.stringMatching(/^How worked out, as of \d{4}-\d\d-\d\d$/),
      expect.stringMatching(/^Order list, as of \d{4}-\d\d-\d\d$/),
    ]);
    await page.screenshot({ path: join(SCREENS, "workbench-reports.png") });
    await menu.getByRole("button", { name: "Order list" }).click();
    await page.waitForTimeout(300);
    expect(await page.locator("#reports ul").isVisible()).toBe(false);
    await page.screenshot({ path: join(SCREENS, "workbench-report.png") });
    await page.getByRole("button", { name: "Take it back" }).click();
    await page.getByText("Taken back").first().waitFor();
    await page.close();
  }, 60_000);

  it("opens a workbook that is picked, saves it as a download, and loses nothing", async () => {
    const page = await opened();
    const buffer = Buffer.from(BYTES);
    const picked = { name: "picked.xlsx", mimeType: "application/octet-stream", buffer };
    await page.locator("#pick").setInputFiles(picked);
    await told(page, /^picked.xlsx is open/);
    await type(page, "L5", "seen");
    const coming = page.waitForEvent("download");
    await page.locator("#save").click();
    const download = await coming;
    await told(page, /^picked.xlsx is in your downloads/);
    expect(download.suggestedFilename()).toBe("picked.xlsx");
    const found = differences(openWorkbook(BYTES).snapshot, snapshotOf(await download.path()));
    expect(found).toEqual(['Equipment!L5: blank / string "seen" General']);
    expect(await page.locator("#file").textContent()).toBe("picked.xlsx");
    await page.close();
  }, 60_000);

  it("opens a workbook that is dropped on the page", async () => {
    const page = await opened();
    const name = "dropped.xlsx";
    const data = await page.evaluateHandle<unknown>(
      `(() => {
        const data = new DataTransfer();
        const bytes = Uint8Array.from(atob("${Buffer.from(BYTES).toString("base64")}"), (c) => c.charCodeAt(0));
        data.items.add(new File([bytes], "${name}"));
        return data;
      })()`,
    );
    await page.dispatchEvent("#grid", "dragover", { dataTransfer: data });
    expect(await page.locator("body").getAttribute("class")).toBe("bench-dropping");
    await page.dispatchEvent("#grid", "drop", { dataTransfer: data });
    await told(page, /^dropped.xlsx is open/);
    expect(await page.locator("body").getAttribute("class")).toBe("");
    await page.close();
  }, 60_000);

  it("warns before what is not saved would be lost", async () => {
    const page = await opened();
    await type(page, "L7", "not saved");
    const asked: string[] = [];
    page.on("dialog", (dialog) => {
      asked.push(`${dialog.type()}: ${dialog.message()}`);
      void dialog.dismiss();
    });
    await page.locator("#demo").click();
    expect(asked).toEqual(["confirm: What you changed is not saved. Open another workbook?"]);
    expect(await page.locator("#file").textContent()).toBe("equipment.xlsx (not saved)");
    await page.evaluate("location.reload()");
    await expect.poll(() => asked, { timeout: 10_000 }).toHaveLength(2);
    expect(asked[1]).toMatch(/^beforeunload: /);
    expect(await page.locator("#file").textContent()).toBe("equipment.xlsx (not saved)");
    await page.close();
  }, 60_000);

  it("does not let an older tab save over a newer one", async () => {
    const older = await opened();
    const newer = await opened();
    await type(newer, "L5", "newer");
    await save(newer);
    await type(older, "L5", "older");
    expect(await save(older)).toBe(
      "The file was saved from another tab since this one opened it: reload this page to see it; nothing was saved here.",
    );
    expect(equipment(snapshotOf(path)).values[4]?.[11]).toBe("newer");
    await older.close();
    await newer.close();
  }, 60_000);

  it("logs a replacement from the pane, and the state beside the row follows", async () => {
    const page = await opened();
    await page.getByRole("button", { name: "Columns", exact: true }).click();
    await page.getByRole("button", { name: "Show the columns" }).click();
    await page.getByRole("button", { name: "Do it" }).click();
    await page.getByRole("button", { name: "Take it back" }).waitFor();
    await save(page);
    expect(stateOf(snapshotOf(path), "VR-123")).toBe("Overdue");

    await page.getByRole("button", { name: "Log", exact: true }).click();
    await page.getByLabel("Device", { exact: true }).selectOption("VR-123");
    await page.getByLabel("Part", { exact: true }).selectOption({ label: "Ear cushion" });
    await page.getByLabel("Job", { exact: true }).selectOption("replaced");
    await page.getByRole("button", { name: "Write it down" }).click();
    await page.getByRole("button", { name: "Take it back" }).waitFor();
    await save(page);
    await page.screenshot({ path: join(SCREENS, "workbench-logged.png") });
    expect(stateOf(snapshotOf(path), "VR-123")).toBe("Not due");

    await page.reload();
    await page.getByText("35 devices on Equipment.").waitFor();
    await save(page);
    expect(stateOf(snapshotOf(path), "VR-123")).toBe("Not due");
    await page.close();
  }, 90_000);

  it("opens ten thousand rows, and keeps what is typed into the last of them", async () => {
    const many = join(folder, "many.xlsx");
    const bytes = newWorkbook(randomBook(10_000, 5, 1900));
    writeFileSync(many, bytes);
    const start = openWorkbook(bytes).snapshot;
    const [register] = start.sheets;
    if (register === undefined) throw new Error("no sheet");
    const [row, column] = [register.values.length - 1, 60];
    const large = await serve(
      { folder: built, book: shelfFor(many, () => "2026-07-06 110000") },
      0,
    );
    const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
    await page.goto(large.address);
    await told(page, /is open/);
    await type(page, address(row, column), "seen");
    await save(page);
    const found = differences(start, snapshotOf(many));
    expect(found).toEqual([
      `${register.name}!${address(row, column)}: blank / string "seen" General`,
    ]);
    await page.close();
    await large.stop();
  }, 120_000);

  it("shows a book of hostile texts as text, in grid and pane, and makes no element of it", async () => {
    const hostile = join(folder, FILE);
    const bytes = hostileFile(TURN);
    writeFileSync(hostile, bytes);
    const served = await serve({ folder: built, book: shelfFor(hostile, () => "2026-07-06") }, 0);
    const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
    page.on("dialog", (dialog) => complaints.push(dialog.message()));
    page.on("console", (message) => {
      if (/Content Security Policy/.test(message.text())) complaints.push(message.text());
    });
    page.on("request", (request) => {
      if (/[/]x$|javascript:/.test(request.url())) complaints.push(request.url());
    });
    await page.addInitScript(WATCH);
    await page.goto(served.address);
    expect(await told(page, /is open/)).toBe(`${FILE} is open.`);
    expect(await page.title()).toBe(`${FILE} – Sparesheet`);
    await page.getByText("35 devices on Equipment.").waitFor();
    let all = "";
    const sections = await page.getByRole("navigation").getByRole("button").all();
    expect(sections).toHaveLength(9);
    for (const section of sections) {
      await section.click();
      await settled(page);
      await page.evaluate(OPEN_ALL);
      all += (await page.locator("#pane").textContent()) ?? "";
    }
    expect(notShown(all)).toEqual([]);
    // Cells are looked at, and opened as if to be typed into.
    for (const cell of ["A1", "L3", "A4", "B9", "C20", "A27"]) {
      await goTo(page, cell);
      await page.keyboard.press("F2");
      await page.waitForTimeout(200);
      await page.keyboard.press("Escape");
    }
    for (const name of SHEETS) {
      await page.locator('[data-u-comp="slide-tab-item"]', { hasText: name }).first().click();
      await goTo(page, "A2");
    }
    await page.screenshot({ path: join(SCREENS, "workbench-hostile.png") });
    expect(await page.evaluate(FOUND)).toEqual([]);
    await save(page);
    expect(Buffer.compare(readFileSync(hostile), bytes)).toBe(0);
    await page.close();
    await served.stop();
  }, 120_000);

  it("tells what is wrong with a broken file and keeps the one that is open", async () => {
    const page = await opened();
    const buffer = Buffer.from("not a workbook");
    const broken = { name: "broken.xlsx", mimeType: "application/octet-stream", buffer };
    await page.locator("#pick").setInputFiles(broken);
    const sentence = await told(page, /^(?!Opening)(?!.*is open).*[.]$/);
    expect(sentence).toMatch(/^[A-Z].*[.]$/);
    expect(await page.locator("#file").textContent()).toBe("equipment.xlsx");
    await page.close();
  }, 60_000);

  it("opens the demonstration with a guide that is put away for good", async () => {
    const alone = await serve({ folder: built, book: null }, 0);
    const page = await opened(alone.address);
    await page.screenshot({ path: join(SCREENS, "workbench-first.png") });
    expect(await page.locator("#guide li").count()).toBe(5);
    await page.getByRole("button", { name: "Do not show this again" }).click();
    await page.reload();
    await told(page, /invented/);
    expect(await page.locator("#guide").isVisible()).toBe(false);
    await page.close();
    await alone.stop();
  }, 60_000);

  it("has nothing outside the grid that keeps people out", async () => {
    const page = await opened();
    await page.evaluate(axe.source);
    const found = await page.evaluate<string[]>(
      `axe.run({ exclude: ["#grid"] }).then(({ violations }) =>
        violations.map(({ id, nodes }) => id + ": " + nodes[0].html))`,
    );
    expect(found).toEqual([]);
    await page.close();
  }, 60_000);

  it("breaks nothing and asks nobody else", () => {
    expect(complaints).toEqual([]);
  });
});
