import { describe, expect, it } from "vitest";
import { ourColumns } from "../../../src/book/columns/columns.ts";
import { judge } from "../../../src/book/columns/judge.ts";
import { judgedAgain } from "../../../src/book/columns/judged-again.ts";
import { logEntry } from "../../../src/book/day/entry.ts";
import type { Entry } from "../../../src/book/day/entry-meant.ts";
import { todayOf } from "../../../src/book/day/today.ts";
import { placeBudgets } from "../../../src/book/budget/need.ts";
import { fiscalYear } from "../../../src/book/budget/fiscal.ts";
import { placesOf } from "../../../src/book/orders/place.ts";
import { evidencePeriod } from "../../../src/book/evidence/period.ts";
import { lotsFitted } from "../../../src/book/evidence/lots.ts";
import { replacedOnTime } from "../../../src/book/evidence/on-time.ts";
import { traceLot } from "../../../src/book/evidence/trace.ts";
import { servingFleet } from "../../../src/book/reading/dates/serving.ts";
import { jobIndex } from "../../../src/book/records/job-index.ts";
import { readBook } from "../../../src/book/reading/read.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { DEFAULT_PARTS } from "../../../src/book/records/parts.ts";
import type { Job, Reading } from "../../../src/book/records/records.ts";
import type { Snapshot } from "../../../src/book/workbook/snapshot.ts";
import { sheetNamed, valueAt } from "../../../src/book/workbook/snapshot.ts";
import { NO_WHAT_IF } from "../../../src/book/year/what-if.ts";
import { yearAhead } from "../../../src/book/year/year.ts";
import { type Day, day } from "../../../src/core/day.ts";
import { applyPlan, newWorkbook, openWorkbook } from "../../../src/xlsx/index.ts";
import { columnsPlan } from "../../../src/book/columns/columns-plan.ts";
import { sheetEdits } from "../../scenes/several-sheets.ts";
import { bookOf, jobOf, on, oursOf, REPORT_DATE, sheetOf, type Typed } from "../../scenes/scene.ts";

const PAIR = ["Left cushion replaced", "Right cushion replaced"];
const LATE_LEFT: readonly (readonly Typed[])[] = [
  [on("2025-05-04"), on("2026-06-01")],
  [on("2026-06-01"), on("2025-05-04")],
  [on("2026-06-01"), on("2026-06-02")],
];

function register(headings: readonly string[], rows: readonly (readonly Typed[])[], name = "Kit") {
  const lines = rows.map((row, at): Typed[] => [`${name}-${at + 1}`, on("2026-05-20"), ...row]);
  return sheetOf(name, [["Device", "Electrode set replaced", ...headings], ...lines]);
}

const BOOK = bookOf([register(PAIR, LATE_LEFT)]);
const read = (book: Snapshot, jobs: readonly Job[] = []): Reading =>
  readBook(book, oursOf({}, { jobs }));

/** State and due date of each followed kind of cushion, device by device. */
function cushions(book: Snapshot, reading: Reading): Record<string, string[]> {
  const { parts, rows } = judge(book, reading);
  const all = parts.filter(({ code }) => code === "CUSHION");
  return Object.fromEntries(
    all.map((part) => [part.name, rows(part).map(({ answers }) => answers.state)]),
  );
}

