import { describe, expect, it } from "vitest";
import { judge } from "../../../src/book/columns/judge.ts";
import { dueEvents } from "../../../src/book/day/calendar.ts";
import { doubtsSay } from "../../../src/book/records/doubts.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { headingColumn, headingRow } from "../../../src/book/sheets/layout.ts";
import type { Plan } from "../../../src/book/workbook/plan.ts";
import { type CellValue, sheetNamed, type Snapshot } from "../../../src/book/workbook/snapshot.ts";
import { day, type Day } from "../../../src/core/day.ts";
import { replacementInterval } from "../../../src/core/usage.ts";
import { STEADY_DATE, steadyPlan } from "../../scenes/steady-book.ts";
import { emptyPaper, onPaper } from "../../taskpane/paper.ts";
import { calmer, outcomeOf } from "./outcome.ts";

const BOOK = onPaper(emptyPaper(), steadyPlan());
const TRUE = outcomeOf(BOOK);

type Cell = readonly [sheet: string, rowsDown: number, heading: string, value: CellValue];

function spoilt(...cells: readonly Cell[]): Snapshot {
  const edits = cells.map(([name, down, heading, value]): Plan["edits"][number] => {
    const sheet = sheetNamed(BOOK, name);
    if (sheet === null) throw new Error(`no ${name}`);
    const isSetting = name === "Setup";
    const row = isSetting
      ? sheet.values.findIndex((values) => values[0] === heading)
      : headingRow(sheet) + 1 + down;
    const column = isSetting ? 1 : (headingColumn(sheet, heading) ?? -1);
    const block = { column, rows: [row], values: [value] };
    return { kind: "fillCells", sheet: name, blocks: [block], expects: {} };
  });
  return onPaper(BOOK, { summary: "a slip of the pen", edits });
}

const causes = (book: Snapshot): string[] =>
  readWorkbook(book, STEADY_DATE).problems.map(({ cause }) => cause);
const partOf = (book: Snapshot, code: string) =>
  readWorkbook(book, STEADY_DATE).ours.parts.find((part) => part.code === code);
const states = (book: Snapshot, code: string): string[] => {
  const { parts, rows } = judge(book, readWorkbook(book, STEADY_DATE));
  const part = parts.find((one) => one.code === code);
  return part === undefined
    ? []
    : [...new Set(rows(part).map(({ answers: { state, check } }) => `${state}: ${check}`))];
};
const dueOf = (book: Snapshot): number[] => {
  const { parts, rows } = judge(book, readWorkbook(book, STEADY_DATE));
  return parts.flatMap((part) => rows(part).map(({ answers }) => answers.due ?? 0));
};

describe("months typed as text on Parts", () => {
  const book = spoilt(["Parts", 0, "Longest (months)", "6"]);

  it("are read and told, and the part stays in every list", () => {
    expect(causes(book)).toEqual([
      '"6" is text; it must be a whole number from 1 to 120. It is read as 6.',
    ]);
    expect(partOf(book, "SET")?.longest).toBe(6);
    expect(outcomeOf(book).need).toEqual(TRUE.need);
    expect(outcomeOf(book).points).toEqual(TRUE.points);
  });

  it("give no date until they are numbers: formulas cannot read them", () => {
    expect(states(book, "SET")).toEqual(["Check row: Limits missing or crossed"]);
    expect(states(book, "CUSHION")).not.toContain("Check row: Limits missing or crossed");
  });

  it("that no one can read are the shortest interval known of the kind of part", () => {
    expect(partOf(spoilt(["Parts", 0, "Shortest (months)", "half a year"]), "SET")).toMatchObject({
      shortest: 3,
      longest: 3,
      useBudget: null,
    });
    const other = spoilt(
      ["Parts", 1, "Shortest (months)", "six"],
      ["Parts", 1, "Longest (months)", 4],
    );
    expect(partOf(other, "CUSHION")).toMatchObject({ shortest: 4, longest: 4 });
  });
});

describe("a usage curve in doubt", () => {
  it.each(["Use budget (uses)", "Light use (a month)", "Heavy use (a month)"])(
    "gives the shortest interval, whatever its other cells say: %s",
    (heading) => {
      const book = spoilt(["Parts", 0, heading, "about 180"]);
      expect(partOf(book, "SET")).toMatchObject({ shortest: 3, longest: 3, lightUse: null });
      expect(calmer(outcomeOf(book), TRUE)).toEqual([]);
    },
  );

  it("is one of a budget of no uses at all", () => {
    expect(states(spoilt(["Parts", 0, "Use budget (uses)", 0]), "SET")).toEqual([
      "Check row: Limits missing or crossed",
    ]);
  });
});

