import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { todayOf } from "../../../src/book/day/today.ts";
import { type Day, day, isoText } from "../../../src/core/day.ts";
import { applyPlan, openWorkbook } from "../../../src/xlsx/index.ts";
import { sheetAt, sparespan } from "../../cli/session.ts";
import { DEVICES, DIARY, type TypedRow, typedBook } from "../../scenes/own-log-book.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-own-log-"));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

type Sheets = Readonly<Record<string, readonly TypedRow[]>>;
const TODAY = day("2026-06-30");
const DAY = ["--report-date", "2026-06-30"];
const CONFIRMED = new Map([["own log", "Diary"]]);

let made = 0;
function bookAt(sheets: Sheets): string {
  const path = join(folder, `book ${(made += 1)}.xlsx`);
  writeFileSync(path, typedBook(sheets));
  return path;
}

/** A book as it is read, with what was said of its log. */
function read(sheets: Sheets, matches: ReadonlyMap<string, string> = CONFIRMED) {
  const { snapshot } = openWorkbook(typedBook(sheets));
  const reading = readWorkbook(snapshot, TODAY, { matches });
  const last = (device: string, part: string): string | null => {
    const found = reading.devices.find(({ id }) => id === device);
    const date = found?.lastDone.find((done) => done.part === part)?.date ?? null;
    return date === null ? null : isoText(date);
  };
  const kinds = reading.problems.map(({ kind }) => kind);
  const states = Object.fromEntries(
    todayOf(snapshot, reading).items.map((item) => [`${item.device} ${item.part}`, item.state]),
  );
  return { reading, last, kinds, states };
}

const diary = (...lines: readonly TypedRow[]): readonly TypedRow[] => [
  ["When", "Unit", "What was done", "Who"],
  ["2026-01-05", "HS-4", "new electrodes", "ab"],
  ["2026-01-05", "HS-3", "new electrodes", "ab"],
  ...lines,
];
const register = (heading: string, ...dates: readonly (string | null)[]): readonly TypedRow[] => [
  ["Device", "Site", heading],
  ...dates.map((date, at): TypedRow => [`HS-${at + 1}`, "North", date]),
];

