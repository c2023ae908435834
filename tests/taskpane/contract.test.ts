import { beforeAll, describe, expect, it } from "vitest";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import type { Expectation, Plan } from "../../src/book/workbook/plan.ts";
import type { Receipt } from "../../src/book/workbook/receipt.ts";
import {
  type CellValue,
  type Sheet,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../../src/book/workbook/snapshot.ts";
import { newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import { everyKind, JOBS } from "./contract-jobs.ts";
import {
  differences,
  excelTrial,
  fileTrial,
  HOSTS,
  paperTrial,
  type Trial,
  workbenchTrial,
} from "./contract.ts";
import { asWritten } from "../stand-in/rendering.ts";
import { HOSTILE } from "../stand-in/temper.ts";

const BOOKS = {
  clean: newWorkbook(demoBook(DEMO_SEED, false).plan),
  untidy: newWorkbook(demoBook(DEMO_SEED, true).plan),
};

/** Jobs that the untidy book makes different. */
const UNTIDY = ["every kind of edit", "columns with formulas", "a logged job", "the year ahead"];

const cases = (["clean", "untidy"] as const).flatMap((book) =>
  Object.entries(JOBS)
    .filter(([job]) => book === "clean" || UNTIDY.includes(job))
    .map(([job, plan]) => ({ book, job, plan })),
);

/** Where hosts may differ, and why; anything else is a fault. */
const ALLOWED: readonly { readonly host: string; readonly what: RegExp; readonly why: string }[] = [
  {
    host: "paper",
    what: / filter: \{.*"active":false\} \/ (?:null|.*"active":false\})$/,
    why: "a table brings filter buttons along; on paper there is nothing to click, and they hide no row",
  },
];

function unexplained(host: string, found: readonly string[]): string[] {
  return found.filter(
    (text) => !ALLOWED.some(({ host: one, what }) => one === host && what.test(text)),
  );
}

describe.each(cases)("$job on the $book book", ({ book, plan: planOf }) => {
  const start = openWorkbook(BOOKS[book]).snapshot;
  const plan = planOf(start);
  let wanted = start;

  beforeAll(async () => {
    const file = fileTrial(BOOKS[book]);
    await file.apply(plan);
    wanted = await file.snapshot();
  });

  describe.each(HOSTS)("on $name", ({ name, begin }) => {
    it("begins as it stands in the file, ends as there, and is taken back whole", async () => {
      const trial = await begin(BOOKS[book]);
      expect(differences(start, await trial.snapshot())).toEqual([]);
      const receipt = await trial.apply(plan);
      expect(unexplained(name, differences(wanted, await trial.snapshot()))).toEqual([]);
      // Where nothing can be taken back, there is the file as it was.
      if (receipt === null || trial.takeBack === undefined) return;
      await trial.takeBack(receipt);
      expect(differences(await trial.snapshot(), start)).toEqual([]);
    });
  });

  it("ends alike in an Excel whose tables do not grow of themselves", async () => {
    const trial = excelTrial(start);
    trial.model.tablesGrow = false;
    await trial.apply(plan);
    expect(differences(await trial.snapshot(), wanted)).toEqual([]);
  });
});

const START = openWorkbook(BOOKS.clean).snapshot;

function columnPlan(more: Partial<Expectation>, column = 30): Plan {
  return {
    summary: "one column",
    edits: [
      {
        kind: "addColumn",
        sheet: "Equipment",
        headerRow: 2,
        title: "Tried",
        cells: { column, rows: [3], values: [1] },
        like: 1,
        width: 9,
        expects: more,
      },
    ],
  };
}

const REFUSED: readonly {
  readonly why: string;
  readonly plan: Plan;
  readonly says: string;
}[] = [
  {
    why: "a changed heading",
    plan: columnPlan({ headers: [{ row: 2, column: 0, text: "Other" }] }),
    says: 'Nothing was changed: Equipment!A3 no longer reads "Other".',
  },
  {
    why: "changed rows",
    plan: columnPlan({ key: { column: 0, rows: [3], fingerprint: "00000000" } }),
    says: "Nothing was changed: the rows of Equipment have changed since they were read.",
  },
  {
    why: "a target that is not empty",
    plan: columnPlan({ empty: { firstRow: 3, lastRow: 4, firstColumn: 0, lastColumn: 0 } }),
    says: "Nothing was changed: Equipment!A4:A5 is not empty.",
  },
  {
    why: "a sheet name that is taken",
    plan: {
      summary: "a sheet",
      edits: [{ kind: "addSheet", sheet: "SETUP", cells: [], widths: [], freezeRows: 0 }],
    },
    says: "Nothing was changed: a sheet named SETUP is already there.",
  },
  {
    why: "a sheet that is gone",
    plan: {
      summary: "cells",
      edits: [{ kind: "fillCells", sheet: "Nowhere", blocks: [], expects: {} }],
    },
    says: "Nothing was changed: the sheet Nowhere is gone.",
  },
];

describe.each(HOSTS)("a plan that no longer fits on $name", ({ begin }) => {
  it.each(REFUSED)("is refused and changes nothing: $why", async ({ plan, says }) => {
    const trial = await begin(BOOKS.clean);
    expect(await refusalOf(trial, plan)).toBe(says);
    expect(differences(await trial.snapshot(), START)).toEqual([]);
  });

  it("is refused where a name is taken, and not where it refers to the same already", async () => {
    const trial = await begin(BOOKS.clean);
    // As the names of a part are: with names of others, and a small number.
    const refersTo = "IF(SpareReportDate>1E-9,Setup!$B$4,0)";
    const name = { kind: "addName", name: "SpareTried", refersTo } as const;
    await trial.apply({ summary: "a name", edits: [name] });
    await trial.apply({ summary: "the same name", edits: [name] });
    const other = { ...name, name: "sparetried", refersTo: "Setup!$A$2" };
    const said = await refusalOf(trial, { summary: "a name", edits: [other] });
    const [start, end] = ["Nothing was changed: the name sparetried already refers to ", "."];
    expect(said.slice(0, start.length)).toBe(start);
    expect(asWritten(said.slice(start.length, -end.length))).toBe(refersTo);
  });
});

describe("a plan that no longer fits", () => {
  it("is refused alike on a filtered sheet", async () => {
    const area = { firstRow: 2, firstColumn: 0, lastRow: 41, lastColumn: 5 };
    const filtered = withSheet("Equipment", { filter: { area, active: true } });
    const says =
      "Nothing was changed: Equipment is filtered: clear the filter first; nothing is written into a filtered block.";
    for (const trial of [paperTrial(filtered), excelTrial(filtered)]) {
      expect(await refusalOf(trial, columnPlan({ unfiltered: true }))).toBe(says);
      expect(differences(await trial.snapshot(), filtered)).toEqual([]);
    }
  });

  it("is refused where a table's own filter hides rows", async () => {
    const shelf = sheetNamed(START, "Shelf");
    const filtered = withSheet("Shelf", {
      filter: shelf?.filter ? { ...shelf.filter, active: true } : null,
    });
    const cells = { column: 0, rows: [3], values: ["SET"] };
    const expects = { unfiltered: true };
    const edit = { kind: "fillCells", sheet: "Shelf", blocks: [cells], expects } as const;
    const said = await refusalOf(excelTrial(filtered), { summary: "a cell", edits: [edit] });
    expect(said).toMatch(/^Nothing was changed: Shelf is filtered:/);
  });
});

function withSheet(name: string, change: Partial<Sheet>): Snapshot {
  const sheets = START.sheets.map((sheet) =>
    sheet.name === name ? { ...sheet, ...change } : sheet,
  );
  return { ...START, sheets };
}

async function refusalOf(trial: Trial, plan: Plan): Promise<string> {
  try {
    await trial.apply(plan);
    return "not refused";
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

describe.each([
  ["paper", () => paperTrial(START)],
  ["Excel", () => excelTrial(START)],
  ["a hostile Excel", () => excelTrial(START, HOSTILE)],
  ["the workbench", () => workbenchTrial(BOOKS.clean)],
] as const)("taking back on %s", (_, begun) => {
  it("is refused when a cell that was written was changed since", async () => {
    const trial: Trial = await begun();
    const receipt = await trial.apply(columnPlan({}));
    trial.type?.("Equipment", [3, 30], "seen");
    await expect(backOn(trial, receipt)).rejects.toThrow(
      "Equipment!AE4 has changed since; it cannot be undone.",
    );
    expect(cellOf(await trial.snapshot(), "Equipment", [3, 30])).toBe("seen");
  });

  it("is refused when somebody typed into a sheet the plan had added", async () => {
    const trial: Trial = await begun();
    const receipt = await trial.apply(everyKind(START));
    trial.type?.("Trial 1", [20, 1], "mine");
    await expect(backOn(trial, receipt)).rejects.toThrow(
      "Trial 1!B21 has changed since; it cannot be undone.",
    );
    expect(cellOf(await trial.snapshot(), "Trial 1", [20, 1])).toBe("mine");
  });

  it("leaves what others typed elsewhere", async () => {
    const trial: Trial = await begun();
    const receipt = await trial.apply(columnPlan({}));
    trial.type?.("Equipment", [3, 40], "mine");
    await backOn(trial, receipt);
    const after = await trial.snapshot();
    expect(cellOf(after, "Equipment", [3, 40])).toBe("mine");
    expect(cellOf(after, "Equipment", [3, 30])).toBe(null);
  });
});

async function backOn(trial: Trial, receipt: Receipt | null): Promise<void> {
  if (receipt === null || trial.takeBack === undefined) throw new Error("nothing to take back");
  await trial.takeBack(receipt);
}

function cellOf(book: Snapshot, name: string, [row, column]: readonly [number, number]): CellValue {
  const sheet = sheetNamed(book, name);
  return sheet === null ? null : valueAt(sheet, row, column);
}

describe.each([
  ["Excel", {}],
  ["a hostile Excel", HOSTILE],
] as const)("a job done twice in %s", (_, temper) => {
  it.each(["columns with formulas", "columns with our functions", "the year ahead"])(
    "changes nothing more: %s",
    async (job) => {
      const trial = excelTrial(START, temper);
      const planAt = (book: Snapshot): Plan => JOBS[job]?.(book) ?? { summary: "", edits: [] };
      const first = planAt(await trial.shown());
      expect(first.edits.length).toBeGreaterThan(5);
      await trial.apply(first);
      expect(planAt(await trial.shown())).toEqual({ summary: "nothing to change", edits: [] });
    },
  );
});
