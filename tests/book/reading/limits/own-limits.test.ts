import { describe, expect, it } from "vitest";
import { judge } from "../../../../src/book/columns/judge.ts";
import { readBook } from "../../../../src/book/reading/read.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { fleetSteps } from "../../../../src/book/year/fleet.ts";
import { finished } from "../../../../src/book/workbook/steps.ts";
import { cellKey, type Sheet } from "../../../../src/book/workbook/snapshot.ts";
import { isoText } from "../../../../src/core/day.ts";
import { partKey } from "../../../../src/book/records/positions.ts";
import type { Settings } from "../../../../src/book/records/settings.ts";
import { bookOf, on, oursOf, sheetOf, told, type Typed } from "../../../scenes/scene.ts";

/** Own layouts of registers, invented; "the stricter limit counts" is local policy's word, common practice. */
function read(headings: readonly string[], rows: readonly Typed[][], more: Partial<Sheet> = {}) {
  const book = bookOf([sheetOf("Kit", [headings, ...rows], more)]);
  const reading = readBook(book, oursOf());
  const judged = judge(book, reading);
  const rowsOf = (code: string) => {
    const part = judged.parts.find((one) => one.code === code);
    if (part === undefined) throw new Error(`no ${code}`);
    return judged.rows(part).map(({ answers: { due, state, check } }) => {
      return [due === null ? null : isoText(due), state, check];
    });
  };
  const fields = reading.registers[0]?.matches.map(({ field }) => field) ?? [];
  return { book, reading, rowsOf, fields };
}

const MAY = on("2026-05-04");

