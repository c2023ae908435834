import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { bookText, drawn, SECTIONS, settled, violations } from "./driver.ts";
import type { Pane } from "./pane-sections.ts";

/** What has the focus, in its own words; "the page" where the keyboard is lost. */
async function focusAt(page: Page): Promise<string> {
  return page.evaluate<string>(
    `(() => {
      const at = document.activeElement;
      return at === null || at === document.body ? "the page" : at.textContent.trim();
    })()`,
  );
}

/** Presses a button by keyboard; gives where the focus is after that. */
async function pressed(page: Page, name: string | RegExp): Promise<string> {
  const button = page.getByRole("button", { name }).first();
  await button.focus();
  await page.keyboard.press("Enter");
  await settled(page);
  return focusAt(page);
}

/** Rows of the Job log. */
const LOGGED = `workbook.book().sheets.find((s) => s.name === "Job log").values.length`;

/** A person who counts presses. */
function counting(page: Page): {
  readonly press: (name: string | RegExp) => Promise<void>;
  readonly choose: (label: string, value: string) => Promise<void>;
  readonly check: (label: string) => Promise<void>;
  readonly done: () => string;
} {
  let presses = 0;
  const began = performance.now();
  return {
    async press(name) {
      await page.getByRole("button", { name }).first().click();
      presses += 1;
      await settled(page);
    },
    // A list is opened, then the choice is pressed.
    async choose(label, value) {
      await page.getByLabel(label, { exact: true }).selectOption(value);
      presses += 2;
      await settled(page);
    },
    async check(label) {
      await page.getByLabel(label, { exact: true }).check();
      presses += 1;
      await settled(page);
    },
    done: () => `${presses} presses, ${((performance.now() - began) / 1000).toFixed(1)} s`,
  };
}