describe("a log of their own beside a list of devices without a date", () => {
  it("is named with what was understood, and nothing in it calms until it is confirmed", () => {
    const { reading, last, states } = read({ Kit: DEVICES, Diary: DIARY }, new Map());
    const told = reading.problems.filter(({ kind }) => kind === "own log");
    expect(told.map(({ sheet, severity }) => [sheet, severity])).toEqual([["Diary", "notice"]]);
    expect(told[0]?.cause).toBe(
      'Read as your own log: dates in "When", devices in "Unit", work in "What was done"; 9 lines. 6 would count, 3 need your decision. Nothing in it counts as a replacement until you confirm it.',
    );
    expect(told[0]?.fix).toContain("--confirm");
    expect(last("HS-1", "SET")).toBeNull();
    expect(Object.values(states)).toEqual(Array(8).fill("Check row"));
  });

  it.each(["Job log", "JOB LOG", "Parts", "Shelf", "Read me"])(
    "is read also where it is called %s, as a sheet of ours is",
    (name) => {
      const { last, reading } = read({ Kit: DEVICES, [name]: DIARY }, new Map([["own log", name]]));
      expect(last("HS-1", "SET")).toBe("2026-03-02");
      expect(reading.ownLogs.map(({ sheet }) => sheet)).toEqual([name]);
    },
  );

  it("gives the dates, once confirmed; what nobody can read is listed with its count", () => {
    const { reading, last } = read({ Kit: DEVICES, Diary: DIARY });
    expect(["HS-1", "HS-2", "HS-3", "HS-4"].map((id) => last(id, "SET"))).toEqual([
      "2026-03-02",
      "2026-03-09",
      "2026-04-01",
      null,
    ]);
    expect(last("HS-1", "CUSHION")).toBe("2026-03-02");
    const words = reading.problems.filter(({ kind }) => kind === "log words");
    expect(words.map(({ cause }) => cause)).toEqual([
      '"new tips" (2 lines) may be work on a part or not: it is not counted.',
      '"replaced earpiece L" (1 line) may be work on a part or not: it is not counted.',
    ]);
  });

  it("takes a person's word for a wording", () => {
    const said = new Map([...CONFIRMED, ["log word new tips", "SET replaced"]]);
    const { last } = read({ Kit: DEVICES, Diary: DIARY }, said);
    expect(last("HS-1", "SET")).toBe("2026-05-04");
    const not = new Map([...CONFIRMED, ["log word new electrodes", "nothing"]]);
    expect(read({ Kit: DEVICES, Diary: DIARY }, not).last("HS-1", "SET")).toBeNull();
  });

  it("tells a meaning that Setup cannot mean, and goes on without it", () => {
    const said = new Map([...CONFIRMED, ["log word new tips", "TIPS new"]]);
    const { reading, last } = read({ Kit: DEVICES, Diary: DIARY }, said);
    expect(last("HS-1", "SET")).toBe("2026-03-02");
    expect(
      reading.problems.some(({ cause }) => cause.includes('"TIPS new" is not a meaning')),
    ).toBe(true);
  });

  it("is no log where that was said, and is missed where it is gone", () => {
    const none = read({ Kit: DEVICES, Diary: DIARY }, new Map([["own log", "none"]]));
    expect(none.reading.ownLogs).toEqual([]);
    const gone = read({ Kit: DEVICES, Diary: DIARY }, new Map([["own log", "Dairy"]]));
    expect(gone.kinds).toContain("own log not found");
    expect(gone.last("HS-1", "SET")).toBeNull();
  });

  it("is read in columns of parts and jobs, without headings, and in German", () => {
    const columns = [
      ["Datum", "Gerät", "Teil", "Tätigkeit", "Bemerkung"],
      ["2026-03-02", "HS-1", "Elektroden", "gewechselt", ""],
      ["2026-03-03", "HS-2", "Elektroden", "gewechselt", "nur links"],
      ["2026-03-04", "HS-3", "Ohrpolster", "erneuert", "siehe Ordner"],
    ] as const;
    const { last } = read({ Kit: DEVICES, Diary: columns });
    expect(last("HS-1", "SET")).toBe("2026-03-02");
    expect(last("HS-2", "SET")).toBeNull();
    expect(last("HS-3", "CUSHION")).toBe("2026-03-04");
    const bare = read({ Kit: DEVICES, Diary: DIARY.slice(1) });
    expect(bare.last("HS-1", "SET")).toBe("2026-03-02");
  });

  it("does not take plans, orders or a second list of devices for a log of work", () => {
    const plan = DIARY.map(([when, ...more], at) => [
      at === 0 ? "Next due" : (when ?? null),
      ...more,
    ]);
    const bought = DIARY.map(([when, ...more], at) => [
      at === 0 ? "Purchased" : (when ?? null),
      ...more,
    ]);
    const loans = DIARY.map(([when, unit], at) => [
      when ?? null,
      unit ?? null,
      at === 0 ? "Lent to" : "Ward 3",
    ]);
    for (const sheet of [plan, bought, loans]) {
      expect(read({ Kit: DEVICES, List: sheet }, new Map()).reading.ownLogs).toEqual([]);
    }
  });
});

describe("doubt in a log of their own", () => {
  it("a finding ends a part's life, confirmed or not, until the part is replaced after it", () => {
    const lines = diary(
      ["2026-05-04", "HS-1", "cushion cracked", "ab"],
      ["2026-05-01", "HS-2", "cushion cracked", "ab"],
      ["2026-05-08", "HS-2", "cushion changed", "ab"],
    );
    const open = read({ Kit: DEVICES, Diary: lines }, new Map());
    expect(open.states["HS-1 Ear cushion"]).toBe("Overdue");
    expect(open.states["HS-2 Ear cushion"]).toBe("Overdue");
    const confirmed = read({ Kit: DEVICES, Diary: lines });
    expect(confirmed.states["HS-1 Ear cushion"]).toBe("Overdue");
    expect(confirmed.states["HS-2 Ear cushion"]).toBeUndefined();
  });

  it("a finding nobody knows is damage, as on the Job log", () => {
    const lines = [
      ["Date", "Device", "Part", "Finding"],
      ["2026-05-04", "HS-1", "cushion", "clean"],
      ["2026-05-04", "HS-2", "cushion", "wobbly"],
    ] as const;
    const { states } = read({ Kit: DEVICES, Diary: lines });
    expect(states["HS-1 Ear cushion"]).toBe("Check row");
    expect(states["HS-2 Ear cushion"]).toBe("Overdue");
  });

  it("lines of unknown devices, without a day, in text or to come are told and do not count", () => {
    const { last, kinds } = read({
      Kit: DEVICES,
      Diary: diary(
        ["2026-05-04", "HS-9", "new electrodes", "ab"],
        [null, "HS-1", "new electrodes", "ab"],
        ["soon", "HS-1", "new electrodes", "ab"],
        ["2026-12-24", "HS-1", "new electrodes", "ab"],
      ),
    });
    expect(last("HS-1", "SET")).toBeNull();
    for (const kind of ["unknown device", "no date", "text date", "future date"]) {
      expect(kinds).toContain(kind);
    }
  });

  it("of two days in a line the one that shortens counts", () => {
    const lines = [
      ["Reported", "Done on", "Unit", "Work"],
      ["2026-04-01", "2026-04-09", "HS-1", "new electrodes"],
      ["2026-04-01", "2026-04-09", "HS-2", "new electrodes"],
    ] as const;
    expect(read({ Kit: DEVICES, Diary: lines }).last("HS-1", "SET")).toBe("2026-04-01");
  });
});