describe("a part with a column for each position", () => {
  it("has a state of each of its own", () => {
    const reading = read(BOOK);
    expect(cushions(BOOK, reading)).toEqual({
      "Ear cushion, left": ["Overdue", "Not due", "Not due"],
      "Ear cushion, right": ["Not due", "Overdue", "Not due"],
    });
    expect(todayOf(BOOK, reading).items.map(({ device, part }) => [device, part])).toEqual([
      ["Kit-1", "Ear cushion, left"],
      ["Kit-2", "Ear cushion, right"],
    ]);
    const [told] = reading.problems;
    expect(told?.kind).toBe("several positions");
    expect(told?.cause).toContain("each has an interval of its own");
  });

  it("is not calmed by one of its positions where the other's date is missing or no date", () => {
    const book = bookOf([
      register(PAIR, [
        [on("2026-06-01"), null],
        ["last spring", on("2026-06-01")],
      ]),
    ]);
    expect(cushions(book, read(book))).toEqual({
      "Ear cushion, left": ["Not due", "Check row"],
      "Ear cushion, right": ["Check row", "Not due"],
    });
  });

  it("has the other position without a date where one alone has a column", () => {
    const book = bookOf([
      register(
        ["Left cushion replaced"],
        LATE_LEFT.map(([left]) => [left ?? null]),
      ),
    ]);
    const reading = read(book);
    expect(cushions(book, reading)).toEqual({
      "Ear cushion, left": ["Overdue", "Not due", "Not due"],
      "Ear cushion, right": ["Check row", "Check row", "Check row"],
    });
    expect(reading.problems.map(({ kind, cause }) => [kind, cause])).toEqual([
      [
        "unclear column",
        '"Left cushion replaced" speaks of one position (left), and no column of right was found: when right was last replaced is not known, so there is no date for it.',
      ],
    ]);
  });

  it("counts a column of the whole part beside them by itself, so that none is lost", () => {
    const book = bookOf([
      register(
        ["Ear cushion replaced", ...PAIR],
        LATE_LEFT.map((row) => [on("2024-06-08"), ...row]),
      ),
    ]);
    expect(cushions(book, read(book))["Ear cushion"]).toEqual(["Overdue", "Overdue", "Overdue"]);
  });

  it("is followed as a whole on the sheets that have one column for it", () => {
    const other = register(
      ["Ear cushion replaced"],
      [[on("2026-06-01")], [on("2025-05-04")]],
      "North",
    );
    const book = bookOf([register(PAIR, LATE_LEFT), other]);
    expect(cushions(book, read(book))).toEqual({
      "Ear cushion": ["Not due", "Overdue"],
      "Ear cushion, left": ["Overdue", "Not due", "Not due"],
      "Ear cushion, right": ["Not due", "Overdue", "Not due"],
    });
    const judged = judge(book, read(book));
    const [whole] = judged.parts.filter(({ code }) => code === "CUSHION");
    expect(whole === undefined ? null : judged.rowAt(whole, 3)?.device.id).toBe("North-1");
    expect(whole === undefined ? null : judged.rowAt(whole, 0)).toBeNull();
  });
});

describe("the Job log of a part with positions", () => {
  const bare = bookOf([register(["Left cushion replaced"], [[on("2025-05-04")]])]);
  const state = (...jobs: Job[]): string | undefined =>
    cushions(bare, read(bare, jobs))["Ear cushion, right"]?.[0];
  const piece = (part: string, more: Partial<Job> = {}): Job =>
    jobOf("Kit-1", part, "2026-06-01", { complete: null, ...more });

  it.each(["CUSHION right", "Ear cushion, right", "Right cushion", "cushion R", "Cushion (right)"])(
    "knows a position by %s",
    (text) => {
      expect(state(piece(text))).toBe("Not due");
    },
  );

  it("counts a complete set for each, and nothing else for the other", () => {
    expect(state(piece("CUSHION", { complete: true }))).toBe("Not due");
    expect(state(piece("CUSHION"))).toBe("Check row");
    expect(state(piece("CUSHION", { complete: false }))).toBe("Check row");
    expect(state(piece("CUSHION left"))).toBe("Check row");
    expect(state(piece("CUSHION red"))).toBe("Check row");
    expect(state(piece("CUSHION right", { complete: false }))).toBe("Check row");
  });

  it("is told what a job that names no position counts for", () => {
    const told = (job: Job): string[] =>
      read(BOOK, [job]).problems.flatMap(({ kind, cause }) =>
        kind === "partial set" ? cause : [],
      );
    expect(told(jobOf("Kit-1", "CUSHION", "2026-06-01", { complete: null }))).toEqual([
      "The replacement of Ear cushion names no position and is not marked as a complete set, so it counts for none of them.",
    ]);
    expect(told(jobOf("Kit-1", "CUSHION red", "2026-06-01", { complete: null }))).toEqual([
      "The replacement names a position (red) of Ear cushion, and the register has dates of left and right, so it is not counted.",
    ]);
    const single = bookOf([register(["Ear cushion replaced"], [[on("2026-06-01")]])]);
    const reading = read(single, [jobOf("Kit-1", "Left cushion", "2026-06-20")]);
    expect(reading.problems.map(({ kind }) => kind)).toEqual(["partial set"]);
    expect(reading.devices[0]?.lastDone.find(({ part }) => part === "CUSHION")?.date).toBe(
      day("2026-06-01"),
    );
  });

  it("keeps what was found on one position from the other, and on none in particular with both", () => {
    const found = (part: string) =>
      cushions(
        BOOK,
        read(BOOK, [
          piece(part, {
            job: "inspected",
            finding: "crack",
            device: "Kit-3",
            date: day("2026-06-20"),
          }),
        ]),
      );
    const third = (part: string) => Object.values(found(part)).map((states) => states[2]);
    expect(third("CUSHION left")).toEqual(["Overdue", "Not due"]);
    expect(third("CUSHION")).toEqual(["Overdue", "Overdue"]);
  });

  it("contradicts the register position by position", () => {
    const kinds = (...jobs: Job[]) =>
      read(BOOK, jobs).problems.flatMap(({ kind, column }) =>
        kind === "several positions" || kind === "partial set" ? [] : [`${kind} ${column}`],
      );
    expect(kinds(jobOf("Kit-1", "CUSHION right", "2026-06-01"))).toEqual([]);
    expect(kinds(jobOf("Kit-1", "CUSHION left", "2026-06-01"))).toEqual(["date disagrees 2"]);
    expect(kinds(jobOf("Kit-1", "CUSHION right", "2026-05-01"))).toEqual(["date disagrees 3"]);
  });
});

