import { describe, expect, it, vi } from "vitest";
import { cellKey, type Snapshot, valueAt } from "../../src/book/workbook/snapshot.ts";
import { modeOf } from "../../src/book/columns/mode.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { REPORT_DATE } from "../../src/book/demo/programme.ts";
import { lostCalls, repairPlan } from "../../taskpane/pane/state/repair.ts";
import { JOBS } from "./contract-jobs.ts";
import { differences, excelTrial } from "./contract.ts";
import { bookOf, columnsOn, DEMO, type Desk, deskOf, faultOf, fill, planOf } from "./desk.ts";
import { paperSheet } from "./paper.ts";
import { knowAnswers } from "../stand-in/answers.ts";
import type { Request } from "../stand-in/executor.ts";
import type { BookModel } from "../stand-in/model.ts";

const NOTES = bookOf(paperSheet("Notes", [["Note"], ["a"], ["b"], ["c"]]));
const NEW_SHEET = { kind: "addSheet", sheet: "New", cells: [], widths: [], freezeRows: 0 } as const;

/** Whether a request writes into cells. */
function writes({ Actions }: Request): boolean {
  return Actions.some(({ Name }) => Name === "Formulas" || Name === "CopyFrom");
}

/** Somebody else changes the workbook in the moment in which the first cells are written. */
function meanwhile({ executor, model }: Desk, change: (book: BookModel) => void): void {
  let isDone = false;
  executor.before = (request) => {
    if (isDone || !writes(request)) return;
    isDone = true;
    change(model);
  };
}

describe("a workbook whose structure is protected", () => {
  it("gets no sheet, and nothing else of the change", async () => {
    const { host, model } = deskOf({ ...NOTES, fixedSheets: true });
    expect((await host.snapshot()).fixedSheets).toBe(true);
    expect(await faultOf(host.apply(planOf(fill("Notes", [1], ["x"]), NEW_SHEET)))).toBe(
      "Nothing was changed: the workbook's structure is protected and allows no new sheet; unprotect it first.",
    );
    expect(model.written).toEqual([]);
  });

  it("that was protected since keeps the sheets of a change, and says why", async () => {
    const { host, model } = deskOf(NOTES);
    const receipt = await host.apply(planOf(fill("Notes", [1], ["x"]), NEW_SHEET));
    model.temper.isFixed = true;
    const before = await host.snapshot();
    expect(await faultOf(host.takeBack(receipt))).toBe(
      "The workbook's structure is protected, so the sheet New cannot be removed; unprotect it first.",
    );
    expect(differences(await host.snapshot(), before)).toEqual([]);
  });
});

describe("while a cell is being edited", () => {
  it("every request waits, also the one for events", async () => {
    const { host, model, executor, changed } = deskOf(NOTES);
    model.temper.isEditing = true;
    const heard = vi.fn();
    const stop = host.changed(heard);
    const read = host.snapshot();
    await new Promise((resolve) => setTimeout(resolve, 40));
    expect(executor.tally.syncs).toBe(0);
    model.temper.isEditing = false;
    expect((await read).sheets).toHaveLength(1);
    const [sheet] = model.sheets;
    if (sheet === undefined) throw new Error("no sheet");
    await vi.waitFor(() => {
      changed(sheet, "A2", "Local");
      expect(heard).toHaveBeenCalled();
    });
    stop();
  });
});

describe("hidden sheets", () => {
  const hidden = (visibility: "hidden" | "veryHidden"): Snapshot =>
    bookOf(paperSheet("Front", [["x"]]), { ...paperSheet("Back", [["y"]]), visibility });

  it.each(["hidden", "veryHidden"] as const)(
    "are read, and told where one is to be shown: %s",
    async (kind) => {
      const { host } = deskOf(hidden(kind));
      expect((await host.snapshot()).sheets[1]).toMatchObject({
        visibility: kind,
        values: [["y"]],
      });
      expect(await faultOf(host.select({ sheet: "Back", row: 0, column: 0 }))).toBe(
        "The sheet Back is hidden: unhide it to see A1.",
      );
    },
  );
});