describe("beside the register's own dates", () => {
  const SET = "Electrodes changed";
  const counted = (date: string | null, logged: string) =>
    read({
      Kit: register(SET, date, "2026-01-05"),
      Diary: [...diary(), [logged, "HS-1", "new electrodes", "ab"]],
    });
  it.each([
    ["blank: the log's", null, "2026-03-02", "2026-03-02"],
    ["the log's is later: it counts", "2026-01-10", "2026-03-02", "2026-03-02"],
    ["the register's is later: it counts", "2026-05-20", "2026-03-02", "2026-05-20"],
    ["less than a month later: the earlier", "2026-03-04", "2026-03-02", "2026-03-02"],
    ["less than a month earlier: the earlier", "2026-02-20", "2026-03-02", "2026-02-20"],
  ])("%s", (_, date, logged, wanted) => {
    expect(counted(date, logged).last("HS-1", "SET")).toBe(wanted);
  });
  it("tells two days that may be one replacement, and no blank that the log fills", () => {
    expect(counted("2026-03-04", "2026-03-02").kinds).toContain("two dates");
    expect(counted("2026-05-20", "2026-03-02").kinds).not.toContain("two dates");
    expect(counted(null, "2026-03-02").kinds).not.toContain("no date");
  });
  it("a date on which the log has part of a set only is in doubt", () => {
    const { kinds, states } = read({
      Kit: register("Ear cushion replaced", "2026-05-20", "2026-01-05"),
      Diary: diary(
        ["2026-05-20", "HS-1", "left cushion changed", "ab"],
        ["2026-03-02", "HS-1", "cushion changed", "ab"],
      ),
    });
    expect(kinds).toContain("date of a partial set");
    expect(states["HS-1 Ear cushion"]).toBe("Check row");
  });
  it("day and month exchanged are told", () => {
    expect(counted("2026-05-03", "2026-03-05").kinds).toContain("day and month swapped");
  });
});

