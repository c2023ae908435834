import { describe, expect, it } from "vitest";
import { judge } from "../../../src/book/columns/judge.ts";
import { readBook } from "../../../src/book/reading/read.ts";
import { doubtsSay } from "../../../src/book/records/doubts.ts";
import { fleetSteps } from "../../../src/book/year/fleet.ts";
import { finished } from "../../../src/book/workbook/steps.ts";
import { cellKey, type Sheet } from "../../../src/book/workbook/snapshot.ts";
import { isoText } from "../../../src/core/day.ts";
import { bookOf, on, oursOf, sheetOf, told, type Typed } from "../../scenes/scene.ts";

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
    expect(reading.problems.map(({ kind }) => kind)).toContain("unclear column");
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
    const asked = reading.problems.filter(({ kind }) => kind === "unclear column");
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
