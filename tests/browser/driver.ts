import axe from "axe-core";
import type { Page } from "playwright-core";

/** Where pictures of the screen go. */
export const SCREENS = "build/screens";

/** Titles of the pane's sections, in their order. */
export const SECTIONS = [
  "Today",
  "Columns",
  "Log",
  "Year ahead",
  "Budget",
  "Order",
  "Share",
  "Check",
  "Functions",
];

interface Violation {
  readonly id: string;
  readonly nodes: readonly { readonly html: string }[];
}

/** Waits until nothing runs and nothing is being worked out. Asked again and again from here: the page runs no text. */
export async function settled(page: Page): Promise<void> {
  for (let tries = 0; tries < 300; tries += 1) {
    await page.waitForTimeout(tries === 0 ? 200 : 100);
    const still = await page.evaluate<boolean>(
      `document.querySelector("main").getAttribute("aria-busy") === "false" &&
       !document.body.innerText.includes("Calculating…")`,
    );
    if (still) return;
  }
  throw new Error("the pane does not come to rest");
}

/** The workbook as text, to compare. */
export async function bookText(page: Page): Promise<string> {
  return page.evaluate<string>(
    `JSON.stringify(workbook.book().sheets.map((sheet) => [sheet.name, sheet.tables,
       sheet.values.map((row) => row.join("|").replace(/[|]+$/, "")).join("~").replace(/~+$/, ""),
       [...sheet.formulas].sort((a, b) => a[0] - b[0])]))`,
  );
}

/** What a column of ours says about a device. */
export async function stateOf(page: Page, device: string, title: string): Promise<unknown> {
  return page.evaluate(
    `(() => {
      const { values } = workbook.book().sheets.find((sheet) => sheet.name === "Equipment");
      const column = values.map((row) => row.indexOf(${JSON.stringify(title)})).find((at) => at >= 0);
      return values.find((row) => row[0] === ${JSON.stringify(device)})[column];
    })()`,
  );
}

/** What the focused element is called. */
export async function focused(page: Page): Promise<string> {
  return page.evaluate<string>(
    `(() => {
      const at = document.activeElement;
      return at.labels?.[0]?.innerText ?? at.innerText;
    })()`,
  );
}

/** Goes on with the Tab key until something of that name has the focus. */
export async function tabTo(page: Page, name: string | RegExp): Promise<void> {
  for (let step = 0; step < 150; step += 1) {
    const here = await focused(page);
    if (typeof name === "string" ? here === name : name.test(here)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`the keyboard does not reach ${String(name)}`);
}

/** Answers to twelve digits, as text to compare. */
export function digits(answers: unknown): string {
  return JSON.stringify(answers, (_, value: unknown) =>
    typeof value === "number" ? Number(value.toPrecision(12)) : value,
  );
}

/** What axe finds, each with the first element. */
export async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  const found = await page.evaluate<Violation[]>(
    `axe.run(document, { resultTypes: ["violations"] }).then(({ violations }) => violations)`,
  );
  return found.map(({ id, nodes }) => `${id}: ${nodes[0]?.html ?? ""}`);
}

/** Whether the page would have to be scrolled sideways. */
export async function isTooWide(page: Page): Promise<boolean> {
  return page.evaluate<boolean>("document.documentElement.scrollWidth > innerWidth");
}
