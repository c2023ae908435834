import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { columnsPlan } from "../../../src/book/columns/columns-plan.ts";
import type { Mode } from "../../../src/book/columns/our-column.ts";
import { answersOf, type RowFacts } from "../../../src/book/answers/answers.ts";
import { REPORT_DATE } from "../../../src/book/demo/programme.ts";
import { DEMO_SEED, demoBook } from "../../../src/book/demo/workbook.ts";
import { fingerprint, refusals } from "../../../src/book/workbook/expect.ts";
import { DEFAULT_PARTS } from "../../../src/book/records/parts.ts";
import type { Part, Reading } from "../../../src/book/records/records.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import {
  cellKey,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../../../src/book/workbook/snapshot.ts";
import { todayOf } from "../../../src/book/day/today.ts";
import { addMonths, day, type Day } from "../../../src/core/day.ts";
import { workCalendar } from "../../../src/core/workday.ts";
import { programme } from "../../scenes/kept-scene.ts";
import { emptyPaper, onPaper, paperSheet } from "../../taskpane/paper.ts";
import { defaultSettings } from "../../../src/book/records/settings.ts";

const common = { settings: defaultSettings(day("2026-07-06")), calendar: workCalendar(1, []) };
const [SET] = DEFAULT_PARTS as readonly [Part, ...Part[]];
const CURVED: Part = { ...SET, lightUse: 20, heavyUse: 60 };
const FACTS: RowFacts = {
  lastDone: day("2026-05-04"),
  uses: 30,
  countedTo: day("2026-06-30"),
  finding: null,
  retired: false,
  doubt: null,
  wipes: "",
};

function readAt(snapshot: Snapshot, reportDate: Day): Reading {
  return readWorkbook(snapshot, reportDate, { reportDate });
}

function planAt(snapshot: Snapshot, reportDate = REPORT_DATE, mode: Mode = "portable") {
  const request = { mode, today: reportDate, force: false };
  return columnsPlan(snapshot, readAt(snapshot, reportDate), request);
}

const demo = onPaper(emptyPaper(), demoBook(DEMO_SEED, false).plan);

describe("the computed columns of a row", () => {
  it("follow the ramp at sound usage", () => {
    expect(answersOf(CURVED, FACTS, common)).toEqual({
      interval: 5,
      due: day("2026-10-02"),
      state: "Not due",
      check: "OK",
    });
  });

  const doubts: readonly (readonly [string, Partial<RowFacts>, string])[] = [
    ["missing usage", { uses: null }, "Usage missing"],
    ["text usage", { uses: "30" }, "Usage is text"],
    ["usage below zero", { uses: -1 }, "Usage below zero"],
    ["counts that ended long ago", { countedTo: day("2026-05-05") }, "Usage late"],
    ["counts without a date", { countedTo: null }, "Usage late"],
  ];
  it.each(doubts)("take the short end at %s, and still give the date", (_, change, check) => {
    const answers = answersOf(CURVED, { ...FACTS, ...change }, common);
    expect(answers).toEqual({ interval: 3, due: day("2026-08-04"), state: "Not due", check });
  });

  it("take the short end without a usage curve, and call nothing wrong", () => {
    expect(answersOf(SET, { ...FACTS, uses: null }, common)).toMatchObject({
      interval: 3,
      check: "OK",
    });
  });

  it("take the short end for vinyl unless the site's wipes are known to be alcohol-free", () => {
    const vinyl = { ...CURVED, vinyl: true };
    expect(answersOf(vinyl, FACTS, common).interval).toBe(3);
    expect(answersOf(vinyl, { ...FACTS, wipes: "alcohol" }, common).interval).toBe(3);
    expect(answersOf(vinyl, { ...FACTS, wipes: "alcohol-free" }, common).interval).toBe(5);
  });

  const dateFaults: readonly (readonly [string, Partial<RowFacts>, string])[] = [
    ["no date", { lastDone: null }, "No date"],
    ["a text date", { lastDone: "4.5.2026" }, "Date is text"],
    ["a date after the report date", { lastDone: day("2026-07-07") }, "Date out of range"],
    ["TRUE for a date", { lastDone: true }, "Date is text"],
    ["a date that contradicts the log", { doubt: "day and month swapped" }, "Date in doubt"],
  ];
  it.each(dateFaults)(
    "leave the due date empty at %s and ask to check the row",
    (_, change, check) => {
      const answers = answersOf(CURVED, { ...FACTS, ...change }, common);
      expect(answers).toMatchObject({ due: null, state: "Check row", check });
    },
  );

  it("call a part with a finding that ends its life overdue, whatever the date", () => {
    expect(answersOf(CURVED, { ...FACTS, finding: "crack" }, common).state).toBe("Overdue");
    expect(answersOf(CURVED, { ...FACTS, finding: "crack", lastDone: null }, common).state).toBe(
      "Overdue",
    );
    expect(answersOf(CURVED, { ...FACTS, finding: "clean" }, common).state).toBe("Not due");
  });

  it("ask to check the row at crossed limits", () => {
    const crossed = { ...CURVED, shortest: 7 };
    expect(answersOf(crossed, FACTS, common)).toEqual({
      interval: "",
      due: null,
      state: "Check row",
      check: "Limits missing or crossed",
    });
  });

  it("never give a later date for more use, later counts, or any doubt", () => {
    const uses = fc.double({ min: 0, max: 200, noNaN: true });
    fc.assert(
      fc.property(uses, uses, fc.integer({ min: 0, max: 60 }), (one, other, back) => {
        const [less, more] = one < other ? [one, other] : [other, one];
        const lastDone = (day("2026-07-06") - back) as Day;
        const at = (change: Partial<RowFacts>): number =>
          answersOf(CURVED, { ...FACTS, lastDone, ...change }, common).due ?? 0;
        expect(at({ uses: more })).toBeLessThanOrEqual(at({ uses: less }));
        for (const doubt of [{ uses: null }, { uses: "x" }, { countedTo: null }]) {
          expect(at(doubt)).toBeLessThanOrEqual(at({ uses: less }));
        }
        expect(at({ uses: less })).toBeLessThanOrEqual(addMonths(lastDone, 6));
      }),
    );
  });
});

