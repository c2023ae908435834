import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { strToU8, unzipSync, zipSync } from "fflate";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Edit } from "../../../src/book/workbook/plan.ts";
import { callsUs } from "../../../src/book/workbook/calls.ts";
import { valueAt } from "../../../src/book/workbook/snapshot.ts";
import { ADD_IN } from "../../../src/cli/share.ts";
import { applyPlan, openWorkbook, withoutPanes } from "../../../src/xlsx/index.ts";
import { partsOf, sheetAt, sparespan } from "../../cli/session.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-copy-"));
const at = (...names: string[]): string => join(folder, ...names);
const LIVE = at("live.xlsx");
const NONE = new Uint8Array();
const TRACES = new RegExp(`xldudf|SPARE\\.[A-Z]+\\(|webextension|${ADD_IN}`, "i");

function write(name: string, parts: ReadonlyMap<string, string>): string {
  writeFileSync(
    at(name),
    zipSync(Object.fromEntries([...parts].map(([part, text]) => [part, strToU8(text)]))),
  );
  return at(name);
}

/** The live book with a sheet of the user's own that calls the add-in, once as a spill. */
function withOwnSheet(): Map<string, string> {
  const cell = (row: number, column: number, value: number) => ({ row, column, value });
  const own: Edit = {
    kind: "addSheet",
    sheet: "My notes",
    cells: [
      { ...cell(0, 0, 4), formula: { text: "SPARE.SPAN(30,3,6,120)", live: true } },
      { ...cell(1, 0, 7), formula: { text: "3+4", live: false } },
      { row: 2, column: 0, value: 'say "SPARE.SPAN(" aloud' },
      cell(4, 0, 11),
      cell(5, 0, 12),
      cell(6, 0, 13),
    ],
    widths: [],
    freezeRows: 0,
  };
  const bytes = applyPlan(openWorkbook(readFileSync(LIVE)), { summary: "", edits: [own] });
  writeFileSync(at("own.xlsx"), bytes);
  const parts = partsOf(at("own.xlsx"));
  for (const [name, text] of parts) {
    // A call that spills over three cells, as Excel stores it.
    const spilled = text.replace(
      '<c r="A5"><v>11</v></c>',
      '<c r="A5" cm="1"><f t="array" ref="A5:A7">_xldudf_SPARE_STANDIN(3)</f><v>11</v></c>',
    );
    parts.set(name, spilled);
  }
  return parts;
}

const PANES = "http://schemas.microsoft.com/office/webextensions/taskpanes/2010/11";
const EXTENSION = "http://schemas.microsoft.com/office/webextensions/webextension/2010/11";
const MICROSOFT = "http://schemas.microsoft.com/office/2011/relationships";
const RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships";
const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

/** A package in which spreadsheet programs noted the panes that were open: one an identifier. */
function withPanes(parts: Map<string, string>, ids: readonly string[]): Map<string, string> {
  const panes = ids.map(
    (_, nth) =>
      `<wetp:taskpane dockstate="right" visibility="0" width="350" row="${nth}"><wetp:webextensionref xmlns:r="${OFFICE}" r:id="rId${nth + 1}"/></wetp:taskpane>`,
  );
  const all = new Map(parts);
  all.set(
    "xl/webextensions/taskpanes.xml",
    `<wetp:taskpanes xmlns:wetp="${PANES}">${panes.join("")}</wetp:taskpanes>`,
  );
  const links = ids.map((id, nth) => {
    const name = `webextension${nth + 1}.xml`;
    all.set(
      `xl/webextensions/${name}`,
      `<we:webextension xmlns:we="${EXTENSION}" id="{0}"><we:reference id="${id}" version="1.0.0.0" store="developer" storeType="Registry"/></we:webextension>`,
    );
    return `<Relationship Id="rId${nth + 1}" Type="${MICROSOFT}/webextension" Target="${name}"/>`;
  });
  all.set(
    "xl/webextensions/_rels/taskpanes.xml.rels",
    `<Relationships xmlns="${RELATIONS}">${links.join("")}</Relationships>`,
  );
  const root = all.get("_rels/.rels") ?? "";
  const link = `<Relationship Id="rId77" Type="${MICROSOFT}/webextensiontaskpanes" Target="xl/webextensions/taskpanes.xml"/>`;
  all.set("_rels/.rels", root.replace("</Relationships>", `${link}</Relationships>`));
  const types = all.get("[Content_Types].xml") ?? "";
  const overrides = [...all.keys()]
    .filter((name) => name.startsWith("xl/webextensions/") && !name.includes("_rels"))
    .map((name) => `<Override PartName="/${name}" ContentType="application/vnd.ms-office.x+xml"/>`);
  all.set("[Content_Types].xml", types.replace("</Types>", `${overrides.join("")}</Types>`));
  return all;
}