describe("how a part is bought", () => {
  it.each([
    ["Lead time (days)", "90 days", "leadDays", 90],
    ["Lead time (days)", "13 weeks", "leadDays", 91],
    ["Lead time (days)", "3-4 months", "leadDays", 30],
    ["Lead time (days)", "60 to 90", "leadDays", 90],
    ["Units a replacement", "2 sets", "perReplacement", 2],
    ["Pack size", "5,0", "pack", 5],
    ["Pack size", "five", "pack", 1],
    ["Pack price", "EUR 12,50", "packPrice", 12.5],
    ["Pack price", "1,500", "packPrice", null],
    ["Shelf life (months)", "2 years", "shelfMonths", 24],
  ] as const)("%s %j", (heading, value, field, means) => {
    const book = spoilt(["Parts", 0, heading, value]);
    expect(partOf(book, "SET")?.supply[field]).toBe(means);
    expect(causes(book)).toHaveLength(1);
  });

  it("withholds the upper figure of a budget where a price cannot be read", () => {
    const { budget, upper } = outcomeOf(spoilt(["Parts", 2, "Pack price", "see quote"]));
    expect(upper).toBeNull();
    expect(budget.incomplete[0]).toBe("no price on Parts: Calibration");
  });
});

describe("a row of Parts", () => {
  it("with its code in small letters is the same part, and told", () => {
    const book = spoilt(["Parts", 0, "Code", "set"]);
    expect(causes(book)).toEqual([
      '"set" is not a code of capital letters only; it is read as SET.',
    ]);
    expect(states(book, "SET")).toEqual(states(BOOK, "SET"));
  });

  it("whose code is lost keeps its part", () => {
    const book = spoilt(["Parts", 0, "Code", null]);
    expect(causes(book)).toEqual([
      "A blank is not a code of capital letters only; it is read as SET.",
    ]);
    expect(states(book, "SET")).toEqual(["Check row: Limits missing or crossed"]);
    expect(outcomeOf(book).need.size).toBe(3);
  });

  it("that stands twice gives no date, and the shorter interval in every list", () => {
    const book = spoilt(
      ["Parts", 3, "Code", "SET"],
      ["Parts", 3, "Shortest (months)", 2],
      ["Parts", 3, "Longest (months)", 9],
    );
    expect(partOf(book, "SET")).toMatchObject({ shortest: 2, longest: 2 });
    expect(states(book, "SET")).toEqual(["Check row: Limits missing or crossed"]);
    expect(causes(book)[0]).toContain("SET stands more than once");
  });
});

describe("a heading of Parts that was renamed", () => {
  it("is told, and gives no part a longer interval", () => {
    const book = spoilt(["Parts", -1, "Use budget (uses)", "Uses"]);
    expect(states(book, "SET")).toEqual(["Check row: Limits missing or crossed"]);
    expect(calmer(outcomeOf(book), TRUE)).toEqual([]);
    const { problems } = readWorkbook(book, STEADY_DATE);
    expect(problems).toMatchObject([{ kind: "no column", heading: "Use budget (uses)" }]);
  });
});

describe("Setup", () => {
  it.each([
    ["Notice days", "soon", "noticeDays", 3660],
    ["Counts late after (months)", "two", "lateMonths", 0],
    ["Weekend", "Friday", "weekend", "0001111"],
    ["Weekend", "7", "weekend", 7],
    ["Service level", "99 %", "serviceLevel", 0.99],
    ["Service level", 95, "serviceLevel", 0.9999],
    ["Service level", "0,95", "serviceLevel", 0.95],
    ["Spares kept", "each", "spares", "device"],
    ["Days between orders", "2 months", "reviewDays", 62],
    ["Price rise a year", "3%", "priceRise", 0.03],
    ["Zero counts are real", "perhaps", "zeroCounts", false],
    ["Zero counts are real", "ja", "zeroCounts", true],
    ["Counts are", "children", "countsAre", "babies"],
  ] as const)("%s %j", (heading, value, key, means) => {
    const { ours } = readWorkbook(spoilt(["Setup", 0, heading, value]), STEADY_DATE);
    expect(ours.settings[key]).toBe(means);
  });

  it("without a report date that can be read judges no row, and looks ahead from today", () => {
    const book = spoilt(["Setup", 0, "Report date", "6 July"]);
    expect(states(book, "SET")).toEqual(["Check row: Date out of range"]);
    const reading = readWorkbook(book, STEADY_DATE);
    expect(dueEvents(book, reading, []).every(({ date }) => date === STEADY_DATE)).toBe(true);
    const said = readWorkbook(book, STEADY_DATE, { reportDate: STEADY_DATE });
    expect(said.ours.doubts).toEqual([]);
  });

  it("withholds the upper figure of a budget for a month that cannot be read", () => {
    const { budget } = outcomeOf(spoilt(["Setup", 0, "Fiscal year starts in month", "July"]));
    expect(budget.incomplete[0]).toMatch(
      /^Setup!B\d+ \(Fiscal year starts in month\) cannot be used$/,
    );
  });

  it("is named first by every job that rests on it", () => {
    const { ours } = readWorkbook(spoilt(["Setup", 0, "Service level", "high"]), STEADY_DATE);
    expect(doubtsSay({ ours, problems: [] })).toEqual([
      "In doubt: 1 cell of our sheets, so the more careful of what is usual and what other rows say is used: Setup!B12 (Service level). The check names cause and fix.",
    ]);
    expect(doubtsSay(readWorkbook(BOOK, STEADY_DATE))).toEqual([]);
  });
});