/** Where presses lead, and how many a job takes. */
export function pressesOfPane({ open, go }: Pane): void {
  it("never loses the keyboard to the page, whatever was pressed", async () => {
    const page = await open("clean");
    for (const section of SECTIONS) expect(await pressed(page, section)).toBe(section);
    await page.evaluate(`workbook.type({ sheet: "Equipment", row: 40, column: 0 }, "VR-999")`);
    expect(await pressed(page, "Read the workbook again")).toMatch(/^Read: /);
    await go(page, "Columns");
    expect(await pressed(page, "Preview the columns")).toBe("What would change");
    expect(await pressed(page, "Cancel")).toBe("Nothing was changed.");
    await pressed(page, "Preview the columns");
    expect(await pressed(page, "Do it")).toMatch(/^Done: /);
    expect(await pressed(page, "Undo this change")).toMatch(/^Undone: /);
    await pressed(page, "Today");
    expect(await pressed(page, "Replaced VR-123")).toBe("Replaced: Ear cushion of VR-123");
    expect(await pressed(page, "Cancel")).toMatch(/^▲ Overdue: VR-123/);
    await pressed(page, "Replaced VR-123");
    expect(await pressed(page, "Record it")).toMatch(/^Done: replaced Ear cushion of VR-123/);
    expect(await pressed(page, "parts due soon")).toContain("parts due soon");
    await page.getByLabel("VR-114, Ear cushion").check();
    await page.getByLabel("VR-117, Ear cushion").check();
    expect(await pressed(page, "Inspected: 2")).toBe("Inspected: 2 lines");
    expect(await pressed(page, "Cancel")).not.toBe("the page");
    await page.evaluate("workbook.lock()");
    await go(page, "Order");
    await pressed(page, "Preview the order list");
    expect(await pressed(page, "Do it")).toBe("Do it");
    await page.getByRole("status").first().filter({ hasText: "locked against" }).waitFor();
    await go(page, "Check");
    await page.evaluate("workbook.slow(30000)");
    await page.getByRole("button", { name: "Read the workbook again" }).first().click();
    const stop = page.getByRole("button", { name: "Stop" });
    await stop.focus();
    await page.keyboard.press("Enter");
    await stop.waitFor({ state: "detached" });
    await drawn(page);
    expect(await focusAt(page)).toBe("Stopped; nothing was changed.");
    await page.context().close();
  });

  it("takes at most 88 pixels of 640 for header and navigation, and the foot is in view", async () => {
    const page = await open("untidy");
    const boxOf = (what: string) => page.locator(what).boundingBox();
    for (const section of SECTIONS) {
      await go(page, section);
      const [header, foot] = [await boxOf("header"), await boxOf("footer")];
      expect((header?.y ?? 0) + (header?.height ?? Infinity)).toBeLessThanOrEqual(88);
      expect((foot?.y ?? Infinity) + (foot?.height ?? 0)).toBe(640);
    }
    await page.context().close();
  });

  it("logs an overdue replacement with two presses, and an inspection with three", async () => {
    const page = await open("clean");
    const rows = await page.evaluate<number>(LOGGED);
    const replacing = counting(page);
    await replacing.press("Replaced VR-123");
    expect(await violations(page)).toEqual([]);
    await replacing.press("Record it");
    expect(replacing.done()).toMatch(/^2 presses/);
    const inspecting = counting(page);
    await inspecting.press("Inspected VR-105");
    expect(await page.getByRole("button", { name: "Record it" }).isDisabled()).toBe(true);
    await inspecting.check("clean");
    await inspecting.press("Record it");
    expect(inspecting.done()).toMatch(/^3 presses/);
    expect(await page.evaluate(LOGGED)).toBe(rows + 2);
    process.stdout.write(`An overdue replacement: ${replacing.done()}\n`);
    await page.context().close();
  });

  it("logs a round of a site at once, and takes it back with one press", async () => {
    const page = await open("clean");
    const before = await bookText(page);
    const rows = await page.evaluate<number>(LOGGED);
    const round = counting(page);
    await round.press(/devices to inspect/);
    await round.choose("Site", "S03");
    const all = await page.locator(".lines > li").count();
    expect(all).toBeGreaterThan(5);
    await round.check(`Tick all ${all}`);
    await round.press(`Inspected: ${all}`);
    await round.check("clean");
    await round.press("Record it");
    expect(await page.evaluate(LOGGED)).toBe(rows + all);
    process.stdout.write(`A round of ${all}: ${round.done()}\n`);
    await page.getByRole("button", { name: "Undo this change" }).click();
    await page.getByRole("status").first().filter({ hasText: "Undone" }).waitFor();
    expect(await bookText(page)).toBe(before);
    await page.context().close();
  });

  it.each([
    ["Order", "Preview the order list", "Order list"],
    ["Budget", "Preview the sheets of the budget", "Budget"],
  ])("makes %s with three presses and shows the sheet", async (section, show, sheet) => {
    const page = await open("clean");
    const making = counting(page);
    await making.press(section);
    await making.press(show);
    await making.press("Do it");
    expect(await page.evaluate("workbook.shown.at(-1).sheet")).toBe(sheet);
    process.stdout.write(`${section}: ${making.done()}\n`);
    await page.context().close();
  });

  it("mends what is certain as one change that can be taken back", async () => {
    const page = await open("untidy");
    const before = await bookText(page);
    await go(page, "Check");
    expect(await page.locator("summary").first().innerText()).toBe("Date is text: 12");
    await page.getByRole("button", { name: "Mend 19 cells" }).click();
    await page.getByText('Equipment!H7: "24/04/2026" becomes 24 Apr 2026').waitFor();
    await page.getByRole("button", { name: "Do it" }).click();
    await page.getByRole("status").first().filter({ hasText: "Done: 19 cells mended" }).waitFor();
    expect(await page.getByText("Date is text").count()).toBe(0);
    await page.getByRole("button", { name: "Undo this change" }).click();
    await page.getByRole("status").first().filter({ hasText: "Undone" }).waitFor();
    expect(await bookText(page)).toBe(before);
    await page.context().close();
  });

  it("says what to do where nothing can be judged, and no more than that", async () => {
    const page = await open("empty");
    await page.getByRole("button", { name: "Preview a new register" }).click();
    await page.getByRole("button", { name: "Do it" }).click();
    await page.getByText("No device can be judged yet").waitFor();
    expect(await page.getByText("Nothing is due").count()).toBe(0);
    await page.getByRole("button", { name: "Go to the first row" }).click();
    expect(await page.evaluate("workbook.shown.at(-1).sheet")).toBe("Equipment");
    await page.context().close();
    const undated = await open("undated");
    await undated.getByText("No date can be judged").waitFor();
    expect(await violations(undated)).toEqual([]);
    await undated.getByRole("button", { name: "Choose the columns" }).click();
    await undated.getByRole("heading", { name: "Columns" }).waitFor();
    await undated.context().close();
  });
}
