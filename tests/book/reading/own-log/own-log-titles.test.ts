import { describe, expect, it } from "vitest";
import { readBook } from "../../../../src/book/reading/read.ts";
import { isoText } from "../../../../src/core/day.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../../scenes/scene.ts";

const LINES: readonly (readonly Typed[])[] = [
  ["Date", "Device", "Work done"],
  [on("2026-01-05"), "A1", "electrodes replaced"],
  [on("2026-01-06"), "A2", "electrodes replaced"],
  [on("2026-01-07"), "A3", "electrodes replaced"],
];

/** When the electrodes of A2 were replaced last by a log with these further rows, and what is told. */
function read(...rows: readonly (readonly Typed[])[]) {
  const kit = sheetOf("Kit", [
    ["Device", "Site", "In service since"],
    ...["A1", "A2", "A3"].map((id): Typed[] => [id, "North", on("2023-01-01")]),
  ]);
  const ours = oursOf({ matches: new Map([["own log", "Diary"]]) });
  const reading = readBook(bookOf([kit, sheetOf("Diary", [...LINES, ...rows])]), ours);
  const [date = null] = reading.devices.flatMap(({ id, lastDone }) =>
    id === "A2" ? lastDone.flatMap(({ part, date: day }) => (part === "SET" ? day : [])) : [],
  );
  const told = reading.problems.filter(
    ({ sheet, kind }) => sheet === "Diary" && kind !== "own log",
  );
  return { date: date === null ? null : isoText(date), told };
}
const LATER: Typed[] = [on("2026-06-20"), "A2", "electrodes replaced"];

describe("titles between the lines of a log", () => {
  it("change nothing where they say nothing of the work", () => {
    for (const title of [["2026"], ["North"], [null, "June"], ["Done"], ["erledigt"]]) {
      expect(read([], title, LATER)).toMatchObject({ date: "2026-06-20", told: [] });
    }
  });

  it.each([
    [["Planned"]],
    [[null, "Planned"]],
    [["To do"]],
    [["Not done"]],
    [["Geplant"]],
    [["À faire"]],
    [["Prévu"]],
    [["Pendiente"]],
    [["Da fare"]],
    [["Planejado"]],
    [["Gepland"]],
    [["Zaplanowane"]],
    [["Planned for", "Device", "Work"]],
  ])("that say it was not done keep the lines below from counting: %j", (title) => {
    const { date, told } = read([], title, LATER);
    expect(date).toBe("2026-01-06");
    expect(told.map(({ kind, severity }) => [kind, severity])).toEqual([["log words", "fault"]]);
    expect(told[0]?.cause).toContain(title.at(0) ?? title.at(1) ?? "");
  });

  it("hold until the next title", () => {
    const { date } = read(
      ["Planned"],
      [on("2026-06-25"), "A1", "electrodes replaced"],
      ["Done"],
      LATER,
    );
    expect(date).toBe("2026-06-20");
  });
});

describe("a day that nobody believes in a line of a log", () => {
  it("is told, and the line before counts", () => {
    const { date, told } = read([on("1926-06-20"), "A2", "electrodes replaced"]);
    expect([date, told.map(({ kind, row }) => [kind, row])]).toEqual([
      "2026-01-06",
      [["date out of range", 4]],
    ]);
  });

  it("is told where the device was not there yet", () => {
    const { told } = read([on("2016-06-20"), "A2", "electrodes replaced"]);
    expect(told.map(({ kind, severity }) => [kind, severity])).toEqual([
      ["before commissioning", "notice"],
    ]);
  });
});
