import fc from "fast-check";
import { afterEach, describe, expect, it, vi } from "vitest";
import { onPaper } from "../../src/book/sheets/paper.ts";
import type { ChartSeries, Edit } from "../../src/book/workbook/plan.ts";
import { cellKey, sheetNamed, valueAt } from "../../src/book/workbook/snapshot.ts";
import { putOf } from "../../taskpane/excel/cells.ts";
import { differences } from "./contract.ts";
import { bookOf, columnsOn, DEMO, deskOf, faultOf, fill, planOf } from "./desk.ts";
import { paperSheet } from "./paper.ts";
import { Fault } from "../stand-in/thing.ts";
import { typedInto } from "../stand-in/typed.ts";
import { cases } from "../cases.ts";

afterEach(() => {
  vi.restoreAllMocks();
});

interface Proxies {
  readonly workbook: {
    readonly worksheets: {
      getItem(name: string): {
        readonly name: string;
        load(names: string): void;
        getRange(address: string): { values: unknown[][]; numberFormat: string[][] };
      };
    };
  };
  readonly sync: () => Promise<void>;
}

interface Script {
  run: (options: object, work: (context: Proxies) => Promise<unknown>) => Promise<unknown>;
}

/** Excel's own script, as our host finds it. */
function script(): Script {
  return (globalThis as unknown as { Excel: Script }).Excel;
}

describe("Excel's own script over the stand-in", () => {
  it("refuses what was not loaded, so a wrong order of load and sync cannot pass here", async () => {
    deskOf(DEMO);
    const unloaded = script().run({}, async ({ workbook, sync }) => {
      const sheet = workbook.worksheets.getItem("Setup");
      sheet.load("name");
      const early = (): string => sheet.name;
      expect(early).toThrow("The property 'name' is not available.");
      await sync();
      return early();
    });
    expect(await unloaded).toBe("Setup");
  });

  it("reports a sheet that is not there as Excel does", async () => {
    deskOf(DEMO);
    const missing = script().run({}, ({ workbook }) => {
      workbook.worksheets.getItem("Nowhere").load("name");
      return Promise.resolve();
    });
    await expect(missing).rejects.toMatchObject({ code: "ItemNotFound" });
  });
});

describe("the stand-in", () => {
  const put = async (values: unknown[][], address: string, start = NOTED) => {
    const { host } = deskOf(start);
    await script().run({}, ({ workbook }) => {
      workbook.worksheets.getItem("Notes").getRange(address).values = values;
      return Promise.resolve();
    });
    return (await host.snapshot()).sheets[0]?.values;
  };
  const NOTED = bookOf(paperSheet("Notes", [["Note", 7]]));

  it("leaves a cell at null, clears it at an empty text, and reads the rest as typed", async () => {
    expect(await put([[null, ""]], "A1:B1")).toEqual([["Note"]]);
    expect(await put([["'1"], ["true"], ["12%"], ["#N/A"]], "A1:A4")).toEqual([
      ["1", 7],
      [true],
      [12],
      [{ error: "#N/A" }],
    ]);
  });

  it("keeps what is put into a cell of the text format text", async () => {
    const text = { ...NOTED, formats: ["General", "@"] };
    const [sheet] = text.sheets;
    const sheets = sheet === undefined ? [] : [{ ...sheet, formats: [[1, 1]] }];
    expect(await put([["=A1", 5]], "A1:B1", { ...text, sheets })).toEqual([["=A1", "5"]]);
  });

  it("refuses values that do not fit their range, and what a protected sheet forbids", async () => {
    await expect(put([[1, 2]], "A1:A2")).rejects.toMatchObject({ code: "InvalidArgument" });
    const [sheet] = NOTED.sheets;
    const locked = bookOf(...(sheet === undefined ? [] : [{ ...sheet, protected: true }]));
    await expect(put([[1]], "A1", locked)).rejects.toMatchObject({ code: "AccessDenied" });
  });

  it("refuses a request above 5 MB", async () => {
    const long = "x".repeat(32_000);
    const values = Array.from({ length: 200 }, () => [long]);
    await expect(put(values, "A1:A200")).rejects.toMatchObject({
      code: "RequestPayloadSizeLimitExceeded",
    });
  });
});

