import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import axe from "axe-core";
import { describe, expect, it } from "vitest";
import { cellKey, type Snapshot } from "../../src/book/workbook/snapshot.ts";
import { openWorkbook } from "../../src/xlsx/index.ts";
import { differences } from "../taskpane/contract.ts";
import { drawn, PATIENCE, settled, TEST } from "./driver.ts";
import { FILE, FOUND, hostileFile, notShown, OPEN_ALL, SHEETS, TURN, WATCH } from "./hostile.ts";
import { chromiumPath } from "./served.ts";
import { filesInWorkbench } from "./workbench-files.ts";
import {
  BYTES,
  equipment,
  goTo,
  save,
  SCREENS,
  snapshotOf,
  told,
  type,
  workbenchScene,
} from "./workbench-scene.ts";

/** The workbench in headless Chromium: real typing, a real file. */
const chromium = chromiumPath();
if (chromium === null) {
  process.stderr.write("The workbench is not driven: Chromium is not installed.\n");
}

/** What the state column of ear cushions says in the row of a device. */
function stateOf(book: Snapshot, device: string): unknown {
  const { values } = equipment(book);
  const column = values[2]?.indexOf("Ear cushion: state") ?? -1;
  return values.find(([id]) => id === device)?.[column];
}

describe.skipIf(chromium === null)("the workbench in Chromium", TEST, () => {
  const scene = workbenchScene(chromium ?? "");
  const { folder, path, complaints, opened, served } = scene;

  it("calculates a typed function, shows a date, and saves it into the file with a dated copy", async () => {
    const page = await opened();
    await type(page, "G5", "=SPARE.NEXTDUE(H5,3)");
    await page.locator("#file", { hasText: "(not saved)" }).waitFor();
    await page.screenshot({ path: join(SCREENS, "workbench-typed.png") });
    expect(await save(page)).toMatch(
      /The file as it was: equipment before start 2026-07-06 [0-9a-f]{8}\.xlsx\./,
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
  });

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
  });

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
  });

  it("pastes formulas so that they follow their rows", async () => {
    const page = await opened();
    await type(page, "P4", "=SPARE.NEXTDUE(I4,6)");
    await goTo(page, "P4");
    await page.keyboard.press("Control+c");
    // The clipboard takes what it is given when it likes: pasted until it is there, which changes nothing more.
    const pasted = async (): Promise<unknown> => {
      await goTo(page, "P5:P8");
      await page.keyboard.press("Control+v");
      await save(page);
      return equipment(snapshotOf(path)).formulas.get(cellKey(7, 15));
    };
    await expect.poll(pasted, { timeout: PATIENCE }).toBe("SPARE.NEXTDUE(I8,6)");
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
  });

  it("undoes typing, and a book that is typed back is not changed", async () => {
    const page = await opened();
    const before = readFileSync(path);
    await type(page, "L6", "typed");
    await page.keyboard.press("Control+z");
    await drawn(page);
    await save(page);
    expect(Buffer.compare(readFileSync(path), before)).toBe(0);
    await page.close();
  });

  it("tells why a function gave an error, and why something is refused", async () => {
    const page = await opened();
    await type(page, "G6", "=SPARE.NEXTDUE(H6,-3,4)");
    await goTo(page, "G6");
    await told(page, /^months must be a whole number from 1 to 1200, got -3$/);
    await goTo(page, "G7");
    await page.keyboard.press("Control+b");
    await told(page, /^Formatting, rules and choices stay as the file has them/);
    await goTo(page, "A4");
    await page.keyboard.press("Control+x");
    await drawn(page);
    await goTo(page, "L9");
    await page.keyboard.press("Control+v");
    await told(page, /^Rows, columns and sheets stay where they are here/);
    await page.close();
  });

  it("writes the columns from the pane and takes them back to the very bytes", async () => {
    const page = await opened();
    const before = readFileSync(path);
    await page.getByRole("button", { name: "Columns", exact: true }).click();
    await page.getByRole("button", { name: "Preview the columns" }).click();
    await page.getByRole("button", { name: "Do it" }).click();
    await page.getByRole("button", { name: "Undo this change" }).waitFor();
    await save(page);
    const headings = equipment(snapshotOf(path)).values[2];
    // What was typed before contradicts the log, so columns of doubt may stand among them.
    const answers = ["interval (months)", "next due", "state", "row check"];
    const titles = ["Electrode set", "Ear cushion", "Calibration"].flatMap((part) =>
      answers.map((answer) => `${part}: ${answer}`),
    );
    expect(headings).toEqual(expect.arrayContaining(["Uses a month", "Counted to", ...titles]));
    await page.screenshot({ path: join(SCREENS, "workbench-columns.png") });
    await page.getByRole("button", { name: "Undo this change" }).click();
    await page.getByText("Undone").first().waitFor();
    await save(page);
    expect(Buffer.compare(readFileSync(path), before)).toBe(0);
    await page.close();
  });

  it("logs a replacement from the pane, and the state beside the row follows", async () => {
    const page = await opened();
    await page.getByRole("button", { name: "Columns", exact: true }).click();
    await page.getByRole("button", { name: "Preview the columns" }).click();
    await page.getByRole("button", { name: "Do it" }).click();
    await page.getByRole("button", { name: "Undo this change" }).waitFor();
    await save(page);
    expect(stateOf(snapshotOf(path), "VR-123")).toBe("Overdue");

    await page.getByRole("button", { name: "Log", exact: true }).click();
    await page.getByLabel("Device", { exact: true }).selectOption("VR-123");
    await page.getByLabel("Part", { exact: true }).selectOption({ label: "Ear cushion" });
    await page.getByLabel("Job", { exact: true }).selectOption("replaced");
    await page.getByRole("button", { name: "Record it" }).click();
    await page.getByRole("button", { name: "Undo this change" }).waitFor();
    await save(page);
    await page.screenshot({ path: join(SCREENS, "workbench-logged.png") });
    expect(stateOf(snapshotOf(path), "VR-123")).toBe("Not due");

    await page.reload();
    await page.getByText("35 devices on Equipment.", { exact: true }).waitFor();
    await save(page);
    expect(stateOf(snapshotOf(path), "VR-123")).toBe("Not due");
    await page.close();
  });

  it("shows a book of hostile texts as text, in grid and pane, and makes no element of it", async () => {
    const hostile = join(folder, FILE);
    const bytes = hostileFile(TURN);
    writeFileSync(hostile, bytes);
    const serving = await served(hostile);
    const page = await scene.browser().newPage({ viewport: { width: 1366, height: 768 } });
    page.setDefaultTimeout(PATIENCE);
    page.on("dialog", (dialog) => complaints.push(dialog.message()));
    page.on("console", (message) => {
      if (/Content Security Policy/.test(message.text())) complaints.push(message.text());
    });
    page.on("request", (request) => {
      if (/[/]x$|javascript:/.test(request.url())) complaints.push(request.url());
    });
    await page.addInitScript(WATCH);
    await page.goto(serving.address);
    expect(await told(page, /is open/)).toBe(`${FILE} is open.`);
    expect(await page.title()).toBe(`${FILE} – Sparespan`);
    await page.getByText("35 devices on Equipment.", { exact: true }).waitFor();
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
      await drawn(page);
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
    await serving.stop();
  });

  it("has nothing outside the grid that keeps people out", async () => {
    const page = await opened();
    await page.evaluate(axe.source);
    const found = await page.evaluate<string[]>(
      `axe.run({ exclude: ["#grid"] }).then(({ violations }) =>
        violations.map(({ id, nodes }) => id + ": " + nodes[0].html))`,
    );
    expect(found).toEqual([]);
    await page.close();
  });

  describe("and its files", () => {
    filesInWorkbench(scene);
  });

  it("breaks nothing and asks nobody else", () => {
    expect(complaints).toEqual([]);
  });
});
