import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { address } from "../../src/book/workbook/snapshot.ts";
import { newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import { differences } from "../taskpane/contract.ts";
import { PATIENCE } from "./driver.ts";
import { randomBook } from "../scenes/random-book.ts";
import {
  BYTES,
  equipment,
  save,
  type Scene,
  SCREENS,
  snapshotOf,
  told,
  type,
} from "./workbench-scene.ts";

/** Opening, saving, leaving: what a person does with files in the workbench. */
export function filesInWorkbench({ folder, path, browser, served, opened }: Scene): void {
  it("lists the sheets of results, the latest first, and shows one", async () => {
    const page = await opened();
    const menu = page.locator("#reports");
    await menu.locator("summary").click();
    await menu.getByText("No reports yet").waitFor();
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: "Order", exact: true }).click();
    await page.getByRole("button", { name: "Preview the order list" }).click();
    await page.getByRole("button", { name: "Do it" }).click();
    await page.getByRole("button", { name: "Undo this change" }).waitFor();
    await menu.locator("summary").click();
    await menu.locator("button").first().waitFor();
    expect(await menu.locator("button").allTextContents()).toEqual([
      expect.stringMatching(/^Calculation, as of \d{4}-\d\d-\d\d$/),
      expect.stringMatching(/^Order list, as of \d{4}-\d\d-\d\d$/),
    ]);
    await page.screenshot({ path: join(SCREENS, "workbench-reports.png") });
    await menu.getByRole("button", { name: "Order list" }).click();
    await page.locator("#reports ul").waitFor({ state: "hidden" });
    await page.screenshot({ path: join(SCREENS, "workbench-report.png") });
    await page.getByRole("button", { name: "Undo this change" }).click();
    await page.getByText("Undone").first().waitFor();
    await page.close();
  });

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
  });

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
  });

  it("warns before what is not saved would be lost", async () => {
    const page = await opened();
    await type(page, "L7", "not saved");
    const asked: string[] = [];
    page.on("dialog", (dialog) => {
      asked.push(`${dialog.type()}: ${dialog.message()}`);
      void dialog.dismiss();
    });
    await page.locator("#demo").click();
    await expect
      .poll(() => asked, { timeout: PATIENCE })
      .toEqual(["confirm: Your changes are not saved. Open another workbook?"]);
    expect(await page.locator("#file").textContent()).toBe("equipment.xlsx (not saved)");
    await page.evaluate("location.reload()");
    await expect.poll(() => asked, { timeout: PATIENCE }).toHaveLength(2);
    expect(asked[1]).toMatch(/^beforeunload: /);
    expect(await page.locator("#file").textContent()).toBe("equipment.xlsx (not saved)");
    await page.close();
  });

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
  });

  it("opens ten thousand rows, and keeps what is typed into the last of them", async () => {
    const many = join(folder, "many.xlsx");
    const bytes = newWorkbook(randomBook(10_000, 5, 1900));
    writeFileSync(many, bytes);
    const start = openWorkbook(bytes).snapshot;
    const [register] = start.sheets;
    if (register === undefined) throw new Error("no sheet");
    const [row, column] = [register.values.length - 1, 60];
    const large = await served(many);
    const page = await browser().newPage({ viewport: { width: 1366, height: 768 } });
    page.setDefaultTimeout(PATIENCE);
    await page.goto(large.address);
    await told(page, /is open/);
    // The rows are being read still: a press on Save waits for its turn.
    await page.locator("#save").click();
    await told(page, /^Saving once/);
    await told(page, /^Saved in/);
    await type(page, address(row, column), "seen");
    await save(page);
    const found = differences(start, snapshotOf(many));
    expect(found).toEqual([
      `${register.name}!${address(row, column)}: blank / string "seen" General`,
    ]);
    await page.close();
    await large.stop();
  });

  it("tells what is wrong with a broken file and keeps the one that is open", async () => {
    const page = await opened();
    const buffer = Buffer.from("not a workbook");
    const broken = { name: "broken.xlsx", mimeType: "application/octet-stream", buffer };
    await page.locator("#pick").setInputFiles(broken);
    const sentence = await told(page, /^(?!Opening)(?!.*is open).*[.]$/);
    expect(sentence).toMatch(/^[A-Z].*[.]$/);
    expect(await page.locator("#file").textContent()).toBe("equipment.xlsx");
    await page.close();
  });

  it("opens the demonstration with a guide that is put away for good", async () => {
    const alone = await served(null);
    const page = await opened(alone.address);
    await page.screenshot({ path: join(SCREENS, "workbench-first.png") });
    const step = page.locator("#step");
    expect(await step.textContent()).toMatch(/^Step 1 of 6[.] Today/);
    expect(await page.getByRole("button", { name: "Back" }).isDisabled()).toBe(true);
    for (let at = 2; at <= 6; at += 1)
      await page.getByRole("button", { name: "Next step" }).click();
    expect(await step.textContent()).toMatch(/^Step 6 of 6[.] Save/);
    await page.getByRole("button", { name: "Hide the steps" }).click();
    await page.reload();
    await told(page, /invented/);
    expect(await page.locator("#guide").isVisible()).toBe(false);
    await page.close();
    await alone.stop();
  });
}
