import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import type { Opening } from "./pane.test.ts";
import { bookText, isTooWide, SCREENS, settled, violations } from "./driver.ts";

/** The pane over a scene, and a way to its sections. */
export interface Pane {
  readonly open: (scene: string, opening?: Opening) => Promise<Page>;
  readonly go: (page: Page, section: string) => Promise<void>;
}

/** What a person does in single sections of the pane. */
export function sectionsOfPane({ open, go }: Pane): void {
  it("stops at patient data, names the column and holds no value", async () => {
    const page = await open("patients");
    const text = await page.locator("body").innerText();
    expect(text).toContain("Patient name");
    expect(await page.getByRole("button", { name: "Preview a new register" }).count()).toBe(0);
    expect(await violations(page)).toEqual([]);
    await page.context().close();
  });

  it("says why a budget cannot be worked out, and works it out once that is mended", async () => {
    const page = await open("clean");
    await go(page, "Budget");
    await page.locator("summary").filter({ hasText: "What if" }).click();
    const level = page.getByRole("main").getByRole("spinbutton");
    await level.fill("40");
    await page.getByRole("alert").filter({ hasText: "50% to 99.99%" }).waitFor();
    expect(await page.getByRole("button", { name: "Preview the sheets" }).isDisabled()).toBe(true);
    await level.fill("90");
    await page.getByText(/\(90\s?%\)/).waitFor();
    await page.context().close();
  });

  it("traces a lot, adds its sheet, and shares the columns with a sheet that tests them", async () => {
    const page = await open("clean");
    await go(page, "Share");
    await page.getByLabel("A lot, or the lots of a device").check();
    await page.getByLabel("Lot", { exact: true }).fill("L2417");
    await page.getByText("fitted before: VR-104").waitFor();
    expect(await violations(page)).toEqual([]);
    await page.screenshot({ path: `${SCREENS}/lot.png`, fullPage: true });
    await page.getByRole("button", { name: "Preview what would be added" }).click();
    await page.getByRole("button", { name: "Do it" }).click();
    await done(page, /trace of lot L2417/);
    expect(await bookText(page)).toContain("Lot trace");
    await page.getByLabel("Look for").selectOption("device");
    await page.getByLabel("Device", { exact: true }).fill("nobody");
    await page.getByText("No device of that name").waitFor();
    await go(page, "Columns");
    await page.getByRole("button", { name: "Preview the columns" }).click();
    await page.getByRole("button", { name: "Do it" }).click();
    await done(page, /columns/);
    await go(page, "Share");
    await page.getByLabel("Columns that need no add-in").check();
    await page.getByRole("button", { name: "Preview what would be added" }).click();
    await page.getByRole("button", { name: "Do it" }).click();
    await done(page, /Self-test/);
    expect(await bookText(page)).toContain("Self-test");
    await page.context().close();
  });

  it("shows the programme on one page, and makes that page with its pictures", async () => {
    const page = await open("clean");
    await go(page, "Share");
    await page.getByLabel("Summary on one page").check();
    await settled(page);
    await page.getByText("2 parts overdue, 0 to check;").first().waitFor();
    expect(await page.locator(".summary dt").allInnerTexts()).toContain("Inspections kept");
    expect(await violations(page)).toEqual([]);
    expect(await isTooWide(page)).toBe(false);
    await page.screenshot({ path: `${SCREENS}/share-summary.png`, fullPage: true });
    await page.getByRole("button", { name: "Preview what would be added" }).click();
    await page.getByRole("button", { name: "Do it" }).click();
    await done(page, /summary as of/);
    const shown = await page.evaluate<{ sheet: string }[]>("workbook.shown");
    expect(shown.at(-1)?.sheet).toBe("Summary");
    await page.getByRole("button", { name: "Undo this change" }).click();
    await page.getByRole("status").filter({ hasText: "Undone" }).first().waitFor();
    expect(await bookText(page)).not.toContain("Weeks kept");
    await page.context().close();
  });

  it("starts a new register where there is none", async () => {
    const page = await open("empty");
    expect(await violations(page)).toEqual([]);
    await page.getByRole("button", { name: "Preview a new register" }).click();
    await page.getByRole("button", { name: "Do it" }).click();
    await page.getByText("0 devices on Equipment.", { exact: true }).waitFor();
    expect(await page.evaluate("workbook.book().sheets.map((s) => s.name)")).toContain("Job log");
    await page.context().close();
  });

  it("shows help and tries functions where there is no workbook", async () => {
    const page = await open("alone");
    await page.getByRole("searchbox").fill("SPAN");
    await page.locator("summary").first().click();
    expect(await page.locator(".box").innerText()).toContain("=SPARE.SPAN(");
    expect(await violations(page)).toEqual([]);
    await page.context().close();
  });

  it("says so when a workbook may not be changed, and changes nothing", async () => {
    const page = await open("clean");
    const before = await bookText(page);
    await page.evaluate("workbook.lock()");
    await go(page, "Columns");
    await page.getByRole("button", { name: "Preview the columns" }).click();
    await page.getByRole("button", { name: "Do it" }).click();
    await page.getByRole("status").first().filter({ hasText: "locked against changes" }).waitFor();
    expect(await bookText(page)).toBe(before);
    await page.context().close();
  });

  it("shows a change anew when cells were changed meanwhile, and asks again", async () => {
    const page = await open("clean");
    await go(page, "Columns");
    await page.getByRole("button", { name: "Preview the columns" }).click();
    await page.getByRole("button", { name: "Do it" }).waitFor();
    await page.evaluate(`workbook.type({ sheet: "Equipment", row: 40, column: 0 }, "VR-999")`);
    await page.getByText("Cells have changed since").waitFor();
    await page.getByRole("button", { name: "Do it" }).click();
    await page.getByRole("status").first().filter({ hasText: "changed in the meantime" }).waitFor();
    expect(await page.locator(".box").innerText()).toContain("for 36 rows");
    await page.getByRole("button", { name: "Do it" }).click();
    await page.getByRole("button", { name: "Undo this change" }).waitFor();
    await page.context().close();
  });
}

/** Waits until a change is told to be done. */
async function done(page: Page, what: RegExp): Promise<void> {
  const said = page.getByRole("status").filter({ hasText: /^Done: / });
  await said.filter({ hasText: what }).waitFor();
}
