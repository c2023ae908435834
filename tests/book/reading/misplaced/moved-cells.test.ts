import { describe, expect, it } from "vitest";
import { judge } from "../../../../src/book/columns/judge.ts";
import { movedCells } from "../../../../src/book/reading/misplaced/moved-cells.ts";
import { readBook } from "../../../../src/book/reading/read.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../../scenes/scene.ts";

const HEAD = [
  ...["Device", "Site", "Serial number", "In service since"],
  ...["Electrode set replaced", "Ear cushions replaced", "Last calibrated", "Remarks"],
];
const GERMAN = [
  ...["Gerät", "Standort", "Seriennummer", "In Betrieb seit"],
  ...["Elektroden gewechselt", "Ohrpolster gewechselt", "Letzte Kalibrierung", "Bemerkung"],
];
const SETS = ["2026-05-04", "2026-03-17", "2026-04-22", "2026-05-05", "2026-05-29", "2026-04-13"];
const CUSHIONS = [
  "2026-02-11",
  "2026-01-20",
  "2026-03-03",
  "2026-05-12",
  "2026-04-09",
  "2026-06-02",
];
const TASKS = ["2025-10-02", "2025-11-12", "2025-09-24", "2025-12-15", "2026-01-08", "2025-10-20"];

const BODY = SETS.map((set, at): Typed[] => [
  ...[`V-${at + 1}`, at < 3 ? "Elm" : "Oak", `70${at}41`, on("2024-02-01")],
  ...[on(set), on(CUSHIONS[at] ?? ""), on(TASKS[at] ?? ""), at === 1 ? "loan pool" : null],
]);
const right = (at: number) => (row: readonly Typed[]) => [
  ...row.slice(0, at),
  null,
  ...row.slice(at),
];
const left = (at: number) => (row: readonly Typed[]) => row.filter((_, column) => column !== at);

/** Which parts of which devices are in doubt, and what is said above every answer. */
function book(head: readonly Typed[], rows: readonly (readonly Typed[])[]) {
  const snapshot = bookOf([sheetOf("Kit", [head, ...rows])]);
  const reading = readBook(snapshot, oursOf());
  const judged = judge(snapshot, reading);
  const inDoubt = (code: string): string[] => {
    const part = judged.parts.find((one) => one.code === code);
    const dated = part === undefined ? [] : judged.rows(part).map((row) => row.facts);
    return dated.flatMap(({ doubt }, at) =>
      doubt === "misplaced date" ? (reading.devices[at]?.id ?? "") : [],
    );
  };
  return { set: inDoubt("SET"), cushion: inDoubt("CUSHION"), said: doubtsSay(reading).join(" ") };
}

const some = (move: (row: readonly Typed[]) => readonly Typed[], which: readonly number[]) =>
  BODY.map((row, at) => (which.includes(at) ? move(row) : row));
const ALL = BODY.map((_, at) => at);

/** What "insert cells" and "delete cells" do (common practice, no source). */
describe(movedCells.name, () => {
  it.each([
    ...[HEAD, GERMAN].flatMap((head) => [1, 2, 3, 4].map((at) => [head, at] as const)),
    ...[1, 2, 4].map((at) => [HEAD.slice(0, -1), at] as const),
  ])("doubts the cushions of a table moved right: %s from column %i", (head, at) => {
    const rows = head.length < HEAD.length ? BODY.map((row) => row.slice(0, -1)) : BODY;
    const { cushion, said } = book(head, rows.map(right(at)));
    expect(cushion).toHaveLength(6);
    expect(said).toContain("In 6 rows a date stands beside the columns of dates");
  });
  it("doubts only dates right of the first cell that was moved", () => {
    const { set, cushion } = book(HEAD, BODY.map(right(5)));
    expect(set).toEqual([]);
    // Nothing stands under the cushions any more.
    expect(cushion).toEqual([]);
  });
  it.each([[[2]], [[0, 4]], [[0, 1, 2]]])("doubts the rows alone that were moved: %s", (which) => {
    const ids = which.map((at) => `V-${at + 1}`);
    expect(book(HEAD, some(right(4), which)).cushion).toEqual(ids);
    expect(book(HEAD, some(right(2), which)).set).toEqual(ids);
    expect(book(HEAD, some(left(1), which))).toMatchObject({ set: ids, cushion: ids });
  });
  it.each([1, 2, 3, 4])("doubts dates under headings moved right from column %i", (at) => {
    const { set, cushion } = book(right(at)(HEAD), BODY);
    expect(cushion).toHaveLength(6);
    expect(set).toHaveLength(6);
  });
  it.each([1, 4])("doubts dates under headings moved left from column %i", (at) => {
    expect(book(left(at)(HEAD), BODY).cushion).toHaveLength(6);
  });
  it("doubts none of a table that was not moved", () => {
    expect(book(HEAD, BODY)).toEqual({ set: [], cushion: [], said: "" });
  });
  it("doubts none for a date among remarks, or for a date that is missing", () => {
    const put = (at: number, value: Typed) => (row: readonly Typed[]) =>
      row.map((cell, column) => (column === at ? value : cell));
    const dated = some(put(7, on("2026-06-01")), [0, 2]);
    expect(book(HEAD, dated).said).toBe("");
    expect(
      book(
        HEAD,
        dated.map((row, at) => (at === 3 ? put(6, null)(row) : row)),
      ).said,
    ).toBe("");
    expect(book(HEAD, some(put(6, null), ALL)).said).toBe("");
    // Serial numbers that a spreadsheet took for dates.
    expect(book(HEAD, some(put(2, on("2026-05-12")), [0, 1])).said).toBe("");
  });
});
