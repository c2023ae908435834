import { strFromU8, strToU8 } from "fflate";
import { describe, expect, it } from "vitest";
import { applyPlan, openWorkbook, viewOf } from "../../src/xlsx/index.ts";
import { part, withPart } from "../reference/workbooks/edits.ts";
import { fullPlan, workbook } from "../reference/workbooks/full-plan.ts";
import { faults, partsOf } from "../reference/workbooks/package-rules.ts";
import { alternate, STRANGE } from "./strange.ts";

/** A strange book, and what it is after a plan with every kind of edit. */
function edited(name: string, live = false): { before: Uint8Array; after: Uint8Array } {
  const before = STRANGE[name] ?? new Uint8Array();
  const open = openWorkbook(before);
  return { before, after: applyPlan(open, fullPlan(open.snapshot, live)) };
}

const STYLES = "xl/styles.xml";
const list = (text: string, name: string): string =>
  new RegExp(`<${name}[ >][^]*?</${name}>`).exec(text)?.[0] ?? "";
const count = (text: string, tag: string): number =>
  text.match(new RegExp(`<${tag}[ />]`, "g"))?.length ?? 0;

describe("books as other programs leave them", () => {
  it.each(Object.keys(STRANGE))("%s: a plan adds no fault", (name) => {
    for (const live of [false, true]) {
      const { before, after } = edited(name, live);
      const known = faults(before);
      expect(faults(after).filter((fault) => !known.includes(fault))).toEqual([]);
      // What was written opens again, and takes another plan.
      const again = openWorkbook(after);
      expect(again.snapshot.sheets.length).toBeGreaterThan(1);
    }
  });

  it("a path that only a type names is not taken", () => {
    const { after } = edited("types that name parts which are not there", true);
    const types = part(after, "[Content_Types].xml");
    for (const name of ["worksheets/sheet2", "tables/table2", "charts/chart1", "metadata"]) {
      const named = new RegExp(`PartName="/xl/${name}\\.xml"`, "gi");
      expect([name, types.match(named)?.length]).toEqual([name, 1]);
      expect(part(after, `xl/${name}.xml`)).toBe("");
    }
  });

  it("a path that only a link names is not taken, nor one whose links stayed", () => {
    const { after } = edited("links to parts which are not there");
    expect(part(after, "xl/worksheets/sheet2.xml")).toBe("");
    expect(part(after, "xl/worksheets/sheet3.xml")).not.toBe("");
    expect(part(after, "xl/drawings/drawing1.xml")).toBe("");
  });

  it("a link to styles that leads nowhere makes room for ours", () => {
    const { after } = edited("a link to styles which are not there");
    const links = part(after, "xl/_rels/workbook.xml.rels");
    expect(links.match(/relationships\/styles"/g)).toHaveLength(1);
  });

  it("links that come in have their type where their ending has none", () => {
    const { before, after } = edited("no type for the ending rels");
    const parts = (bytes: Uint8Array): string[] =>
      [...partsOf(bytes).keys()].filter((name) => name.endsWith(".rels"));
    expect(parts(after).length).toBeGreaterThan(parts(before).length);
    const types = part(after, "[Content_Types].xml");
    for (const name of parts(after)) {
      expect(types).toContain(
        `PartName="/${name}" ContentType="application/vnd.openxmlformats-package.relationships+xml"`,
      );
    }
  });

  it.each(["no cell formats", "an empty list of cell formats", "styles without content"])(
    "%s: cells without a format look as before, ours have one",
    (name) => {
      const { before, after } = edited(name);
      const styles = part(after, STYLES);
      expect(list(styles, "cellXfs")).toMatch(/^<cellXfs count="\d+"><xf numFmtId="0" fontId="0"/);
      const looks = viewOf(openWorkbook(after)).looks;
      expect([looks[0]?.bold, looks[0]?.fill]).toEqual([undefined, undefined]);
      expect(openWorkbook(after).snapshot.formats).toContain("yyyy-mm-dd");
      expect(openWorkbook(before).snapshot.formats).not.toContain("yyyy-mm-dd");
    },
  );

  it("what a cell format points into is there", () => {
    for (const name of Object.keys(STRANGE)) {
      const styles = part(edited(name).after, STYLES);
      const held = (of: string, tag: string): number => count(list(styles, of), tag);
      for (const [attribute, of, tag] of [
        ["fontId", "fonts", "font"],
        ["fillId", "fills", "fill"],
        ["borderId", "borders", "border"],
        ["xfId", "cellStyleXfs", "xf"],
      ] as const) {
        const used = [
          ...list(styles, "cellXfs").matchAll(new RegExp(` ${attribute}="(\\d+)"`, "g")),
        ];
        const beyond = used.filter(([, index]) => Number(index) >= held(of, tag));
        expect([name, attribute, beyond.length]).toEqual([name, attribute, 0]);
      }
    }
  });

  it("a book without fonts and fills shows its own cells as before", () => {
    const { after } = edited("no fonts, fills and borders");
    const fills = list(part(after, STYLES), "fills");
    expect(fills).toMatch(/patternType="none".*patternType="gray125".*patternType="solid"/);
    expect(viewOf(openWorkbook(after)).looks[0]?.bold).toBeUndefined();
  });

  it("dates whose format stands in alternate content are dates", () => {
    const dated = workbook("openpyxl.xlsx");
    const strange = STRANGE["cell formats in alternate content"] ?? new Uint8Array();
    expect(openWorkbook(strange).snapshot).toEqual(openWorkbook(dated).snapshot);
    const styles = part(edited("cell formats in alternate content").after, STYLES);
    expect(styles).not.toMatch(/<mc:\w+[^>]*numFmtId/);
    expect(viewOf(openWorkbook(strange)).looks).toEqual(viewOf(openWorkbook(dated)).looks);
    // Prefixes of another spelling are the same.
    const spelt = withPart(dated, STYLES, (text) => alternate(text).replaceAll("mc:", "alt:"));
    expect(openWorkbook(spelt).snapshot).toEqual(openWorkbook(dated).snapshot);
  });

  it("fonts made like the book's have their children in the order of the schema", () => {
    const order =
      "b i strike condense extend outline shadow u vertAlign sz color name family charset scheme";
    const { before, after } = edited("fonts in another order");
    const fonts = (bytes: Uint8Array): string[] =>
      list(part(bytes, STYLES), "fonts").match(/<font>[^]*?<\/font>/g) ?? [];
    const ours = fonts(after).slice(fonts(before).length);
    expect(ours.length).toBeGreaterThan(1);
    for (const font of ours) {
      const names = [...font.matchAll(/<(\w+)/g)].map(([, name]) => name ?? "").slice(1);
      const ranks = names.map((name) => order.split(" ").indexOf(name));
      expect(ranks).toEqual([...ranks].sort((a, b) => a - b));
      expect(names).toContain("strike");
    }
  });

  it("the comment of the archive is kept, also where it looks like the archive's end", () => {
    const plain = workbook("openpyxl.xlsx");
    for (const comment of ["kept by the office", "PK\u0005\u0006".padEnd(30, "\0"), ""]) {
      const bytes = new Uint8Array([...plain, ...strToU8(comment)]);
      new DataView(bytes.buffer).setUint16(plain.length - 2, comment.length, true);
      const open = openWorkbook(bytes);
      const saved = applyPlan(open, fullPlan(open.snapshot, false));
      expect(strFromU8(saved.subarray(saved.length - comment.length))).toBe(comment);
      expect(new DataView(saved.buffer, saved.length - comment.length - 2).getUint16(0, true)).toBe(
        comment.length,
      );
      expect(openWorkbook(saved).snapshot.sheets.length).toBeGreaterThan(1);
    }
  });
});