describe("text handed to Excel", () => {
  const SOURCES = [
    "004711",
    "1-2",
    "=x",
    "+x",
    "-x",
    "@x",
    "'x",
    "''",
    "TRUE",
    " true ",
    "3 May",
    "May 3",
    "#N/A",
    "1e5",
    "12%",
    "€5",
    "(5)",
    "10:30",
    "１２",
    "٣",
    "＝x",
    "½",
    "5 a",
    "\u00a01",
    "1\u00a0000",
  ];

  it("comes back as the same text, whatever it is", () => {
    const text = fc.oneof(
      fc.string({ unit: "binary", minLength: 1, maxLength: 20 }),
      fc.stringMatching(/^[0-9.,/:%$€ eapmAPM'=+@#()-]+$/),
      fc.constantFrom(...SOURCES),
    );
    fc.assert(
      fc.property(text, fc.constantFrom("General", "@", "yyyy-mm-dd"), (given, format) => {
        expect(typedInto(putOf(given), format)).toEqual({ value: given, formula: null });
      }),
      { numRuns: cases("Texts put into Excel", 5000, 500) },
    );
  });

  it("would be read as something else without that", () => {
    const read = SOURCES.map((text) => typedInto(text, "General").value);
    expect(read.filter((value, at) => value === SOURCES[at])).toEqual(["½"]);
  });

  it("comes back the same through a whole plan, from every cell", async () => {
    const { host } = deskOf(bookOf(paperSheet("Notes", [["Note"]])));
    const rows = SOURCES.map((_, at) => at + 1);
    await host.apply(planOf(fill("Notes", rows, SOURCES)));
    const sheet = sheetNamed(await host.snapshot(), "Notes");
    expect(rows.map((row) => (sheet === null ? null : valueAt(sheet, row, 0)))).toEqual(SOURCES);
    expect(sheet?.formulas.size).toBe(0);
  });

  it("is no longer for texts that nothing else could be meant by", () => {
    expect(["Set", "Ear cushion", "see note", "a-b"].map(putOf)).toEqual([
      "Set",
      "Ear cushion",
      "see note",
      "a-b",
    ]);
  });
});

describe("a step in Excel", () => {
  const WRITES = planOf(fill("Notes", [1], ["x"]));
  const NOTES = bookOf(paperSheet("Notes", [["Note"]]));

  const SENTENCES: readonly (readonly [string, RegExp])[] = [
    ["AccessDenied", /^The workbook or a sheet in it is locked against changes\./],
    ["ApiNotFound", /^This version of Excel is too old for this step\./],
    ["GeneralException", /^Excel could not do this\. Save the workbook/],
    ["InvalidOperationInCellEditMode", /^A cell is being edited\./],
    ["ItemAlreadyExists", /^Something with this name is already in the workbook\.$/],
    ["ItemNotFound", /^A sheet, table or name is gone\./],
    ["RequestPayloadSizeLimitExceeded", /^The step was too large for Excel on the web\./],
    ["ResponsePayloadSizeLimitExceeded", /^The sheet is too large for Excel on the web\./],
    ["SomethingNew", /^Excel could not do this \(SomethingNew\)\.$/],
  ];
  it.each(SENTENCES)("that fails with %s says so in a sentence of ours", async (code, sentence) => {
    const { host, executor } = deskOf(NOTES);
    executor.before = () => {
      throw new Fault(code, "Der Vorgang ist fehlgeschlagen.");
    };
    expect(await faultOf(host.snapshot())).toMatch(sentence);
  });

  it("needs no later Excel than the manifest asks for, and says so in an earlier one", async () => {
    const { host } = deskOf(DEMO, false, "1.12");
    expect(await faultOf(host.snapshot())).toBe(
      "This version of Excel is too old for this step. Update Excel.",
    );
  });

  it("waits while a cell is being edited", async () => {
    const { host, executor } = deskOf(NOTES);
    await host.apply(WRITES);
    await host.select({ sheet: "Notes", row: 1, column: 0 });
    // The platform's flag of that name.
    expect(executor.tally.flags.filter((flags) => (flags & 64) === 0)).toEqual([]);
  });

  it.each([true, false])("is one step of Excel's undo where that is known: %s", async (groups) => {
    const { host } = deskOf(NOTES, groups);
    const run = vi.spyOn(script(), "run");
    const receipt = await host.apply(WRITES);
    await host.snapshot();
    await host.takeBack(receipt);
    const grouped = run.mock.calls.map(([options]) => "mergeUndoGroup" in options);
    expect(grouped).toEqual([groups, false, groups]);
  });

  it("takes added sheets back outside a step of Excel's undo, within which it refuses that", async () => {
    const { host, model } = deskOf(DEMO, true);
    const { run } = script();
    vi.spyOn(script(), "run").mockImplementation(async (options, work) => {
      const sheets = model.sheets.length;
      const done = await run(options, work);
      const removed = model.sheets.length < sheets;
      if (removed && "mergeUndoGroup" in options) throw new Fault("UndoNotSupported", "a sheet");
      return done;
    });
    const before = await host.snapshot();
    const receipt = await host.apply(columnsOn(before));
    expect(receipt.sheets.length).toBeGreaterThan(0);
    await host.takeBack(receipt);
    expect(differences(await host.snapshot(), before)).toEqual([]);
  });

  it("can be taken back once more where the first attempt ended half-way", async () => {
    const { host } = deskOf(DEMO);
    const before = await host.snapshot();
    const receipt = await host.apply(columnsOn(before));
    const { run } = script();
    let runs = 0;
    // Cells and names are back after the first; the sheets go with the second.
    vi.spyOn(script(), "run").mockImplementation((options, work) => {
      runs += 1;
      return runs === 2 ? Promise.reject(new Error("the line is cut")) : run(options, work);
    });
    expect(await faultOf(host.takeBack(receipt))).toContain("the line is cut");
    expect(differences(await host.snapshot(), before)).not.toEqual([]);
    await host.takeBack(receipt);
    expect(differences(await host.snapshot(), before)).toEqual([]);
  });

  it("uses nothing that empties Excel's undo, and deletes only what is taken back", async () => {
    const { host, executor } = deskOf(DEMO);
    const plan = columnsOn(await host.snapshot());
    const receipt = await host.apply(plan);
    const { used } = executor.tally;
    const barred =
      /protect\(|pauseProtection|Worksheet\.(?:copy|name|visibility)\b|NamedItem\.comment|comment\w*\.(?!comments|content|replies|getLocation|load)|delete\(/i;
    expect([...used].filter((name) => barred.test(name))).toEqual([]);
    await host.takeBack(receipt);
    expect([...used].filter((name) => barred.test(name))).toEqual([
      "NamedItem.delete()",
      "Worksheet.delete()",
    ]);
  });

  it("sees a cell that was edited meanwhile before it writes", async () => {
    const { host, model } = deskOf(DEMO);
    const plan = columnsOn(await host.snapshot());
    const cell = { value: "D-OTHER", formula: null, format: "General" };
    model.sheets[0]?.cells.set(cellKey(6, 0), cell);
    const written = model.written.length;
    expect(await faultOf(host.apply(plan))).toBe(
      "Nothing was changed: the rows of Equipment have changed since they were read.",
    );
    expect(model.written.length).toBe(written);
  });

  it("is refused on a protected sheet before anything is written", async () => {
    const { host, model } = deskOf(bookOf({ ...paperSheet("Notes", [["Note"]]), protected: true }));
    const added = { kind: "addSheet", sheet: "New", cells: [], widths: [], freezeRows: 0 } as const;
    expect(await faultOf(host.apply(planOf(added, ...WRITES.edits)))).toBe(
      "Nothing was changed: Notes is protected; unprotect it first.",
    );
    expect(model.written).toEqual([]);
  });

  it("that fails on its way is taken back, and says so", async () => {
    const { host, model } = deskOf(NOTES);
    const before = await host.snapshot();
    const cells = [{ row: 0, column: 0, value: "Part" }];
    const area = { firstRow: 0, firstColumn: 0, lastRow: 1, lastColumn: 0 };
    const table = { kind: "addTable", sheet: "New", name: "Not a name", area, headings: ["Part"] };
    const plan = planOf(
      { kind: "addName", name: "NoteCell", refersTo: "Notes!$A$1" },
      fill("Notes", [1], ["x"]),
      { kind: "addSheet", sheet: "New", cells, widths: [9], freezeRows: 0 },
      table as Edit,
    );
    expect(await faultOf(host.apply(plan))).toBe(
      "Excel could not do this (InvalidArgument). What had been written has been undone.",
    );
    expect(model.written).toContain("add New");
    expect(differences(await host.snapshot(), before)).toEqual([]);
  });

  it("that fails and cannot be taken back either says that part of it may be there", async () => {
    const { host, executor } = deskOf(NOTES);
    let broken = false;
    executor.before = ({ Actions }) => {
      broken ||= Actions.some(({ Name }) => Name === "Formulas");
      if (broken) throw new Fault("GeneralException", "");
    };
    expect(await faultOf(host.apply(WRITES))).toMatch(
      /^Excel could not do this\..* Part of it may have been written: check, or use Excel's own undo\.$/,
    );
  });

  it("does not fail because there is no printer", async () => {
    const { host, executor } = deskOf(NOTES);
    executor.before = ({ ObjectPaths }) => {
      const paths = Object.values(ObjectPaths);
      if (paths.some(({ Name }) => Name === "PageLayout")) throw new Fault("GeneralException", "");
    };
    const print = onPaper("Notes", 150, { titleRows: null, footer: "&L&A" });
    await host.apply(planOf(...WRITES.edits, print));
    const sheet = sheetNamed(await host.snapshot(), "Notes");
    expect(sheet && valueAt(sheet, 1, 0)).toBe("x");
  });

  it("gives a name that led nowhere its place, and its old words back", async () => {
    const names = [{ name: "Lost", sheet: null, refersTo: "#REF!$A$1" }];
    const { host } = deskOf({ ...NOTES, names });
    const receipt = await host.apply(
      planOf({ kind: "addName", name: "lost", refersTo: "Notes!$A$1" }),
    );
    expect((await host.snapshot()).names).toEqual([{ ...names[0], refersTo: "Notes!$A$1" }]);
    await host.takeBack(receipt);
    expect((await host.snapshot()).names).toEqual(names);
  });

  it("copies a formula downwards only where every row in it is its own", async () => {
    const texts = ["B{r}*2", 'IF(B{r}>"A1",B2,1)', "SUM(B1:B{r})", "'A 1'!$B$3+B{r}", "B${r}"];
    const rows = [1, 2, 3];
    const block = (text: string, at: number) => ({
      column: at,
      rows,
      values: [null, null, null],
      formula: { text, live: false },
    });
    const edit = {
      kind: "fillCells",
      sheet: "Notes",
      blocks: texts.map(block),
      expects: {},
    } as const;
    const { host, model } = deskOf(NOTES);
    await host.apply(planOf(edit));
    const sheet = sheetNamed(await host.snapshot(), "Notes");
    const found = texts.map((_, at) => rows.map((row) => sheet?.formulas.get(cellKey(row, at))));
    expect(found).toEqual(
      texts.map((text) => rows.map((row) => text.replaceAll("{r}", `${row + 1}`))),
    );
    expect(model.written.filter((text) => text.startsWith("copy")).length).toBe(2);
  });

  it("reaches the rows that a filter hides as well", async () => {
    const area = { firstRow: 0, firstColumn: 0, lastRow: 4, lastColumn: 0 };
    const rows = [1, 2, 3, 4];
    const { host } = deskOf(
      bookOf({
        ...paperSheet("Notes", [["Note"], ["a"], ["b"], ["c"], ["d"]]),
        filter: { area, active: true },
        hiddenRows: new Set([2, 3]),
      }),
    );
    const formula = { text: "A{r}&A{r}", live: false };
    const block = { column: 1, rows, values: rows.map(() => null), formula };
    await host.apply(planOf({ kind: "fillCells", sheet: "Notes", blocks: [block], expects: {} }));
    const sheet = sheetNamed(await host.snapshot(), "Notes");
    expect(rows.map((row) => sheet?.formulas.get(cellKey(row, 1)))).toEqual([
      "A2&A2",
      "A3&A3",
      "A4&A4",
      "A5&A5",
    ]);
  });

  it("draws a chart from the cells it names: a band as two stacked areas, what is to come pale", async () => {
    const series = (role: ChartSeries["role"], column: string): ChartSeries => ({
      title: role,
      categories: "'My notes'!$A$2:$A$5",
      values: `'My notes'!$${column}$2:$${column}$5`,
      role,
      color: "1F3864",
      hatched: role === "stack",
    });
    const rows = ["Note", "a", "b", "c", "d"].map((text) => [text, 1, 2, 3, 4]);
    const { host, model } = deskOf(bookOf(paperSheet("My notes", rows)));
    const chart = { kind: "addChart", sheet: "My notes", title: "Use", description: "" } as const;
    const at = { firstRow: 0, firstColumn: 6, lastRow: 9, lastColumn: 12 };
    const band = [series("history", "B"), series("low", "C"), series("high", "D")];
    await host.apply(
      planOf(
        { ...chart, chart: "band", at, series: band },
        { ...chart, chart: "stacked", at, series: [series("stack", "E")] },
      ),
    );
    const drawn = model.sheets[0]?.charts.map((one) => one.series.map(({ kept }) => kept));
    const values = drawn?.map((one) => one.map((kept) => kept.get("values")));
    expect(values).toEqual([
      ["'My notes'!B2:B5", "'My notes'!C2:C5", "'My notes'!D2:D5"],
      ["'My notes'!E2:E5"],
    ]);
    const looks = drawn
      ?.flat()
      .map((kept) => [kept.get("ChartSeries.chartType"), kept.get("fill")]);
    expect(looks).toEqual([
      ["Line", undefined],
      ["AreaStacked", null],
      ["AreaStacked", "#B8C7D9"],
      [undefined, "#8F9CB2"],
    ]);
    expect(model.sheets[0]?.charts[0]?.kept.get("at")).toEqual(["'My notes'!G1", "'My notes'!M10"]);
  });
});