describe("the register's own due dates and intervals", () => {
  it.each([
    ["Interval (weeks)", 10, "2026-07-03"],
    ["Replace every (weeks)", 10, "2026-07-03"],
    ["Interval (days)", 62, "2026-07-03"],
  ])("count in weeks and days without the part's name: %s", (heading, interval, due) => {
    const { rowsOf } = read(
      ["Device", "Electrode set replaced", heading],
      [
        ["A", MAY, interval],
        ["B", MAY, null],
      ],
    );
    expect(rowsOf("SET")[0]).toEqual([due, "Due soon", "Own interval is shorter"]);
  });

  it.each([
    // 4 May 2026 plus so many days.
    ["Interval (weeks)", 2, "2026-05-18", "Overdue"],
    ["Interval (weeks)", 4, "2026-06-01", "Overdue"],
    ["Interval (days)", 30, "2026-06-03", "Overdue"],
    ["Interval (days)", 10.5, "2026-05-14", "Overdue"],
    ["Interval (days)", 31, "2026-06-04", "Overdue"],
  ])("shorter than a month count to the day: %s %s", (heading, interval, due, state) => {
    const { rowsOf } = read(["Device", "Electrode set replaced", heading], [["A", MAY, interval]]);
    expect(rowsOf("SET")[0]).toEqual([due, state, "Own interval is shorter"]);
  });

  it("count where the format of dates beside them came over them", () => {
    const { rowsOf } = read(
      ["Device", "Electrode set replaced", "Electrode interval (months)"],
      ["A", "B", "C"].map((device) => [device, MAY, 2]),
      { formats: Array(4).fill([0, 1, 1]) },
    );
    expect(rowsOf("SET")[0]).toEqual(["2026-07-03", "Due soon", "Own interval is shorter"]);
  });

  it("shorter than a month are told first of all: what counts whole months counts too few", () => {
    const { reading } = read(
      ["Device", "Electrode set replaced", "Interval (weeks)", "Electrode set next due"],
      [
        ["A", MAY, 2, on("2026-05-12")],
        ["B", MAY, 40, null],
      ],
    );
    expect(told(reading)).toContain("short own interval C*");
    expect(doubtsSay(reading).join(" ")).toContain("one replacement a month");
    const { rowsOf } = read(
      ["Device", "Electrode set replaced", "Interval (weeks)", "Electrode set next due"],
      [["A", MAY, 2, on("2026-05-12")]],
    );
    expect(rowsOf("SET")[0]).toEqual(["2026-05-12", "Overdue", "Own date is earlier"]);
  });

  it("are asked about beside dates that are nobody's, which they may belong to", () => {
    const { reading, rowsOf } = read(
      ["Device", "Electrode set replaced", "Ordered", "Due"],
      ["A", "B", "C"].map((id) => [id, MAY, on("2026-05-20"), on("2026-06-01")]),
    );
    expect(rowsOf("SET")[0]?.[0]).toBe("2026-08-04");
    expect(reading.problems.map(({ kind }) => kind)).toContain("own limit unclear");
  });

  it("of a task whose last day stands nowhere are not said to count", () => {
    const { reading } = read(
      ["Device", "Electrode set replaced", "Next calibration"],
      ["A", "B", "C"].map((id) => [id, MAY, on("2026-05-20")]),
    );
    const causes = reading.problems.map(({ cause }) => cause).join(" ");
    expect(causes).toContain("nothing is judged by it");
    expect(causes).not.toContain("the earlier of yours and ours counts");
  });

  it("count where they are earlier, and never where they are later", () => {
    const { rowsOf } = read(
      ["Device", "Electrode set replaced", "Electrode set next due"],
      [
        ["A", MAY, on("2026-06-15")],
        ["B", MAY, on("2027-06-15")],
        ["C", MAY, null],
        ["D", MAY, "n/a"],
      ],
    );
    expect(rowsOf("SET")).toEqual([
      ["2026-06-15", "Overdue", "Own date is earlier"],
      ["2026-08-04", "Not due", "OK"],
      ["2026-08-04", "Not due", "OK"],
      ["2026-08-04", "Not due", "OK"],
    ]);
  });

  it.each([
    ["Elektroden gewechselt", "Elektroden fällig am"],
    ["Cambio electrodos", "Próximo cambio electrodos"],
    ["Changement électrodes", "Prochain changement électrodes"],
    // A heading that names no part is of the part it stands beside, or of the only one there is.
    ["Electrodes replaced", "Next due"],
    ["Elektroden gewechselt", "Fällig am"],
    ["Electrodes replaced", "Due"],
    // The last day on which a part may be used.
    ["Electrodes replaced", "Change electrodes by"],
    ["Electrodes replaced", "Swap electrodes before"],
    ["Electrodes replaced", "Electrodes use by"],
    ["Electrodes replaced", "Electrodes good until"],
  ])("are found: %s, %s", (last, due) => {
    const { rowsOf, fields } = read(["Device", last, due], [["A", MAY, on("2026-06-15")]]);
    expect(fields).toContain("due:SET");
    expect(rowsOf("SET")).toEqual([["2026-06-15", "Overdue", "Own date is earlier"]]);
  });

  it("are each of the part they stand beside", () => {
    const { rowsOf } = read(
      ["Device", "Electrodes replaced", "Next due", "Calibrated", "Interval", "Next due"],
      [["A", MAY, on("2026-06-15"), on("2026-01-05"), 12, on("2026-07-01")]],
    );
    expect(rowsOf("SET")).toEqual([["2026-06-15", "Overdue", "Own date is earlier"]]);
    expect(rowsOf("CALIBRATION")).toEqual([["2026-07-01", "Due soon", "Own date is earlier"]]);
  });

  it("are of no part where that cannot be told, which is a fault", () => {
    const { reading, rowsOf, fields } = read(
      ["Device", "Electrodes replaced", "Cushion replaced", "Note", "Next due"],
      [["A", MAY, MAY, "", on("2026-06-15")]],
    );
    expect(fields.filter((field) => field.startsWith("due:"))).toEqual([]);
    expect(rowsOf("SET")).toEqual([["2026-08-04", "Not due", "OK"]]);
    const asked = reading.problems.filter(({ kind }) => kind === "own limit unclear");
    expect(asked.map(({ severity, heading }) => [severity, heading])).toEqual([
      ["fault", "Next due"],
    ]);
  });

  it.each(["Electrode inspection due", "Electrode order due", "Next electrode inspection"])(
    "are not what is due of something else: %s",
    (heading) => {
      const { fields } = read(
        ["Device", "Site", "Electrodes replaced", "Note", heading],
        [["A", "S01", MAY, "", on("2026-06-15")]],
      );
      expect(fields).not.toContain("due:SET");
    },
  );

  it.each([
    ["Electrode interval (months)", 2, "2026-07-03"],
    ["Wechselintervall Elektroden (Monate)", 2, "2026-07-03"],
    ["Replace electrodes every (weeks)", 9, "2026-07-03"],
    ["Electrode interval (days)", 60, "2026-06-04"],
    ["Replace every (months)", 2, "2026-07-03"],
    ["Electrode interval (months)", 5, "2026-08-04"],
  ])("shorten the interval: %s of %s", (heading, months, due) => {
    const { rowsOf } = read(["Device", "Electrodes replaced", heading], [["A", MAY, months]]);
    expect(rowsOf("SET")[0]?.[0]).toBe(due);
  });

  it.each([
    ["Electrodes due", "soon?"],
    ["Electrodes due", "12/2026x"],
    ["Electrodes due", "05.06.2026"],
    ["Electrode interval (months)", "2 months"],
    ["Electrode interval (weeks)", 0.1],
    ["Electrode interval (months)", 0.5],
    // Weeks as like as months.
    ["Electrode interval", 12],
  ])("put the row in doubt where they cannot be read: %s %s", (heading, value) => {
    const { reading, rowsOf } = read(
      ["Device", "Electrodes replaced", heading],
      [["A", MAY, value]],
    );
    expect(told(reading)).toContain("own limit unread C2");
    expect(rowsOf("SET")).toEqual([[null, "Check row", "Date in doubt"]]);
  });

  it("put the row in doubt where a formula has no result", () => {
    const formulas = new Map([[cellKey(1, 2), "EDATE(B2,1)"]]);
    const { rowsOf } = read(
      ["Device", "Electrodes replaced", "Electrodes due"],
      [["A", MAY, null]],
      { formulas },
    );
    expect(rowsOf("SET")).toEqual([[null, "Check row", "Date in doubt"]]);
  });

  it("are told where the last replacement has met them", () => {
    const { reading, rowsOf } = read(
      ["Device", "Electrodes replaced", "Electrodes due"],
      [["A", MAY, on("2026-04-30")]],
    );
    expect(told(reading)).toContain("own date past C2");
    expect(rowsOf("SET")).toEqual([["2026-08-04", "Not due", "OK"]]);
  });

  it("hold for the year ahead too", () => {
    const { book, reading } = read(
      [
        "Device",
        "Electrodes replaced",
        "Electrodes due",
        "Cushion replaced",
        "Cushion interval (months)",
      ],
      [["A", MAY, on("2026-06-15"), MAY, 2]],
    );
    const assumed = {
      use: { sites: [], devices: new Map(), programme: { history: [], ahead: [] } },
      whatIf: { volume: 0, added: [] },
      supposed: { retired: new Set(), sites: [] },
    } as never;
    const { units } = finished(fleetSteps(book, reading, assumed));
    expect(units.map(({ part, months, then }) => [part.code, months, then])).toEqual([
      ["SET", 1, 1],
      ["CUSHION", 2, 2],
    ]);
  });
});