describe("a job logged for a position", () => {
  const made = openWorkbook(newWorkbook({ summary: "a register", edits: sheetEdits(BOOK) }));
  const ready = openWorkbook(
    applyPlan(
      made,
      columnsPlan(made.snapshot, readWorkbook(made.snapshot, REPORT_DATE), {
        mode: "portable",
        today: REPORT_DATE,
        force: false,
      }),
    ),
  );
  const entry: Entry = {
    ...{ date: REPORT_DATE, device: "Kit-1", part: "CUSHION left", job: "replaced", finding: "" },
    ...{ complete: false, lot: "", by: "LS1", note: "" },
  };
  const logged = (more: Partial<Entry>) => {
    const reading = readWorkbook(ready.snapshot, REPORT_DATE);
    const done = logEntry(ready.snapshot, reading, { entry: { ...entry, ...more }, again: false });
    const after = openWorkbook(applyPlan(ready, { summary: "log", edits: done.edits })).snapshot;
    const sheet = sheetNamed(after, "Kit");
    const states = cushions(after, readWorkbook(after, REPORT_DATE));
    return {
      dates: [2, 3].map((column) => (sheet === null ? null : valueAt(sheet, 1, column))),
      states: Object.values(states).map(([first]) => first),
      notes: done.notes.join(" "),
    };
  };

  it("moves its date alone, a complete set all, and a replacement of neither none", () => {
    const [left, right] = [day("2025-05-04"), day("2026-06-01")];
    expect(logged({})).toMatchObject({
      dates: [REPORT_DATE, right],
      states: ["Not due", "Not due"],
    });
    expect(logged({ part: "CUSHION", complete: true }).dates).toEqual([REPORT_DATE, REPORT_DATE]);
    const neither = logged({ part: "CUSHION" });
    expect(neither.dates).toEqual([left, right]);
    expect(neither.notes).toContain("names no position: it is logged and counts for none of them");
  });

  it("says when each position is due after a complete set, and which interval began first before", () => {
    const done = logged({ part: "CUSHION", complete: true });
    expect(done.notes).toContain("Done before on 2025-05-04");
    const reading = readWorkbook(ready.snapshot, REPORT_DATE);
    const [device] = reading.devices;
    const part = reading.ours.parts.find(({ code }) => code === "CUSHION");
    if (device === undefined || part === undefined) throw new Error("no cushion");
    const units = judgedAgain(ready.snapshot, reading, { device, part });
    expect(units.map((unit) => [unit.part.name, unit.row.answers.state])).toEqual([
      ["Ear cushion, left", "Overdue"],
      ["Ear cushion, right", "Not due"],
    ]);
  });

  it("is refused with a position that the register does not have", () => {
    expect(() => logged({ part: "CUSHION red" })).toThrow(
      'the position of Ear cushion must be left, right; got "red"',
    );
  });

  it("has columns of its own for each position, and adds nothing a second time", () => {
    const reading = readWorkbook(ready.snapshot, REPORT_DATE);
    const again = columnsPlan(ready.snapshot, reading, {
      mode: "portable",
      today: REPORT_DATE,
      force: false,
    });
    expect(again.edits).toEqual([]);
    const titles = ourColumns(ready.snapshot, reading, "portable").flatMap(({ columns }) =>
      columns.flatMap(({ title }) => (title.startsWith("Ear cushion") ? title : [])),
    );
    expect(titles).toEqual([
      ...["interval (months)", "next due", "state", "row check"].map(
        (one) => `Ear cushion, left: ${one}`,
      ),
      ...["interval (months)", "next due", "state", "row check"].map(
        (one) => `Ear cushion, right: ${one}`,
      ),
    ]);
  });
});