describe("days on which nothing is replaced", () => {
  it("may be any day where they are text: dates move back, never on", () => {
    const text = dueOf(spoilt(["Holidays", 0, "Date", "30 September 2026"]));
    const other = dueOf(spoilt(["Holidays", 0, "Date", "in autumn"]));
    expect(text).toEqual(other);
    dueOf(BOOK).forEach((due, at) => {
      expect(text[at]).toBeLessThan(due);
    });
    expect(causes(spoilt(["Holidays", 0, "Date", "30 September 2026"]))).toEqual([
      '"30 September 2026" is not a date from 2000 to 2099; it may be any day, so going back to a working day goes one more back.',
    ]);
  });

  it("of a weekend that cannot be read are all that are usual ones", () => {
    const later = dueOf(spoilt(["Setup", 0, "Weekend", "Sat and Sun"])).filter(
      (due, at) => due > (dueOf(BOOK)[at] ?? 0),
    );
    expect(later).toEqual([]);
  });
});

describe("the shelf", () => {
  const itemOf = (heading: string, value: CellValue) =>
    readWorkbook(spoilt(["Shelf", 0, heading, value]), STEADY_DATE).ours.shelf[0];

  it("counts nothing that cannot be read", () => {
    expect(itemOf("On hand", "some")?.onHand).toBeNull();
    expect(itemOf("On hand", "2 sets")?.onHand).toBe(2);
    expect(itemOf("On order", -4)?.onOrder).toBeNull();
  });

  it.each([
    ["2027-05-01", "2027-05-01"],
    ["May 2027", "2027-05-01"],
    ["01/05/2027", "2027-01-05"],
    ["see label", "1900-03-01"],
    [99, "1900-03-01"],
  ])("takes an expiry of %j for the earliest day it may mean", (value, means) => {
    expect(itemOf("Expiry", value)?.expiry).toBe(day(means));
  });
});

describe("the Job log", () => {
  const logged = (date: CellValue, complete: CellValue, part = "SET"): Snapshot =>
    spoilt(
      ["Job log", 0, "Date", date],
      ["Job log", 0, "Device", "D-5"],
      ["Job log", 0, "Part", part],
      ["Job log", 0, "Job", part === "SET" ? "replaced" : "calibrated"],
      ["Job log", 0, "Complete set", complete],
    );
  const july: Day = day("2026-07-02");

  it("counts no job whose date is text, and says what to type", () => {
    const { problems, ours } = readWorkbook(logged("2026-07-02", "yes"), STEADY_DATE);
    expect(ours.jobs[0]?.date).toBeNull();
    expect(problems).toMatchObject([{ kind: "unusable cell", fix: "Type 2026-07-02 as a date." }]);
  });

  it("tells a word that says neither complete nor not, of a dated task too", () => {
    const told = causes(logged(july, "partly", "CALIBRATION"));
    expect(told).toContain('"partly" is not yes or no; the job does not count as complete.');
  });
});

describe("a negative nought", () => {
  it("is a nought: a month without use gives the longest interval here as in a worksheet", () => {
    const limits = { shortest: 3, longest: 6, useBudget: 600, lightUse: null, heavyUse: null };
    expect(replacementInterval({ ...limits, usesPerMonth: -0 })).toBe(6);
    expect(replacementInterval({ ...limits, usesPerMonth: 0 })).toBe(6);
  });
});