describe("own due dates of a part with a column for each position", () => {
  const SIDES = [
    "Device",
    "Ear cushion left replaced",
    "Ear cushion left next due",
    "Ear cushion right replaced",
    "Ear cushion right next due",
  ];
  const PRÓXIMO = [
    "Equipo",
    "Almohadilla izquierda cambiada",
    "Próximo cambio izquierda",
    "Almohadilla derecha cambiada",
    "Próximo cambio derecha",
  ];

  /** Each position of the cushion with its due date, state and check in the first row. */
  function sides(headings: readonly string[], row: readonly Typed[], which: Settings["positions"]) {
    const book = bookOf([sheetOf("Kit", [headings, row])]);
    const reading = readBook(book, oursOf({ positions: which }));
    const judged = judge(book, reading);
    const answers = judged.parts
      .filter(({ code }) => code === "CUSHION")
      .map((part) => {
        const { due, state, check } = judged.rows(part)[0]?.answers ?? {};
        return [
          partKey(part),
          due === undefined || due === null ? null : isoText(due),
          state,
          check,
        ];
      });
    return { answers, told: told(reading).filter((one) => !one.startsWith("several positions")) };
  }

  it.each([[SIDES], [PRÓXIMO]])("count for that position: %s", (headings) => {
    const row = ["A", MAY, on("2026-06-19"), MAY, on("2027-06-25")];
    expect(sides(headings, row, "each").answers).toEqual([
      ["CUSHION left", "2026-06-19", "Overdue", "Own date is earlier"],
      ["CUSHION right", "2026-11-04", "Not due", "OK"],
    ]);
  });

  it("put that position alone in doubt where they cannot be read", () => {
    const { answers, told: problems } = sides(SIDES, ["A", MAY, "soon", MAY, null], "each");
    expect(problems).toContain("own limit unread C2");
    expect(answers.map(([, , state]) => state)).toEqual(["Check row", "Not due"]);
  });

  it("are told as not compared where one date counts for all", () => {
    const row = ["A", MAY, on("2026-06-19"), MAY, on("2027-06-25")];
    const { told: problems } = sides(SIDES, row, "earliest");
    expect(problems).toEqual(["own limit unclear C*", "own limit unclear E*"]);
  });

  it.each<[Settings["positions"], number]>([
    ["each", 2],
    ["earliest", 1],
  ])("put all of it in doubt where one column is for all: %s", (which, count) => {
    const headings = [SIDES[0], SIDES[1], SIDES[3], "Ear cushion next due"].map((one) => one ?? "");
    const { answers, told: problems } = sides(headings, ["A", MAY, MAY, "ask Kim"], which);
    expect(problems).toContain("own limit unread D2");
    expect(answers.map(([, , state]) => state)).toEqual(Array(count).fill("Check row"));
  });
});

describe("a column of limits that was said to be none", () => {
  it.each([
    ["Next due", "Electrode set replaced", "due:SET"],
    ["Interval (months)", "Electrode set replaced", "every:SET"],
    ["Next due", "Model", "due:SET"],
  ])("counts for nothing and is told no more: %s beside %s", (heading, before, field) => {
    const headings = [
      "Device",
      "Ear cushion replaced",
      before === "Model" ? "Electrodes replaced" : "Site",
      before,
      heading,
    ];
    const rows = [
      [
        "A",
        MAY,
        before === "Model" ? MAY : null,
        before === "Model" ? "X" : MAY,
        field.startsWith("due") ? on("2026-06-01") : 1,
      ],
    ];
    const book = bookOf([sheetOf("Kit", [headings, ...rows])]);
    const asked = readBook(book, oursOf());
    expect(told(asked).some((one) => /limit|unclear/.test(one))).toBe(true);
    const none = readBook(book, oursOf({ matches: new Map([[`column ${field}`, "none"]]) }));
    expect(told(none).filter((one) => / E/.test(one))).toEqual([]);
    expect(none.registers[0]?.matches.map((match) => match.heading)).not.toContain(heading);
  });
});