describe("the command and the columns", () => {
  it("confirms once, remembers words, and keeps the dates fresh as the log grows", async () => {
    const path = bookAt({ Kit: DEVICES, Diary: DIARY });
    const said = ["--confirm", "--word", "New tips=SET replaced", "--in-place", ...DAY];
    const { out } = await sparespan("own-log", path, ...said);
    expect(out).toContain("Diary (confirmed)");
    const setup = sheetAt(path, "Setup").values.map(([label, value]) => [label, value]);
    expect(setup).toContainEqual(["Own log", "Diary"]);
    expect(setup).toContainEqual(["Log word new tips", "SET replaced"]);
    await sparespan("columns", path, "--in-place", ...DAY);
    const dates = (): unknown[] => {
      const kit = sheetAt(path, "Kit");
      const column = kit.values[0]?.indexOf("Electrode set: last replaced") ?? -1;
      return kit.values.slice(1).map((row) => row[column]);
    };
    expect(dates()).toEqual([day("2026-05-04"), day("2026-05-11"), day("2026-04-01"), null]);
    grown(path, "2026-05-20", "HS-1", "new electrodes");
    const again = await sparespan("columns", path, "--in-place", ...DAY);
    expect(again.out).toContain("of ours updated");
    expect(dates()[0]).toBe(day("2026-05-20"));
    const third = await sparespan("columns", path, "--in-place", ...DAY);
    expect(third.out).toContain("nothing to change");
  });

  it("writes what an interval is counted from as a bare value where values are wanted", async () => {
    const before = ["2026-01-10", "2026-01-05", "2025-12-01", "2025-12-01"];
    const path = bookAt({
      Kit: register("Electrodes changed", ...before),
      Diary: diary(["2026-03-02", "HS-1", "new electrodes", "ab"]),
    });
    await sparespan("own-log", path, "--confirm", "--in-place", ...DAY);
    await sparespan("columns", path, "--as", "values", "--in-place", ...DAY);
    const kit = sheetAt(path, "Kit");
    const column = kit.values[0]?.indexOf("Electrode set: counted from") ?? -1;
    expect(kit.values[1]?.[column]).toBe(day("2026-03-02"));
    expect(kit.formulas.size).toBe(0);
  });

  it("fits the log into today, order, budget and evidence without a date column", async () => {
    const path = bookAt({ Kit: DEVICES, Diary: DIARY });
    await sparespan(
      "own-log",
      path,
      "--confirm",
      "--word",
      "new tips=SET replaced",
      "--in-place",
      ...DAY,
    );
    const today = (await sparespan("today", path, ...DAY)).out;
    expect(today).toMatch(/Due soon {3}HS-3 {4}South {2}Electrode set {2}2026-07-01/);
    const order = (await sparespan("order", path, ...DAY)).out;
    expect(order).toContain("Electrode set, South: nothing counted on the shelf, 0 ordered, 1 due");
    const budget = (await sparespan("budget", path, ...DAY)).out;
    expect(budget).toContain("the Job log begins on 2026-03-02");
    const evidence = (await sparespan("evidence", path, ...DAY)).out;
    expect(evidence).toMatch(/Replaced on time {2}All {4}2 {4}2 {5}0/);
  });

  it("refuses what cannot be a meaning, and asks which of several sheets it is", async () => {
    const path = bookAt({ Kit: DEVICES, Diary: DIARY, Old: DIARY });
    const bad = await sparespan("own-log", path, "--word", "new tips=tips", "--in-place");
    expect([bad.code, bad.err]).toEqual([2, expect.stringContaining('got "tips"')]);
    const which = await sparespan("own-log", path, "--confirm", "--in-place");
    expect([which.code, which.err]).toEqual([2, expect.stringContaining("Diary, Old")]);
    const one = await sparespan("own-log", path, "--confirm", "--sheet", "Old", "-n", "--json");
    const { logs } = JSON.parse(one.out) as { logs: { sheet: string; confirmed: boolean }[] };
    expect(logs.map(({ sheet, confirmed }) => [sheet, confirmed])).toEqual([
      ["Diary", false],
      ["Old", true],
    ]);
  });

  it("counts a job once that stands in the Job log too", async () => {
    const path = bookAt({ Kit: DEVICES, Diary: DIARY });
    await sparespan("own-log", path, "--confirm", "--in-place", ...DAY);
    const job = [
      "--device",
      "HS-1",
      "--part",
      "SET",
      "--job",
      "replaced",
      "--complete",
      "--by",
      "ab",
    ];
    const twice = await sparespan(
      "log",
      path,
      ...job,
      "--date",
      "2026-03-02",
      "--in-place",
      ...DAY,
    );
    expect(twice.err).toContain("is already in the Job log");
    await sparespan("log", path, ...job, "--date", "2026-03-02", "--again", "--in-place", ...DAY);
    const { snapshot } = openWorkbook(readFileSync(path));
    const { ours } = readWorkbook(snapshot, TODAY);
    const same = ours.jobs.filter(
      (one) => one.deviceKey === "hs-1" && one.date === day("2026-03-02") && one.part === "SET",
    );
    expect(same.map(({ own }) => own ?? false)).toEqual([false]);
  });
});

/** A line typed below the log. */
function grown(path: string, date: string, device: string, text: string): void {
  const book = openWorkbook(readFileSync(path));
  const row = DIARY.length;
  const cells: [number, string | Day][] = [
    [0, day(date)],
    [1, device],
    [2, text],
  ];
  const blocks = cells.map(([column, value]) => ({
    column,
    rows: [row],
    values: [value],
    ...(column === 0 ? { format: "dd/mm/yyyy" } : {}),
  }));
  const edits = [{ kind: "fillCells" as const, sheet: "Diary", blocks, expects: {} }];
  writeFileSync(path, applyPlan(book, { summary: "a line more", edits }));
}
