import { mkdirSync, writeFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { drawn, isTooWide, SCREENS, SECTIONS, settled } from "./driver.ts";
import type { Opening } from "./pane.test.ts";
import type { Pane } from "./pane-sections.ts";

const WIDTHS = [320, 400];
const LOOKS: Readonly<Record<string, Opening>> = {
  light: {},
  dark: { dark: true },
  forced: { forced: true },
};

/** What the pane is doing in a picture, and the workbook it does it with. */
const STATES: Readonly<
  Record<string, { readonly scene: string; readonly begin?: string; readonly act?: Act }>
> = {
  empty: { scene: "empty" },
  clean: { scene: "clean" },
  dirty: { scene: "untidy" },
  running: { scene: "untidy", act: run },
  refused: { scene: "untidy", begin: "workbook.lock()", act: refused },
};

type Act = (page: Page, section: string) => Promise<void>;

/** The pane reads the workbook, and does so for long. */
async function run(page: Page): Promise<void> {
  await page.evaluate("workbook.slow(20000)");
  await page.evaluate(`workbook.type({ sheet: "Equipment", row: 60, column: 0 }, "x")`);
  await page.getByRole("button", { name: "Read the workbook again" }).last().click();
  await page.getByRole("progressbar").first().waitFor();
}

/** Somebody tries what the section is for in a workbook that is locked. */
async function refused(page: Page, section: string): Promise<void> {
  const press = async (name: string): Promise<void> => {
    const button = page.getByRole("button", { name }).first();
    if ((await button.count()) > 0) await button.click();
    await settled(page);
  };
  if (section === "Today") await press("Replaced ");
  else if (section === "Log") {
    await page.getByLabel("Device", { exact: true }).selectOption({ index: 3 });
    await settled(page);
  } else if (section === "Functions") {
    await page.evaluate(
      `workbook.pick({ sheet: "Equipment", area: { firstRow: 60, lastRow: 60, firstColumn: 20, lastColumn: 20 } })`,
    );
    await page.locator("summary").first().click();
    await press("Insert into");
  } else await page.locator("footer button.main").first().click();
  await settled(page);
  await press(section === "Today" || section === "Log" ? "Record it" : "Do it");
}

/** Every section in every width, look and state, on one sheet for people to look at. */
export function picturesOfPane({ open }: Pane): void {
  it.each(Object.keys(LOOKS))("has a contact sheet: %s", async (look) => {
    mkdirSync(`${SCREENS}/contact`, { recursive: true });
    const made: string[] = [];
    for (const width of WIDTHS) {
      for (const [state, { scene, begin, act }] of Object.entries(STATES)) {
        const page = await open(scene, { ...LOOKS[look], width });
        if (begin !== undefined) await page.evaluate(begin);
        if (state === "running") await run(page);
        for (const section of SECTIONS) {
          await page.getByRole("navigation").getByRole("button", { name: section }).click();
          await drawn(page);
          if (state !== "running") await settled(page);
          if (act !== undefined && state !== "running") await act(page, section);
          const name = `contact/${section} ${width} ${look} ${state}.png`.replaceAll(" ", "-");
          await page.screenshot({ path: `${SCREENS}/${name}` });
          made.push(name);
          expect([name, await isTooWide(page)]).toEqual([name, false]);
        }
        await page.context().close();
      }
    }
    writeFileSync(`${SCREENS}/contact-${look}.html`, sheetOf(look, made));
    expect(made.length).toBe(WIDTHS.length * Object.keys(STATES).length * SECTIONS.length);
  });
}

function sheetOf(look: string, made: readonly string[]): string {
  const pictures = made.map(
    (name) =>
      `<figure><img src="${name}" alt="" width="200"><figcaption>${name.slice(8, -4)}</figcaption></figure>`,
  );
  return `<!doctype html><html lang="en"><meta charset="utf-8"><title>The pane, ${look}</title>
<style>body{font:11px sans-serif;background:#777;display:grid;grid-template-columns:repeat(9,200px);gap:8px}figure{margin:0;background:#fff}</style>
${pictures.join("\n")}</html>
`;
}