beforeAll(async () => {
  await sparespan("demo", at("demo"));
  const book = at("demo", "velloran-20260706-clean.xlsx");
  expect((await sparespan("columns", book, "-o", LIVE, "--as", "live")).code).toBe(0);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe("a call of the add-in in a formula", () => {
  it.each([
    ["SPARE.SPAN(A1,3,6)", true],
    ["IF(A1,spare.nextdue(B1,3),0)", true],
    ['"SPARE.SPAN(1)"', false],
    ["MYSPARE.SPAN(1)", false],
    ["SpareReportDate+1", false],
  ])("%s: %s", (formula, calls) => {
    expect(callsUs(formula)).toBe(calls);
  });
});

describe("the copy", () => {
  it("of a live book needs no add-in, and shows the same", async () => {
    const { code } = await sparespan("share", "copy", LIVE, "-o", at("copy.xlsx"));
    expect(code).toBe(0);
    const live = sheetAt(LIVE, "Equipment");
    const copy = sheetAt(at("copy.xlsx"), "Equipment");
    expect(copy.values).toEqual(live.values);
    expect([...live.formulas.values()].some(callsUs)).toBe(true);
    expect([...copy.formulas.values()].some(callsUs)).toBe(false);
    expect(copy.formulas.size).toBe(live.formulas.size);
    const left = [...partsOf(at("copy.xlsx"))].filter(([, text]) => TRACES.test(text));
    expect(left.map(([name]) => name)).toEqual([]);
  });

  it("leaves every part byte for byte that it does not have to change", () => {
    const [live, copy] = [unzipSync(readFileSync(LIVE)), unzipSync(readFileSync(at("copy.xlsx")))];
    const names = Object.keys(live);
    expect(names.filter((name) => !(name in copy))).toEqual([]);
    const changed = names.filter(
      (name) => Buffer.compare(live[name] ?? NONE, copy[name] ?? NONE) !== 0,
    );
    const sheets = changed.filter((name) => name.startsWith("xl/worksheets/"));
    // The register and Read me; the counts and our settings stay as they were.
    expect(sheets).toHaveLength(2);
    expect(changed.filter((name) => !name.startsWith("xl/worksheets/")).sort()).toEqual([
      "[Content_Types].xml",
      "xl/_rels/workbook.xml.rels",
      "xl/styles.xml",
      "xl/workbook.xml",
    ]);
  });

  it("says on a sheet of its own what it is, as of when, from which book", () => {
    const sheet = sheetAt(at("copy.xlsx"), "Read first");
    const told = new Map(sheet.values.map((row) => [row[0], row[1]]));
    expect(told.get("What this is")).toBe(
      "A copy of live.xlsx that works without any add-in, made on 2026-07-06. Every other sheet is as in the original workbook.",
    );
    expect(told.get("As of")).toContain("Report date 2026-07-06;");
    expect(told.get("Caution 1")).toContain("Planning aid");
    const readMe = sheetAt(at("copy.xlsx"), "Read me");
    const texts = readMe.values.map((row) => (typeof row[1] === "string" ? row[1] : ""));
    expect(texts.some((text) => text.includes("need the Sparespan add-in"))).toBe(false);
    expect(texts.some((text) => text.includes("work without any add-in"))).toBe(true);
    expect(texts).toContain(
      "2026-07-06: copy of live.xlsx as of 2026-07-06, without the add-in; see 'Read first'",
    );
  });

  it("copied again changes its own sheet only, and is read as the same register", async () => {
    const again = at("again.xlsx");
    expect((await sparespan("share", "copy", at("copy.xlsx"), "-o", again)).code).toBe(0);
    const names = openWorkbook(readFileSync(again)).snapshot.sheets.map(({ name }) => name);
    expect(names.filter((name) => name.startsWith("Read first"))).toEqual(["Read first"]);
    expect(sheetAt(again, "Read first").values[2]?.[1]).toContain("A copy of copy.xlsx");
    const { out } = await sparespan("check", again);
    expect(out).toContain("Register: Equipment");
    expect(out).toContain("0 faults, 0 notices.");
  });

  it("with --values holds no formula of ours", async () => {
    const path = at("values.xlsx");
    expect((await sparespan("share", "copy", LIVE, "-o", path, "--values")).code).toBe(0);
    const copy = sheetAt(path, "Equipment");
    const live = sheetAt(LIVE, "Equipment");
    expect(copy.values).toEqual(live.values);
    // The user's own formulas stay: those that did not call the add-in or read its names.
    const theirs = [...live.formulas.values()].filter((text) => !/SPARE/i.test(text));
    expect([...copy.formulas.values()].sort()).toEqual(theirs.sort());
    expect(theirs.length).toBeGreaterThan(0);
    const due = live.values[2]?.indexOf("Electrode set: next due") ?? -1;
    expect(copy.formats[3]?.[due]).toBe(live.formats[3]?.[due]);
  });

  it("turns the user's own calls into what they show, spills included, and says where", async () => {
    const path = write("calls.xlsx", withOwnSheet());
    const { code, out } = await sparespan("share", "copy", path, "-o", at("called.xlsx"));
    expect(code).toBe(0);
    expect(out).toContain("Calls of the add-in now values: 'My notes'!A1, 'My notes'!A5.");
    const notes = sheetAt(at("called.xlsx"), "My notes");
    expect(notes.values.map((row) => row[0] ?? null)).toEqual([
      4,
      7,
      'say "SPARE.SPAN(" aloud',
      null,
      11,
      12,
      13,
    ]);
    expect([...notes.formulas.values()]).toEqual(["3+4"]);
    const all = [...partsOf(at("called.xlsx")).values()].join("\n");
    expect(all.match(/xldudf/gi) ?? []).toEqual([]);
    const told = sheetAt(at("called.xlsx"), "Read first").values.map((row) => row[1]);
    expect(told).toContain(
      "Values replace the add-in calls in 2 cells, as last shown: 'My notes'!A1, 'My notes'!A5.",
    );
  });

  it("drops the note that the add-in's pane was open, and keeps other add-ins' panes", async () => {
    const other = "11111111-2222-4333-8444-555555555555";
    const one = write("pane.xlsx", withPanes(partsOf(LIVE), [ADD_IN.toUpperCase()]));
    expect((await sparespan("share", "copy", one, "-o", at("no-pane.xlsx"))).code).toBe(0);
    const gone = partsOf(at("no-pane.xlsx"));
    expect([...gone.keys()].filter((name) => name.includes("webext"))).toEqual([]);
    expect([...gone].filter(([, text]) => TRACES.test(text)).map(([name]) => name)).toEqual([]);
    const two = write("panes.xlsx", withPanes(partsOf(LIVE), [other, ADD_IN]));
    expect((await sparespan("share", "copy", two, "-o", at("one-pane.xlsx"))).code).toBe(0);
    const kept = partsOf(at("one-pane.xlsx"));
    expect([...kept.keys()].filter((name) => name.includes("webext")).sort()).toEqual([
      "xl/webextensions/_rels/taskpanes.xml.rels",
      "xl/webextensions/taskpanes.xml",
      "xl/webextensions/webextension1.xml",
    ]);
    const list = kept.get("xl/webextensions/taskpanes.xml") ?? "";
    expect(list.match(/<wetp:taskpane /g)).toHaveLength(1);
    expect(list).toContain('r:id="rId1"');
    expect(withoutPanes(openWorkbook(readFileSync(at("one-pane.xlsx"))), ADD_IN)).toBeNull();
  });

  it("is refused where a name or a rule calls the add-in: nothing could stay in its place", async () => {
    const named = partsOf(LIVE);
    const book = named.get("xl/workbook.xml") ?? "";
    const name = '<definedName name="Mine">_xldudf_SPARE_SPAN(30,3,6,120)</definedName>';
    named.set("xl/workbook.xml", book.replace("<definedNames>", `<definedNames>${name}`));
    const path = write("named.xlsx", named);
    const told = await sparespan("share", "copy", path, "-o", at("no.xlsx"));
    expect(told).toEqual({
      code: 2,
      out: "",
      err: "sparespan: No copy was made: it would need the add-in for the names Mine. Remove the add-in functions from them, then copy again.\n",
    });
    const ruled = withOwnSheet();
    const sheet = [...ruled].find(([, text]) => text.includes("_xldudf_SPARE_STANDIN"));
    const rule =
      '</sheetData><conditionalFormatting sqref="A1"><cfRule type="expression" priority="1"><formula>_xldudf_SPARE_SPAN(30,3,6)&gt;4</formula></cfRule></conditionalFormatting>';
    ruled.set(sheet?.[0] ?? "", (sheet?.[1] ?? "").replace("</sheetData>", rule));
    const refused = await sparespan(
      "share",
      "copy",
      write("ruled.xlsx", ruled),
      "-o",
      at("no.xlsx"),
    );
    expect(refused.code).toBe(2);
    expect(refused.err).toBe(
      `sparespan: no copy was made: the add-in would still be called from ${sheet?.[0] ?? ""} in the file; remove these calls in your spreadsheet program first\n`,
    );
  });

  it("knows the add-in by the identifier of its manifest", () => {
    expect(readFileSync("manifest.xml", "utf8")).toContain(`<Id>${ADD_IN}</Id>`);
  });

  it("of a book without our columns adds the statement and nothing else", async () => {
    const book = at("demo", "velloran-20260706-clean.xlsx");
    const path = at("plain.xlsx");
    expect((await sparespan("share", "copy", book, "-o", path)).code).toBe(0);
    const before = openWorkbook(readFileSync(book)).snapshot.sheets.map(({ name }) => name);
    const after = openWorkbook(readFileSync(path)).snapshot.sheets.map(({ name }) => name);
    expect(after).toEqual([...before, "Read first"]);
    expect(sheetAt(path, "Equipment").values).toEqual(sheetAt(book, "Equipment").values);
    expect(valueAt(sheetAt(path, "Read first"), 4, 1)).toBe("The register has none.");
  });
});