describe("the columns plan", () => {
  it("adds to the right of everything and touches nothing else of the register", () => {
    const after = onPaper(demo, planAt(demo));
    const [before, now] = [demo, after].map((book) =>
      book.sheets.find(({ name }) => name === "Equipment"),
    );
    expect(now?.values.map((row, at) => row.slice(0, before?.values[at]?.length ?? 0))).toEqual(
      before?.values,
    );
    expect(valueAt(now ?? paperSheet("", []), 2, 12)).toBe("Uses a month");
  });

  it.each(["portable", "live", "values"] as const)(
    "changes nothing more when run again as %s",
    (mode) => {
      const once = onPaper(demo, planAt(demo, REPORT_DATE, mode));
      expect(planAt(once, REPORT_DATE, mode)).toEqual({ summary: "nothing to change", edits: [] });
    },
  );

  it("remembers in one run the date columns it adds itself", () => {
    const values = [
      ["Device", "Site", "Calibrated"],
      ["VR-101", "S01", day("2026-03-04")],
    ];
    const book = { ...emptyPaper(), sheets: [paperSheet("Kit", values)] };
    const once = onPaper(book, planAt(book));
    expect(planAt(once)).toEqual({ summary: "nothing to change", edits: [] });
    const setup = once.sheets.find(({ name }) => name === "Setup");
    expect(setup?.values.map(([label, value]) => [label, value])).toContainEqual([
      "Column last:SET",
      "Electrode set: last replaced",
    ]);
  });

  it("stands right of a formula that nobody has calculated yet", () => {
    const values = [
      ["Device", "Site"],
      ["VR-101", "S01"],
    ];
    const formulas = new Map([[cellKey(1, 4), "B2"]]);
    const book = { ...emptyPaper(), sheets: [{ ...paperSheet("Kit", values), formulas }] };
    const added = planAt(book).edits.flatMap((edit) =>
      edit.kind === "addColumn" ? [edit.cells.column] : [],
    );
    expect(Math.min(...added)).toBe(5);
  });

  it("brings only cells of ours up to date on a later report date", () => {
    const once = onPaper(demo, planAt(demo));
    const later = planAt(once, day("2026-09-07"));
    expect(new Set(later.edits.map(({ kind }) => kind))).toEqual(new Set(["fillCells"]));
    const columns = later.edits.flatMap((edit) =>
      edit.kind === "fillCells" && edit.sheet === "Equipment"
        ? edit.blocks.map(({ column }) => column)
        : [],
    );
    expect(Math.min(...columns)).toBeGreaterThanOrEqual(12);
  });

  describe("on a Setup with blanks", () => {
    const setup = sheetNamed(demo, "Setup");
    const read = ["Notice days", "Weekend", "Counts late after (months)"];
    const unread = ["Text dates read", "Counts are", "Sessions per baby", "Service level"];
    const labels = [...read, ...unread];
    const rows = labels.map((label) => setup?.values.findIndex(([cell]) => cell === label) ?? -1);
    const blanks = { column: 1, rows, values: rows.map(() => null) };
    const emptied = onPaper(demo, {
      summary: "blanks",
      edits: [{ kind: "fillCells", sheet: "Setup", blocks: [blanks], expects: {} }],
    });
    const unlabelled = [0, 2].map((column) => ({ ...blanks, column }));
    const cellsOf = (book: Snapshot) =>
      rows.map((row) => sheetNamed(book, "Setup")?.values[row]?.[1] ?? null);
    const { noticeDays, weekend, lateMonths } = defaultSettings(REPORT_DATE);
    const filled = [noticeDays, weekend, lateMonths, null, null, null, null];

    it("writes down what a blank stands for where a formula would read it as 0", () => {
      expect(cellsOf(onPaper(emptied, planAt(emptied)))).toEqual(filled);
    });
    it("keeps nothing that was said for one run only", () => {
      const said = { reportDate: REPORT_DATE, dayOrder: "dmy" } as const;
      const request = { mode: "portable", today: REPORT_DATE, force: false } as const;
      const older = onPaper(emptied, {
        summary: "a Setup that has lost these settings",
        edits: [{ kind: "fillCells", sheet: "Setup", blocks: unlabelled, expects: {} }],
      });
      const { summary, edits } = demoBook(DEMO_SEED, false).plan;
      const bare = onPaper(emptyPaper(), { summary, edits: edits.slice(0, 2) });
      for (const book of [emptied, older, bare]) {
        const reading = readWorkbook(book, REPORT_DATE, said);
        expect(reading.ours.settings.dayOrder).toBe("dmy");
        const after = onPaper(book, columnsPlan(book, reading, request));
        const { settings } = readWorkbook(after, REPORT_DATE).ours;
        expect([settings.dayOrder, settings.countsAre]).toEqual([
          null,
          // What was lost stays careful.
          book === older ? "babies" : null,
        ]);
      }
    });
    it("leaves a formula alone that nobody has calculated yet", () => {
      const formula = { text: "7+7", live: false };
      const block = { column: 1, rows: rows.slice(0, 1), values: [null], formula };
      const typed = onPaper(emptied, {
        summary: "a formula",
        edits: [{ kind: "fillCells", sheet: "Setup", blocks: [block], expects: {} }],
      });
      const after = onPaper(typed, planAt(typed));
      expect(cellsOf(after)).toEqual([null, ...filled.slice(1)]);
      expect(sheetNamed(after, "Setup")?.formulas.get(cellKey(rows[0] ?? -1, 1))).toBe("7+7");
    });
  });

  it("keeps a constant typed over a formula unless told otherwise", () => {
    const once = onPaper(demo, planAt(demo));
    const typed = onPaper(once, {
      summary: "a date typed over",
      edits: [
        {
          kind: "fillCells",
          sheet: "Equipment",
          blocks: [{ column: 15, rows: [5], values: [REPORT_DATE + 900] }],
          expects: {},
        },
      ],
    });
    expect(planAt(typed).edits).toEqual([]);
    expect(readAt(typed, REPORT_DATE).problems.map(({ kind }) => kind)).toContain(
      "overwritten formula",
    );
    const request = { mode: "portable", today: REPORT_DATE, force: true } as const;
    const forced = columnsPlan(typed, readAt(typed, REPORT_DATE), request);
    expect(forced.edits.length).toBeGreaterThan(0);
  });

  it("is refused as a whole when the book has changed meanwhile", () => {
    const plan = planAt(demo);
    const changed = onPaper(demo, {
      summary: "another device number",
      edits: [
        {
          kind: "fillCells",
          sheet: "Equipment",
          blocks: [{ column: 0, rows: [5], values: ["VR-1"] }],
          expects: {},
        },
      ],
    });
    expect(refusals(demo, plan)).toEqual([]);
    expect(refusals(changed, plan)).toEqual([
      "the rows of Equipment have changed since they were read",
    ]);
    expect(refusals(onPaper(demo, plan), plan).length).toBeGreaterThan(10);
  });

  it("has a fingerprint that tells texts from numbers and orders apart", () => {
    const prints = [[1, 2], [2, 1], ["1", 2], [12], [null, 1, 2], [{ error: "#N/A" }]].map(
      (values) => fingerprint(values),
    );
    expect(new Set(prints).size).toBe(prints.length);
  });
});