describe("a call that no longer leads to the add-in", () => {
  const live = JOBS["columns with our functions"];
  if (live === undefined) throw new Error("no such job");

  /** The columns with our functions, as they stand after the workbook was opened without the add-in. */
  async function lostDesk(before: string, keepsValues: boolean): Promise<Desk> {
    const desk = deskOf(DEMO);
    const plan = live?.(await desk.host.snapshot()) ?? planOf();
    knowAnswers(desk.model, plan);
    await desk.host.apply(plan);
    for (const { cells } of desk.model.sheets) {
      for (const cell of cells.values()) {
        if (cell.formula?.includes("SPARE.") !== true) continue;
        cell.lost = before;
        if (!keepsValues) cell.value = { error: "#NAME?" };
      }
    }
    return desk;
  }

  it.each([
    ["", false],
    ["[2]!", false],
    // Excel shows what was last worked out until somebody calculates: nothing moves any more.
    ["", true],
    ["[2]!", true],
  ])("is known as ours and repaired: %j, old values kept %j", async (before, keepsValues) => {
    const { host, model } = await lostDesk(before, keepsValues);
    const book = await host.snapshot();
    const reading = readWorkbook(book, REPORT_DATE, { reportDate: REPORT_DATE });
    expect(modeOf(book, reading)).toBe("live");
    expect(lostCalls(book).length).toBeGreaterThan(100);
    const receipt = await host.apply(repairPlan(book));
    const left = model.sheets.flatMap(({ cells }) => [...cells.values()]);
    expect(left.filter(({ lost }) => lost !== undefined)).toEqual([]);
    const after = await host.snapshot();
    expect(lostCalls(after)).toEqual([]);
    expect(after.sheets[0]?.formulas.size).toBe(book.sheets[0]?.formulas.size);
    await host.takeBack(receipt);
  });
});

describe("a shared workbook, in which somebody writes at the same moment", () => {
  it("keeps what was typed into a cell of the change, and nothing is changed", async () => {
    const desk = deskOf(NOTES);
    meanwhile(desk, (book) => {
      book.sheets[0]?.cells.set(cellKey(4, 0), {
        value: "theirs",
        formula: null,
        format: "General",
      });
    });
    const plan = planOf(fill("Notes", [4, 5], ["mine", "mine too"]), NEW_SHEET);
    expect(await faultOf(desk.host.apply(plan))).toBe(
      "Notes!A5 was changed by somebody else at the same moment; try again. What had been written has been undone.",
    );
    const [notes, ...more] = (await desk.host.snapshot()).sheets;
    expect(notes && [4, 5].map((row) => valueAt(notes, row, 0))).toEqual(["theirs", null]);
    expect(more).toEqual([]);
  });

  it("keeps what was typed in the moment a change is undone, and undoes the rest", async () => {
    const desk = deskOf(NOTES);
    const receipt = await desk.host.apply(
      planOf(fill("Notes", [1, 4, 5], ["mine", "mine too", "and mine"]), NEW_SHEET),
    );
    meanwhile(desk, (book) => {
      const sheet = book.sheets[0];
      sheet?.cells.set(cellKey(1, 0), { value: "theirs", formula: null, format: "General" });
      sheet?.cells.set(cellKey(5, 0), { value: 7, formula: "3+4", format: "General" });
      book.answers.set("Notes!81920=3+4", 7);
    });
    expect(await desk.host.takeBack(receipt)).toEqual(["Notes!A2", "Notes!A6"]);
    const [notes, ...more] = (await desk.host.snapshot()).sheets;
    expect(notes && [1, 4, 5].map((row) => valueAt(notes, row, 0))).toEqual(["theirs", null, 7]);
    expect(notes?.formulas.get(cellKey(5, 0))).toBe("3+4");
    expect(more).toEqual([]);
  });

  it("keeps what was typed into a column that goes in that moment", async () => {
    const desk = deskOf(NOTES);
    const cells = { column: 1, rows: [1, 2, 3], values: [1, 2, 3] };
    const column = { headerRow: 0, title: "New", like: 0, width: 9, expects: {} };
    const receipt = await desk.host.apply(
      planOf({ kind: "addColumn", sheet: "Notes", cells, ...column }),
    );
    let isDone = false;
    desk.executor.before = ({ Actions }) => {
      if (isDone || !Actions.some(({ Name }) => Name === "Clear")) return;
      isDone = true;
      const typed = { value: "theirs", formula: null, format: "General" };
      desk.model.sheets[0]?.cells.set(cellKey(2, 1), typed);
    };
    expect(await desk.host.takeBack(receipt)).toEqual(["Notes!B3"]);
    const [notes] = (await desk.host.snapshot()).sheets;
    const left = [0, 1, 2, 3].map((row) => notes && valueAt(notes, row, 1));
    expect(left).toEqual([null, null, "theirs", null]);
  });

  it("keeps a formula as one, also in a column that is new, and empties the rest of that column", async () => {
    const desk = deskOf(NOTES);
    meanwhile(desk, (book) => {
      const cell = { value: 7, formula: "3+4", format: "General" };
      book.sheets[0]?.cells.set(cellKey(2, 1), cell);
      book.answers.set("Notes!32769=3+4", 7);
    });
    const cells = { column: 1, rows: [1, 2, 3], values: [1, 2, 3] };
    const column = { headerRow: 0, title: "New", like: 0, width: 9, expects: {} };
    const plan = planOf({ kind: "addColumn", sheet: "Notes", cells, ...column });
    expect(await faultOf(desk.host.apply(plan))).toMatch(/^Notes!B3 was changed by somebody else/);
    const [notes] = (await desk.host.snapshot()).sheets;
    expect(notes?.formulas.get(cellKey(2, 1))).toBe("3+4");
    expect(notes && [0, 1, 2, 3].map((row) => valueAt(notes, row, 1))).toEqual([
      null,
      null,
      7,
      null,
    ]);
  });

  it("keeps a job somebody logs into the same row", async () => {
    const log = JOBS["a logged job"];
    const desk = deskOf(DEMO);
    const before = await desk.host.snapshot();
    const plan = log?.(before) ?? planOf();
    const logged = plan.edits.find((edit) => edit.kind === "fillCells" && edit.sheet === "Job log");
    const block = logged?.kind === "fillCells" ? logged.blocks[0] : undefined;
    const [row = 0] = block?.rows ?? [];
    meanwhile(desk, (book) => {
      const sheet = book.sheets.find(({ name }) => name === "Job log");
      const key = cellKey(row, block?.column ?? 0);
      sheet?.cells.set(key, { value: 46_000, formula: null, format: "yyyy-mm-dd" });
    });
    expect(await faultOf(desk.host.apply(plan))).toMatch(
      /^Job log!A\d+ was changed by somebody else/,
    );
    const found = differences(before, await desk.host.snapshot());
    // A row that is filled below a table becomes the table's.
    const cells = found.filter((text) => !/^Job log (?:tables|filter):/.test(text));
    expect(cells).toEqual([expect.stringMatching(/^Job log!A\d+: blank \/ number 46000/)]);
  });

  it("sees that rows were moved, and nothing is written beside the wrong device", async () => {
    const desk = deskOf(DEMO);
    const before = await desk.host.snapshot();
    const plan = columnsOn(before);
    meanwhile(desk, (book) => {
      const cells = book.sheets[0]?.cells;
      const [one, other] = [cellKey(5, 0), cellKey(6, 0)];
      const [upper, lower] = [cells?.get(one), cells?.get(other)];
      if (upper && lower) cells?.set(one, lower).set(other, upper);
    });
    const { host } = desk;
    expect(await faultOf(host.apply(plan))).toBe(
      "The rows of Equipment were changed by somebody else at the same moment; try again. What had been written has been undone.",
    );
    expect(differences(before, await host.snapshot()).map((text) => text.split(":")[0])).toEqual([
      "Equipment!A6",
      "Equipment!A7",
    ]);
  });
});

