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

/** How long anything may take that a test waits for (ms): a busy machine takes its time. */
export const PATIENCE = 60_000;

/** The longest a whole test may take (ms). */
export const TEST = { timeout: 4 * PATIENCE };

/** Waits until the page has drawn all that was changed so far, and what follows from that. */
export async function drawn(page: Page): Promise<void> {
  await page.evaluate(
    `new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done))))`,
  );
}

/** Waits until nothing runs and nothing is being worked out. Asked again and again from here: the page runs no text. */
export async function settled(page: Page): Promise<void> {
  const began = performance.now();
  let calm = 0;
  // Twice in a row: between two runs there is a moment of rest.
  while (calm < 2) {
    if (performance.now() - began > PATIENCE) throw new Error("the pane does not come to rest");
    await drawn(page);
    const still = await page.evaluate<boolean>(
      `document.querySelector('main[aria-busy="true"], main [aria-busy="true"]') === null &&
       !document.body.innerText.includes("Calculating…")`,
    );
    calm = still ? calm + 1 : 0;
  }
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

/** Goes on with the Tab key until something of that name has the focus; what is at work is not in the way. */
export async function tabTo(page: Page, name: string | RegExp): Promise<void> {
  await settled(page);
  for (let step = 0; step < 150; step += 1) {
    const here = await focused(page);
    if (typeof name === "string" ? here === name : name.test(here)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`the keyboard does not reach ${String(name)}`);
}

/** Goes through the list that has the focus with the arrow key until the choice reads so. */
export async function arrowTo(page: Page, choice: string): Promise<void> {
  const at = "document.activeElement";
  await page.keyboard.press("Home");
  for (let step = await page.evaluate<number>(`${at}.options.length`); step > 0; step -= 1) {
    const here = await page.evaluate<string>(`${at}.selectedOptions[0].text`);
    if (here === choice) return;
    await page.keyboard.press("ArrowDown");
  }
  throw new Error(`the list has no ${choice}`);
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