/** A1 is long overdue, A2 is not due but for what was found. */
function bookWith(finding: string): [Snapshot, Reading] {
  const made = programme([
    { id: "A1", set: "2025-06-01", cushion: "2026-06-01" },
    { id: "A2", set: "2026-06-01", cushion: "2026-06-01", finding },
  ]);
  return [made.snapshot, made.reading];
}

describe("today", () => {
  it("counts every part of every device once, worst first", () => {
    const reading = readAt(demo, REPORT_DATE);
    const today = todayOf(demo, reading);
    const { overdue, toCheck, dueSoon, notDue, retired } = today;
    expect(overdue + toCheck + dueSoon + notDue).toBe((35 - retired) * 3);
    expect(retired).toBe(1);
    const order = today.items.map(({ state }) =>
      ["Overdue", "Check row", "Due soon"].indexOf(state),
    );
    expect(order).toEqual([...order].sort());
    const late = today.items
      .filter(({ state }) => state === "Overdue")
      .map(({ daysLate }) => daysLate ?? 0);
    expect(late).toEqual([...late].sort((a, b) => b - a));
  });

  it("puts what a finding has ended above what is late, however far ahead its date lies", () => {
    const items = todayOf(...bookWith("residue")).items.map(({ device, outOfUse, why }) => [
      device,
      outOfUse,
      why,
    ]);
    expect(items).toEqual([
      ["A2", true, "out of use: residue"],
      ["A1", false, ""],
    ]);
    expect(todayOf(...bookWith("clean")).items.map(({ device }) => device)).toEqual(["A1"]);
  });

  it("has everything overdue three years later, and nothing hidden", () => {
    const later = day("2029-07-06");
    expect(todayOf(demo, readAt(demo, later))).toMatchObject({
      overdue: 34 * 3,
      notDue: 0,
      dueSoon: 0,
    });
  });
});
