import { existsSync, mkdirSync } from "node:fs";
import type { Server } from "node:http";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { functions } from "../../functions/index.ts";
import {
  arrowTo,
  bookText,
  digits,
  focused,
  isTooWide,
  PATIENCE,
  SCREENS,
  SECTIONS,
  settled,
  stateOf,
  tabTo,
  TEST,
  violations,
} from "./driver.ts";
import { FOUND, notShown, OPEN_ALL, TYPE_MARKUP, WATCH } from "./hostile.ts";
import { paneInExcel } from "./pane-excel.ts";
import { picturesOfPane } from "./pane-pictures.ts";
import { pressesOfPane } from "./pane-presses.ts";
import { sectionsOfPane } from "./pane-sections.ts";
import { bundle, chromiumPath, openBrowser, serve } from "./served.ts";

/** The pane in headless Chromium over a workbook on paper. */
const chromium = chromiumPath();
if (chromium === null) process.stderr.write("The pane is not driven: Chromium is not installed.\n");

export interface Opening {
  readonly width?: number;
  readonly height?: number;
  readonly dark?: boolean;
  readonly forced?: boolean;
  /** Whether the page's own rules of what may run are put aside. */
  readonly bypassCSP?: boolean;
  /** What runs in the page before everything else. */
  readonly before?: string;
}