describe("#BUSY!, which our functions show while Excel waits for them", () => {
  it("is waited for", async () => {
    const live = excelTrial(DEMO, { busyFor: 300 });
    await live.apply(JOBS["columns with our functions"]?.(DEMO) ?? planOf());
    expect(JSON.stringify((await live.snapshot()).sheets[0]?.values)).not.toContain("#BUSY!");
  });

  it("that stays is read as it is, after a while", async () => {
    const live = excelTrial(DEMO, { busyFor: 1e9 });
    await live.apply(JOBS["columns with our functions"]?.(DEMO) ?? planOf());
    const began = performance.now();
    expect(JSON.stringify((await live.snapshot()).sheets[0]?.values)).toContain("#BUSY!");
    expect(performance.now() - began).toBeLessThan(8000);
  });
});

describe("a workbook that calculates only when asked", () => {
  it("is told, for what formulas show may be old", async () => {
    const { host, model } = deskOf(DEMO);
    const kinds = async () =>
      readWorkbook(await host.snapshot(), REPORT_DATE).problems.map(({ kind }) => kind);
    expect(await kinds()).not.toContain("manual calculation");
    model.temper.isManual = true;
    expect(await kinds()).toContain("manual calculation");
  });

  it("shows what the formulas of a change give, row by row", async () => {
    const { host, model } = deskOf(DEMO);
    model.temper.isManual = true;
    const plan = columnsOn(await host.snapshot());
    knowAnswers(model, plan);
    await host.apply(plan);
    expect(model.written.filter((text) => text.startsWith("copy")).length).toBeGreaterThan(0);
    const again = columnsOn(await host.snapshot());
    expect(again.edits).toEqual([]);
  });
});
