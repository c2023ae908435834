import { strFromU8, unzipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { columnsPlan } from "../../src/book/columns/columns-plan.ts";
import { REPORT_DATE } from "../../src/book/demo/programme.ts";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import type { Plan } from "../../src/book/workbook/plan.ts";
import {
  cellKey,
  type Sheet,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../../src/book/workbook/snapshot.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { applyPlan, newWorkbook, openWorkbook, viewOf } from "../../src/xlsx/index.ts";
import { refusal } from "../../taskpane/workbench/grid/allowed.ts";
import { differences } from "./contract.ts";

import { randomBook } from "../scenes/random-book.ts";
import { quietBench } from "./sheets.ts";
import { fixedSheets, protectedFirst } from "../scenes/stranger-parts.ts";

const DEMO = newWorkbook(demoBook(DEMO_SEED, false).plan);

function columns(book: Snapshot): Plan {
  const reading = readWorkbook(book, REPORT_DATE, { reportDate: REPORT_DATE });
  return columnsPlan(book, reading, { mode: "live", today: REPORT_DATE, force: false });
}

function sheetOf(book: Snapshot, name: string): Sheet {
  const sheet = sheetNamed(book, name);
  if (sheet === null) throw new Error(`no sheet ${name}`);
  return sheet;
}

/** Row 4 of the register, the first device; column G is free there. */
const G4 = [3, 6] as const;
const H4 = [3, 7] as const;

async function opened(bytes = DEMO): Promise<ReturnType<typeof quietBench>> {
  const made = quietBench();
  await made.bench.openFile(bytes);
  return made;
}

describe("a host over the bytes of a file", () => {
  it("applies a plan as the file alone would be changed", async () => {
    const { bench, grid } = await opened();
    const plan = columns(await bench.snapshot());
    await bench.apply(plan);
    const alone = openWorkbook(applyPlan(openWorkbook(DEMO), plan)).snapshot;
    expect(differences(await bench.snapshot(), alone)).toEqual([]);
    expect(differences(grid.shown(), alone)).toEqual([]);
    expect(bench.isUnsaved()).toBe(true);
  });

  it("gives back the very bytes when the plan is taken back", async () => {
    const { bench } = await opened();
    const receipt = await bench.apply(columns(await bench.snapshot()));
    await bench.takeBack(receipt);
    expect(Buffer.compare(await bench.file(), DEMO)).toBe(0);
    expect(bench.isUnsaved()).toBe(false);
  });

  it("refuses a plan whole when what it expects no longer holds", async () => {
    const { bench, grid } = await opened();
    const plan = columns(await bench.snapshot());
    grid.type("Equipment", [2, 0], { value: "Unit" });
    const before = await bench.file();
    await expect(bench.apply(plan)).rejects.toThrow(
      'Nothing was changed: Equipment!A3 no longer reads "Device".',
    );
    expect(Buffer.compare(await bench.file(), before)).toBe(0);
  });

  it("refuses a plan that would write into a protected sheet", async () => {
    const bytes = protectedFirst(DEMO);
    const { bench } = quietBench();
    await bench.openFile(bytes);
    await expect(bench.apply(columns(await bench.snapshot()))).rejects.toThrow(
      "Nothing was changed: Equipment is protected; unprotect it first.",
    );
    expect(Buffer.compare(await bench.file(), bytes)).toBe(0);
  });

  it("adds no sheet to a workbook whose structure is protected", async () => {
    const bytes = fixedSheets(newWorkbook(randomBook(3, 1, 1900)));
    const { bench } = quietBench();
    await bench.openFile(bytes);
    const sheet = { sheet: "New", cells: [], widths: [], freezeRows: 0 };
    const plan: Plan = { summary: "new", edits: [{ kind: "addSheet", ...sheet }] };
    await expect(bench.apply(plan)).rejects.toThrow(
      "Nothing was changed: the workbook's structure is protected and allows no new sheet; unprotect it first.",
    );
    expect(Buffer.compare(await bench.file(), bytes)).toBe(0);
  });

  it("takes back the first of two plans and keeps what was typed since", async () => {
    const { bench, grid } = await opened();
    const first = await bench.apply(addSheet("One"));
    await bench.apply(addSheet("Two"));
    grid.type("Equipment", G4, { value: "typed" });
    await bench.takeBack(first);
    const now = await bench.snapshot();
    expect(sheetNamed(now, "One")).toBeNull();
    expect(sheetOf(now, "Two").values).toEqual([["Two"]]);
    expect(valueAt(sheetOf(now, "Equipment"), ...G4)).toBe("typed");
  });

  it("does not take back a plan whose cells were typed over", async () => {
    const { bench, grid } = await opened();
    const receipt = await bench.apply(addSheet("One"));
    grid.type("One", [0, 0], { value: "mine" });
    await expect(bench.takeBack(receipt)).rejects.toThrow(
      "One!A1 has changed since; it cannot be undone.",
    );
  });

  it("asks for the later change first where one builds on the other", async () => {
    const { bench } = await opened();
    const first = await bench.apply(addSheet("One"));
    await bench.apply({
      summary: "on it",
      edits: [
        {
          kind: "addChoices",
          sheet: "One",
          area: { firstRow: 0, firstColumn: 0, lastRow: 3, lastColumn: 0 },
          choices: { kind: "list", values: ["a"] },
          message: "a.",
        },
      ],
    });
    await expect(bench.takeBack(first)).rejects.toThrow(
      "A later change builds on this one: undo that one first.",
    );
  });
});

describe("what was left in the grid", () => {
  it("is saved with its formula, result and date format, and nothing else changes", async () => {
    const { bench, grid } = await opened();
    const formula = "SPARE.NEXTDUE(H4,3,4)";
    grid.type("Equipment", G4, { value: 46_179, formula, format: "yyyy-mm-dd" });
    const saved = await bench.file();
    const book = openWorkbook(saved).snapshot;
    const sheet = sheetOf(book, "Equipment");
    expect(valueAt(sheet, ...G4)).toBe(46_179);
    expect(sheet.formulas.get(cellKey(...G4))).toBe(formula);
    expect(book.formats[sheet.formats[3]?.[6] ?? 0]).toBe("yyyy-mm-dd");
    expect(differences(openWorkbook(DEMO).snapshot, book)).toHaveLength(1);
    // The heading stands right above it; its look is the heading's own.
    const view = viewOf(openWorkbook(saved));
    expect(view.looks[view.sheets[0]?.looks[2]?.[6] ?? 0]?.bold).toBe(true);
    expect(view.looks[view.sheets[0]?.looks[3]?.[6] ?? 0]?.bold).toBeUndefined();
    const [was, is] = [partsIn(DEMO), partsIn(saved)];
    const changed = [...is].filter(([name, text]) => was.get(name) !== text).map(([name]) => name);
    expect(changed.filter((name) => !/sheet1\.xml$|styles\.xml$/.test(name)).sort()).toEqual([
      "[Content_Types].xml",
      "xl/_rels/workbook.xml.rels",
      "xl/metadata.xml",
    ]);
  });

  it("keeps a formula that only shows another result, shared ones too", async () => {
    const { bench, grid } = await opened();
    const column = 10;
    const before = sheetOf(await bench.snapshot(), "Equipment").formulas;
    for (const row of [3, 5, 9]) grid.type("Equipment", [row, column], { value: row + 0.5 });
    const after = sheetOf(openWorkbook(await bench.file()).snapshot, "Equipment");
    expect([...after.formulas]).toEqual([...before]);
    expect([3, 5, 9].map((row) => valueAt(after, row, column))).toEqual([3.5, 5.5, 9.5]);
  });

  it("leaves the file's result where the grid cannot calculate a formula", async () => {
    const { bench, grid } = await opened();
    grid.type("Equipment", [3, 10], { value: { error: "#NAME?" } });
    expect(Buffer.compare(await bench.file(), DEMO)).toBe(0);
  });

  it("is nothing when it was typed and typed back", async () => {
    const { bench, grid } = await opened();
    const before = valueAt(sheetOf(grid.shown(), "Equipment"), ...H4);
    grid.type("Equipment", H4, { value: 1 });
    grid.type("Equipment", H4, { value: before });
    expect(Buffer.compare(await bench.file(), DEMO)).toBe(0);
  });

  it("takes the cells a formula fills along, and they can be filled otherwise later", async () => {
    const { bench, grid } = await opened();
    const formula = "SPARE.AHEAD(1,2)";
    grid.type("Setup", [30, 0], { value: 1, formula, spill: { rows: 3, columns: 1 } });
    for (const row of [31, 32]) grid.type("Setup", [row, 0], { value: row });
    const saved = await bench.file();
    const open = openWorkbook(saved);
    const setup = sheetOf(open.snapshot, "Setup");
    expect([30, 31, 32].map((row) => valueAt(setup, row, 0))).toEqual([1, 31, 32]);
    const at = open.snapshot.sheets.indexOf(setup);
    const area = { firstRow: 30, lastRow: 32, firstColumn: 0, lastColumn: 0 };
    expect(viewOf(open).sheets[at]?.blocks).toEqual([area]);

    const again = await opened(saved);
    again.grid.type("Setup", [30, 0], { value: "gone", formula: null });
    for (const row of [31, 32]) again.grid.type("Setup", [row, 0], { value: null });
    const rest = sheetOf(openWorkbook(await again.bench.file()).snapshot, "Setup");
    expect(valueAt(rest, 30, 0)).toBe("gone");
    expect(valueAt(rest, 31, 0)).toBeNull();
    expect(rest.formulas.get(cellKey(30, 0))).toBeUndefined();
  });
});

describe("bad input", () => {
  it("tells what a file is that is no workbook, and keeps the one that is open", async () => {
    const { bench } = await opened();
    await expect(bench.openFile(new Uint8Array([1, 2, 3]))).rejects.toThrow(/^[A-Z].*[.]$/);
    expect(sheetNamed(await bench.snapshot(), "Equipment")).not.toBeNull();
  });

  it("shows a workbook whose days are counted from 1904, and keeps its days and formulas", async () => {
    const bytes = newWorkbook(demoBook(DEMO_SEED, false).plan, { dateSystem: 1904 });
    const { bench, grid } = quietBench();
    await bench.openFile(bytes);
    expect([bench.live, bench.from1904()]).toEqual([false, true]);
    const file = openWorkbook(bytes).snapshot;
    const at = (book: Snapshot, row: number, column: number): unknown =>
      sheetNamed(book, "Equipment")?.values[row]?.[column];
    // The same day is 1,462 more counted from 1900 than from 1904 (ECMA-376, 18.17.4.1).
    expect([at(file, 4, 7), at(grid.shown(), 4, 7)]).toEqual([46_142, 47_604]);
    expect(sheetNamed(grid.shown(), "Equipment")?.formulas.size).toBe(0);
    expect(differences(await bench.snapshot(), file)).toEqual([]);
    grid.type("Equipment", [4, 7], { value: 46_171, format: "yyyy-mm-dd" });
    grid.type("Equipment", [5, 11], { value: 46_171, format: "General" });
    const saved = openWorkbook(await bench.file()).snapshot;
    expect([at(saved, 4, 7), at(saved, 5, 11)]).toEqual([44_709, 46_171]);
    expect(differences(file, saved)).toHaveLength(2);
    expect(sheetNamed(saved, "Equipment")?.formulas).toEqual(
      sheetNamed(file, "Equipment")?.formulas,
    );
  });

  it.each([
    ["sheet.command.insert-row", "Rows, columns and sheets stay"],
    ["sheet.command.remove-col", "Rows, columns and sheets stay"],
    ["sheet.command.remove-sheet", "Rows, columns and sheets stay"],
    ["sheet.command.set-worksheet-name", "Rows, columns and sheets stay"],
    ["sheet.command.cut", "Rows, columns and sheets stay"],
    ["sheet.mutation.remove-rows", "Rows, columns and sheets stay"],
    ["sheet.command.add-worksheet-merge", "Rows, columns and sheets stay"],
    ["sheet.command.set-range-bold", "Formatting, rules and choices stay"],
    ["sheet.command.addDataValidation", "Formatting, rules and choices stay"],
  ])("refuses %s in the grid", (command, words) => {
    expect(refusal(command)?.startsWith(words)).toBe(true);
  });

  it("lets nobody type into a protected sheet, but look around", () => {
    expect(refusal("sheet.command.set-range-values", "Lists")).toBe(
      "The sheet Lists is protected: unprotect it in your spreadsheet program to change it.",
    );
    expect(refusal("sheet.command.copy", "Lists")).toBeNull();
  });

  it("lets people type, paste, clear, undo and look around", () => {
    const free = ["set-range-values", "paste", "clear-selection-content", "auto-fill", "copy"];
    expect(free.map((name) => refusal(`sheet.command.${name}`))).toEqual(free.map(() => null));
    expect(refusal("univer.command.undo")).toBeNull();
    expect(refusal("sheet.operation.set-selections")).toBeNull();
  });
});

function addSheet(name: string): Plan {
  const cells = [{ row: 0, column: 0, value: name }];
  return {
    summary: name,
    edits: [{ kind: "addSheet", sheet: name, cells, widths: [10], freezeRows: 0 }],
  };
}

/** The text of every part of a package, by name. */
function partsIn(bytes: Uint8Array): Map<string, string> {
  return new Map(Object.entries(unzipSync(bytes)).map(([name, part]) => [name, strFromU8(part)]));
}
