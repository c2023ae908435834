import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import type { Edit, Plan } from "../../src/book/workbook/plan.ts";
import { newWorkbook } from "../../src/xlsx/index.ts";
import { HOSTILE, hostileBook } from "../elsewhere/hostile.ts";

/** A file name, names of sheets and of a table that are markup wherever they are not text. */
export const FILE = `"><img src=x onerror="globalThis.obeyed=1">.xlsx`;
export const SHEETS = [
  "<img src=x onerror=obeyed=1>",
  `"><svg onload=obeyed=2>`,
  "=1+1 & <b>",
  "{{1+1}}",
];
const TABLE = `"><img src=x onerror="globalThis.obeyed=1">`;

/** The hostile demonstration, with sheets and a format of the same kind. */
export function hostilePlan(turn: number): Plan {
  const { summary, edits } = hostileBook(turn);
  const [sheet = ""] = SHEETS;
  return {
    summary,
    edits: [
      ...edits,
      ...SHEETS.map((name): Edit => ({
        kind: "addSheet",
        sheet: name,
        cells: [
          { row: 0, column: 0, value: `${TABLE} heading`, look: "plain" },
          { row: 1, column: 0, value: `<script>globalThis.obeyed=5</script>`, look: "plain" },
          { row: 1, column: 1, value: 1, format: `0"<img src=x onerror=obeyed=1>"`, look: "plain" },
        ],
        widths: [20],
        freezeRows: 0,
      })),
      {
        kind: "addTable",
        sheet,
        area: { firstRow: 0, lastRow: 1, firstColumn: 0, lastColumn: 0 },
        name: "Extra",
        headings: [`${TABLE} heading`],
      },
      {
        kind: "addChoices",
        sheet,
        area: { firstRow: 1, lastRow: 1, firstColumn: 0, lastColumn: 0 },
        choices: { kind: "list", values: [TABLE, "<script>obeyed=6</script>"] },
        message: TABLE,
      },
    ],
  };
}

/** Its file; the table's name is put in by hand, for no program lets one type it. */
export function hostileFile(turn: number): Uint8Array {
  const named = TABLE.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");
  const parts = Object.entries(unzipSync(newWorkbook(hostilePlan(turn)))).map(
    ([path, bytes]) =>
      [path, strToU8(strFromU8(bytes).replaceAll('Name="Extra"', `Name="${named}"`))] as const,
  );
  return zipSync(Object.fromEntries(parts));
}

/** What the page keeps of elements that came from a text; runs before everything else in it. */
export const WATCH = `
  globalThis.created = [];
  addEventListener("securitypolicyviolation", ({ violatedDirective, blockedURI }) =>
    created.push("refused by the page's rules: " + violatedDirective + " " + blockedURI));
  const isForeign = (one) =>
    one instanceof HTMLUnknownElement ||
    [...one.attributes].some(({ name, value }) =>
      name.startsWith("on") || (/^(href|src|action|formaction|srcdoc|data)$/.test(name) && /^\\s*javascript:|obeyed|^x$/i.test(value))) ||
    (/^(script|style|iframe|object|embed|base|meta)$/i.test(one.tagName) && /obeyed/.test(one.outerHTML));
  new MutationObserver((records) => {
    for (const { addedNodes } of records)
      for (const node of addedNodes)
        if (node instanceof Element)
          for (const one of [node, ...node.querySelectorAll("*")])
            if (isForeign(one)) created.push(one.outerHTML.slice(0, 200));
  }).observe(document, { childList: true, subtree: true });`;

/** What came of the texts in a page: elements, refusals, and whether anything ran. */
export const FOUND = "[...created, ...(globalThis.obeyed === undefined ? [] : ['ran: ' + obeyed])]";

/** Types markup into every field of the section that is shown, and opens all that can be opened. */
export const TYPE_MARKUP = `
  for (const kind of ["text", "search"])
    for (const field of document.querySelectorAll("main input[type=" + kind + "]")) {
      Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, "value").set.call(field, '<img src=x onerror="globalThis.obeyed=9">');
      for (const name of ["input", "change"]) field.dispatchEvent(new Event(name, { bubbles: true }));
    }`;
export const OPEN_ALL = `document.querySelectorAll("details").forEach((one) => (one.open = true))`;

/** The turn in which all that is markup stands in names that the pane lists. */
export const TURN = 20;

/** Three signs of formulas stand in no device in service then: there are more texts than devices. */
const UNLISTED = /^(?:@SUM|\uff1d|\uff0b)/;

/** Texts that are nowhere in what was shown, spaces aside. */
export function notShown(all: string): string[] {
  const plain = (text: string): string => text.replaceAll(/[\s\0]+/g, " ").trim();
  const shown = plain(all);
  return HOSTILE.map(plain).filter((text) => !UNLISTED.test(text) && !shown.includes(text));
}
