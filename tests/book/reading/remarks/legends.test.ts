import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { readBook } from "../../../../src/book/reading/read.ts";
import { bookOf, on, oursOf, sheetOf, told, type Typed } from "../../../scenes/scene.ts";

function withKey(...lines: readonly string[]) {
  const rows = lines.map((line, at): Typed[] => [`V-${at}`, on("2026-06-01"), null, line]);
  const headings = ["Device", "Electrode set replaced", null, "Key"];
  return readBook(bookOf([sheetOf("Kit", [headings, ...rows])]), oursOf());
}

describe("a legend of colours", () => {
  it.each([
    ["red = date not certain"],
    ["jaune = date incertaine"],
    ["Yellow cells: ordered"],
    ["żółty = zamówione"],
  ])("is told, since colours are not read: %s", (line) => {
    expect(told(withKey(line))).toEqual(["colours not read D2"]);
  });

  it("is told once with its lines", () => {
    const { problems, ours } = withKey("red = out", "green: checked");
    // Before all figures of every job: what is red may be out of service.
    expect(doubtsSay({ ours, problems })[0]).toMatch(
      /^Colours with a meaning are not read: "red = out"/,
    );
    expect(problems).toHaveLength(1);
    expect(problems[0]?.cause).toBe(
      'Colours with a meaning are not read: "red = out" and "green: checked".',
    );
  });

  it("is no site that is called by a colour", () => {
    const rows = ["Red House: main", "Blue Ward: annex"].map((site, at): Typed[] => [
      ...[`V-${at}`, site, on("2026-06-01")],
    ]);
    const kit = sheetOf("Kit", [["Device", "Site", "Electrode set replaced"], ...rows]);
    expect(told(readBook(bookOf([kit]), oursOf()))).toEqual([]);
  });

  it.each([["Redwood: main site"], ["red"], ["in the green case = left"]])(
    "is no other text: %s",
    (line) => {
      expect(told(withKey(line))).toEqual([]);
    },
  );
});
