import { describe, expect, it } from "vitest";
import { withoutOddDays } from "../../../../src/book/reading/own-log/own-log-days.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { OWN_LOG } from "../../../../src/book/records/own-log.ts";
import { isoText, type Day, day } from "../../../../src/core/day.ts";
import { on, oursOf, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const IDS = ["V-1", "V-2", "V-3", "V-4", "V-5", "V-6"];
const LOG: Typed[] = ["When", "Unit", "What was done"];
const ours = oursOf({ matches: new Map([[OWN_LOG, "Diary"]]) });

/** What is said above every answer, and the days on which a log says that electrodes were replaced. */
function read(days: readonly string[]) {
  const lines = days.map((date, at): Typed[] => [
    on(date),
    IDS[at % IDS.length] ?? "",
    "New electrodes",
  ]);
  const reading = readSheets(
    [
      sheetOf("Kit", [
        ["Device", "Site", "Model"],
        ...IDS.map((id): Typed[] => [id, "North", "A"]),
      ]),
      sheetOf("Diary", [LOG, ...lines]),
    ],
    ours,
  );
  const counted = reading.ours.jobs.flatMap(({ date }) => (date === null ? [] : isoText(date)));
  return { said: doubtsSay(reading).join(" "), counted };
}

const FIRST = day("2026-01-05");
/** Every device three times, a day of its own each. */
const DAYS = Array.from({ length: 18 }, (_, at) => isoText((FIRST + 8 * at) as Day));

describe(withoutOddDays.name, () => {
  it("counts the lines of a log kept day by day", () => {
    expect(read(DAYS)).toEqual({ said: "", counted: DAYS });
  });
  it("counts none of a day that says the same of the same devices time and again", () => {
    const { said, counted } = read([...DAYS.slice(0, 6), ...DAYS.slice(6).map(() => "2026-06-11")]);
    expect(counted).toEqual(DAYS.slice(0, 6));
    expect(said).toMatch(
      /^"Diary" has 2026-06-11 for the same work on the same device several times \(6 lines too many\)/u,
    );
  });
  it("counts a day's round of all devices, and a line that was typed twice", () => {
    const round = [...DAYS.slice(0, 6), ...IDS.map(() => "2026-06-11"), "2026-06-11"];
    expect(read(round)).toEqual({ said: "", counted: round });
  });
  it("counts none where a third of the lines is after the report date", () => {
    const year = (date: string): string => date.replace("2026-0", "2027-0");
    const { said, counted } = read([...DAYS.slice(0, 12), ...DAYS.slice(12).map(year)]);
    expect(counted).toEqual([]);
    expect(said).toContain('6 of 18 lines of "Diary" are after the report date');
    expect(read([...DAYS.slice(0, 13), ...DAYS.slice(13).map(year)]).counted).not.toEqual([]);
  });
});