describe("the evidence of a part with positions", () => {
  const other = register(["Ear cushion replaced"], [[on("2026-06-01")]], "North");
  const book = bookOf([register(PAIR, LATE_LEFT.slice(0, 1)), other]);
  const jobs = [
    jobOf("Kit-1", "CUSHION left", "2025-05-04", { complete: null, lot: "L1" }),
    jobOf("Kit-1", "CUSHION right", "2026-06-01", { complete: null, lot: "L2" }),
    jobOf("North-1", "CUSHION", "2026-06-01", { lot: "L3" }),
  ];
  const reading = read(book, jobs);

  it("has the lot of each, and of the whole where that is what is followed", () => {
    const { devices } = servingFleet(book, reading, []);
    const fitted = lotsFitted(book, reading, { devices, log: jobIndex(reading.ours) });
    const cushions = fitted.filter(({ part }) => part.code === "CUSHION");
    expect(cushions.map(({ device, part, lot }) => `${device} ${part.name} ${lot}`).sort()).toEqual(
      ["Kit-1 Ear cushion, left L1", "Kit-1 Ear cushion, right L2", "North-1 Ear cushion L3"],
    );
    const traced = traceLot(reading, "L2").filter(({ kind }) => kind === "fitted now");
    expect(traced.map(({ device, part, note }) => [device, part, note])).toEqual([
      ["Kit-1", "Ear cushion, right", ""],
    ]);
  });

  it("judges each by the replacement before", () => {
    const period = evidencePeriod(REPORT_DATE, day("2026-01-01"), null);
    const { devices } = servingFleet(book, reading, []);
    const { turns, leftOut } = replacedOnTime(book, reading, {
      devices,
      log: jobIndex(reading.ours),
      period,
    });
    const late = turns.filter(({ part }) => part.code === "CUSHION");
    expect(late.map(({ device, part, done }) => [device, part.name, done])).toEqual([
      ["Kit-1", "Ear cushion, left", null],
    ]);
    expect(leftOut.filter((text) => text.includes("limits"))).toEqual([]);
  });
});

describe("the need of a part with positions", () => {
  const yearOf = (book: Snapshot, perReplacement = 1) => {
    const parts = DEFAULT_PARTS.map((part) => ({
      ...part,
      supply: { ...part.supply, perReplacement, packPrice: 10 },
    }));
    const reading = readBook(book, oursOf({}, { parts }));
    return yearAhead(book, reading, { months: 12, level: 0.9, whatIf: NO_WHAT_IF });
  };
  const cushionYear = (year: ReturnType<typeof yearOf>) => {
    const found = year.parts.find(({ part }) => part.code === "CUSHION");
    if (found === undefined) throw new Error("no cushions");
    return found;
  };
  const due = (year: ReturnType<typeof yearOf>): Day[] =>
    placesOf(year, false)
      .filter(({ part }) => part.code === "CUSHION")
      .flatMap((place) => place.due);

  it("is two units a device, each due by its own date, and one item", () => {
    const year = yearOf(BOOK);
    const { units, total } = cushionYear(year);
    expect(units.map(({ device, name }) => `${device} ${name}`)).toEqual([
      ...[1, 2, 3].map((at) => `Kit-${at} Ear cushion, left`),
      ...[1, 2, 3].map((at) => `Kit-${at} Ear cushion, right`),
    ]);
    // By hand, a year of six months: four of June come due in December and June, two of last year now and then too.
    expect(total.expected).toBe(4 * 2 + 2 * 3);
    expect(due(year).filter((date) => date === REPORT_DATE)).toHaveLength(2);
    expect(placesOf(year, false).filter(({ part }) => part.code === "CUSHION")).toHaveLength(1);
  });

  it("shares what a complete set takes among its positions where that leaves whole units", () => {
    expect(due(yearOf(BOOK, 2))).toEqual(due(yearOf(BOOK, 1)));
    expect(due(yearOf(BOOK, 3))).toHaveLength(3 * due(yearOf(BOOK, 1)).length);
    const spare = (perReplacement: number) =>
      placesOf(yearOf(BOOK, perReplacement), false).find(({ part }) => part.code === "CUSHION")
        ?.minimumStock;
    expect([spare(1), spare(2)]).toEqual([1, 2]);
    const used = (perReplacement: number): number => {
      const year = yearOf(BOOK, perReplacement);
      const fiscal = fiscalYear(REPORT_DATE, 7, null);
      const [budget] = placeBudgets(year, fiscal, {
        pooled: false,
        ...{ stocks: placesOf(year, false), bought: [] },
      }).places.filter(({ part }) => part.code === "CUSHION");
      return budget?.units ?? 0;
    };
    expect(used(1)).toBeGreaterThan(0);
    expect([used(2), used(3)]).toEqual([used(1), 3 * used(1)]);
  });
});