describe.skipIf(chromium === null)("the pane in Chromium", TEST, () => {
  let browser: Browser;
  let server: Server;
  let address = "";
  /** What the browser complained of: refused scripts and styles, errors. */
  const complaints: string[] = [];

  beforeAll(async () => {
    await bundle();
    ({ server, address } = await serve());
    browser = await openBrowser(chromium ?? "");
    mkdirSync(SCREENS, { recursive: true });
  }, 300_000);

  afterAll(async () => {
    await browser.close();
    server.close();
  });

  /** A page whose complaints are gathered. */
  async function watched(opening: Opening): Promise<Page> {
    const { width = 320, height = 640, dark = false, forced = false, bypassCSP = false } = opening;
    const context = await browser.newContext({
      viewport: { width, height },
      colorScheme: dark ? "dark" : "light",
      forcedColors: forced ? "active" : "none",
      reducedMotion: "reduce",
      bypassCSP,
    });
    context.setDefaultTimeout(PATIENCE);
    const page = await context.newPage();
    page.on("console", (message) => {
      if (message.type() === "error") complaints.push(message.text());
    });
    page.on("pageerror", (error) => complaints.push(error.message));
    await page.addInitScript(
      `addEventListener("securitypolicyviolation", ({ violatedDirective, blockedURI, sourceFile }) =>
         console.error(violatedDirective, blockedURI, sourceFile));`,
    );
    if (opening.before !== undefined) await page.addInitScript(opening.before);
    return page;
  }

  async function open(scene: string, opening: Opening = {}): Promise<Page> {
    const page = await watched(opening);
    await page.addInitScript(`globalThis.scene = ${JSON.stringify(scene)}`);
    await page.goto(`${address}pane.html`);
    const begun = page.locator("#said");
    await begun.filter({ hasText: /Read:|No register|Stopped|Excel/ }).waitFor();
    await settled(page);
    return page;
  }

  async function go(page: Page, section: string): Promise<void> {
    await page.getByRole("navigation").getByRole("button", { name: section }).click();
    await settled(page);
  }

  describe("shows every section", () => {
    const looks: readonly (readonly [string, Opening])[] = [
      ["320 wide, light", {}],
      ["320 wide, dark", { dark: true }],
      ["320 wide, a contrast theme", { forced: true }],
      ["1366 × 768, light", { width: 1366, height: 768 }],
      ["1366 × 768, dark", { width: 1366, height: 768, dark: true }],
      ["1366 × 768, a contrast theme", { width: 1366, height: 768, forced: true }],
    ];
    for (const [name, opening] of looks) {
      it(`without a fault of accessibility and without scrolling sideways: ${name}`, async () => {
        const page = await open("untidy", opening);
        for (const section of SECTIONS) {
          await go(page, section);
          if (section === "Functions") await page.locator("summary").first().click();
          await page.screenshot({
            path: `${SCREENS}/${section} ${name}.png`.replaceAll(/[ ,×]+/g, "-"),
            fullPage: true,
          });
          expect([section, await violations(page)]).toEqual([section, []]);
          expect([section, await isTooWide(page)]).toEqual([section, false]);
        }
        await page.context().close();
      });
    }
  });

  it("is worked by keyboard alone: columns, flags, a replacement logged, and taken back", async () => {
    const page = await open("clean");
    const before = await bookText(page);
    await tabTo(page, "Columns");
    await page.keyboard.press("Enter");
    await tabTo(page, "Preview the columns");
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "What would change" }).waitFor();
    expect(await page.locator(".box").innerText()).toContain("Equipment!");
    expect(await violations(page)).toEqual([]);
    expect(await bookText(page)).toBe(before);
    await tabTo(page, "Do it");
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "Undo this change" }).waitFor();
    await settled(page);
    expect(await focused(page)).toContain("Done:");
    expect(await violations(page)).toEqual([]);
    expect(await stateOf(page, "VR-123", "Ear cushion: state")).toBe("Overdue");
    const withColumns = await bookText(page);

    await tabTo(page, "Today");
    await page.keyboard.press("Enter");
    await tabTo(page, /Overdue: VR-123/);
    await page.keyboard.press("Enter");
    await settled(page);
    expect(await page.evaluate("workbook.shown.at(-1).sheet")).toBe("Equipment");

    await tabTo(page, "Log");
    await page.keyboard.press("Enter");
    await tabTo(page, "Device");
    await arrowTo(page, "VR-123");
    await tabTo(page, "Part");
    await arrowTo(page, "Ear cushion");
    await tabTo(page, "Job");
    await arrowTo(page, "replaced");
    const meant = /Ear cushion of VR-123: next due .*○ Not due/;
    await page.locator("form .box").filter({ hasText: meant }).waitFor();
    expect(await violations(page)).toEqual([]);
    expect(await bookText(page)).toBe(withColumns);
    await tabTo(page, "Record it");
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "Undo this change" }).waitFor();
    await settled(page);
    expect(await stateOf(page, "VR-123", "Ear cushion: state")).toBe("Not due");

    await tabTo(page, "Undo this change");
    await page.keyboard.press("Enter");
    await page.getByRole("status").first().filter({ hasText: "Undone" }).waitFor();
    await settled(page);
    expect(await stateOf(page, "VR-123", "Ear cushion: state")).toBe("Overdue");
    expect(await bookText(page)).toBe(withColumns);
    await tabTo(page, "Columns");
    await page.keyboard.press("Enter");
    await tabTo(page, "Undo this change");
    await page.keyboard.press("Enter");
    await page.getByRole("status").first().filter({ hasText: "Undone" }).waitFor();
    await settled(page);
    expect(await bookText(page)).toBe(before);
    await page.context().close();
  });

  it("logs the inspection of the selected row with one key once the button has the focus", async () => {
    const page = await open("clean");
    await go(page, "Log");
    await tabTo(page, "Record it");
    await page.evaluate(
      `workbook.pick({ sheet: "Equipment", area: { firstRow: 5, lastRow: 5, firstColumn: 0, lastColumn: 0 } });
       dispatchEvent(new Event("focus"))`,
    );
    const device = await page.evaluate(
      `workbook.book().sheets.find((s) => s.name === "Equipment").values[5][0]`,
    );
    await page
      .locator("form .box")
      .filter({ hasText: String(device) })
      .waitFor();
    await settled(page);
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "Undo this change" }).waitFor();
    const log = `workbook.book().sheets.find((s) => s.name === "Job log").values.at(-1)`;
    expect(await page.evaluate(log)).toContain(device);
    await expect.poll(() => focused(page), { timeout: PATIENCE }).toBe("Record it");
    await page.context().close();
  });

  it("shows what cells hold as text and makes no element of it, its own rules put aside or not", async () => {
    let all = "";
    for (const scene of ["markup", "hostile"]) {
      const page = await open(scene, { bypassCSP: scene === "hostile", before: WATCH });
      page.on("dialog", (dialog) => complaints.push(dialog.message()));
      for (const section of SECTIONS) {
        await go(page, section);
        await page.evaluate(OPEN_ALL);
        all += (await page.locator("main").textContent()) ?? "";
        await page.evaluate(TYPE_MARKUP);
        await settled(page);
        expect([scene, section, await page.evaluate(FOUND)]).toEqual([scene, section, []]);
        expect(await page.locator("img, script:not([src])").count()).toBe(0);
      }
      await go(page, "Columns");
      await page.getByRole("button", { name: "Preview the columns" }).click();
      await page.getByRole("button", { name: "Do it" }).click();
      await page.getByRole("button", { name: "Undo this change" }).waitFor();
      expect([scene, await page.evaluate(FOUND)]).toEqual([scene, []]);
      await page.context().close();
    }
    expect(notShown(all)).toEqual([]);
  });

  it("tells how far a long reading is and can be stopped", async () => {
    const page = await open("clean");
    await go(page, "Check");
    // Longer than a busy machine takes to press Stop.
    await page.evaluate("workbook.slow(30000)");
    await page.getByRole("button", { name: "Read the workbook again" }).click();
    await page.getByRole("progressbar").waitFor();
    await page.getByRole("button", { name: "Stop" }).click();
    await page
      .getByRole("status")
      .first()
      .filter({ hasText: "Stopped; nothing was changed." })
      .waitFor();
    await page.context().close();
  });

  it("answers every example of the functions in the browser as in Node, to twelve digits", async () => {
    const page = await open("alone");
    const here = functions.map(({ call, examples }) => examples.map(({ cells }) => call(cells)));
    // Engines may differ in the last digit of a power or a logarithm.
    expect(digits(await page.evaluate("answers()"))).toEqual(digits(here));
    await page.context().close();
  });

  it("needs no scrolling sideways at twice the size of text", async () => {
    const page = await open("untidy");
    // As the setting of the person's browser does it: the root's size, without a style in the page.
    const session = await page.context().newCDPSession(page);
    await session.send("DOM.enable");
    await session.send("CSS.enable");
    const { root } = await session.send("DOM.getDocument");
    const frame = await session.send("Page.getFrameTree");
    const { styleSheetId } = await session.send("CSS.createStyleSheet", {
      frameId: frame.frameTree.frame.id,
    });
    await session.send("CSS.setStyleSheetText", {
      styleSheetId,
      text: ":root { font-size: 30px !important }",
    });
    expect(root.childNodeCount).toBeGreaterThan(0);
    for (const section of SECTIONS) {
      await go(page, section);
      expect([section, await isTooWide(page)]).toEqual([section, false]);
    }
    await page.screenshot({ path: `${SCREENS}/twice.png` });
    await page.context().close();
  });

  it("has its pictures taken for README", async () => {
    const page = await open("clean");
    for (const section of ["Today", "Year ahead", "Order", "Log"]) {
      await go(page, section);
      const path = `${SCREENS}/readme-${section.toLowerCase().replace(" ", "-")}.png`;
      await page.screenshot({ path });
      expect(existsSync(path)).toBe(true);
    }
    await page.context().close();
  });

  it("shows the list of 10,000 rows; how soon is printed", async () => {
    const context = await browser.newContext({ viewport: { width: 320, height: 640 } });
    const page = await context.newPage();
    await page.addInitScript(
      `globalThis.scene = "large"; globalThis.tasks = [];
       new PerformanceObserver((list) => tasks.push(...list.getEntries()))
         .observe({ entryTypes: ["longtask"] });`,
    );
    await page.goto(`${address}pane.html`);
    await page.getByRole("list", { name: "What needs a decision" }).waitFor({ timeout: PATIENCE });
    const [listed, longest] = await page.evaluate<[number, number]>(
      `[
        performance.now() - workbook.began,
        Math.max(0, ...tasks.filter((e) => e.startTime >= workbook.began).map((e) => e.duration)),
      ]`,
    );
    process.stdout.write(
      `10,000 rows: list after ${listed.toFixed(0)} ms, longest task ${longest.toFixed(0)} ms\n`,
    );
    expect(await page.locator("ol.list > li").count()).toBe(50);
    await context.close();
  });

  it("lets work of more than a second be stopped, and begun again", async () => {
    const page = await watched({});
    // Work rests now and then so that the page can draw (pace.ts: a promise is kept, without a wait); while
    // it is held it does not go on. What draws the page is no promise and goes on.
    await page.addInitScript(
      `globalThis.scene = "large"; globalThis.held = null;
       const plain = setTimeout;
       globalThis.setTimeout = (work, ...wait) =>
         held !== null && wait.length === 0 && String(work).includes("[native code]")
           ? held.push(work)
           : plain(work, ...wait);`,
    );
    await page.goto(`${address}pane.html`);
    await page.getByRole("list", { name: "What needs a decision" }).waitFor();
    await settled(page);
    await page.evaluate("held = []");
    await page.getByRole("navigation").getByRole("button", { name: "Order" }).click();
    const stop = page.getByRole("main").getByRole("button", { name: "Stop" });
    await stop.waitFor();
    expect(await page.evaluate("held.length")).toBe(1);
    expect(await page.getByRole("progressbar").count()).toBe(1);
    await stop.click();
    await page.getByRole("alert").filter({ hasText: "Stopped" }).waitFor();
    expect(await page.getByRole("button", { name: "Preview the order list" }).isDisabled()).toBe(
      true,
    );
    await page.evaluate(
      "(() => { const work = held; held = null; for (const one of work) one(); })()",
    );
    await page.getByRole("button", { name: "Try again" }).click();
    await page
      .getByText(/to go out now|to be ordered now/)
      .first()
      .waitFor();
    await page.context().close();
  });

  describe("as it is shipped", () => {
    paneInExcel({ watched, go, address: () => address, complaints });
  });

  it("would not pass these checks with a nameless field, a script of text or a block too wide", async () => {
    const page = await open("clean");
    const before = complaints.length;
    await page.evaluate(
      `document.querySelector("main").insertAdjacentHTML("beforeend", "<input><pre>" + "x".repeat(90) + "</pre>");
       document.body.append(Object.assign(document.createElement("script"), { text: "1" }))`,
    );
    expect((await violations(page)).join()).toContain("label");
    expect(await isTooWide(page)).toBe(true);
    expect(complaints.splice(before).join()).toContain("script-src");
    await page.context().close();
  });

  describe("in its sections", () => {
    sectionsOfPane({ open, go });
  });

  describe("press by press", () => {
    pressesOfPane({ open, go });
  });

  describe("in pictures", () => {
    picturesOfPane({ open, go });
  });

  it("gave the browser nothing to complain of in all of this", () => {
    expect(complaints).toEqual([]);
  });
});
