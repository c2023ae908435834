import { describe, expect, it } from "vitest";
import { readWorkbook } from "../../../../src/book/reading/workbook.ts";
import { bookOf, on, REPORT_DATE, sheetOf, type Typed } from "../../../scenes/scene.ts";

/** What is told of the missing column of a part that has due dates only. */
function told(heading: string, rows: readonly (readonly Typed[])[]): string | undefined {
  const list = sheetOf("List", [["Device", "Site", heading], ...rows]);
  const { problems } = readWorkbook(bookOf([list]), REPORT_DATE, { reportDate: REPORT_DATE });
  return problems.find(({ kind, cause }) => kind === "no column" && cause.includes("Electrode"))
    ?.cause;
}

describe("due dates without the last replacements", () => {
  it.each(["Electrode set next due", "Elektroden nächster Wechsel"])(
    "say which devices are overdue, the longest first: %s",
    (heading) => {
      const rows: readonly (readonly Typed[])[] = [
        ["A-1", "Oak", on("2026-07-20")],
        ["A-2", "Oak", on("2026-06-12")],
        ["A-3", "Elm", on("2026-05-08")],
        ["A-4", "Elm", on("2026-06-30")],
      ];
      expect(told(heading, rows)).toBe(
        `No heading was understood as the last replacement of Electrode set. By "${heading}" it is overdue at A-3 (2026-05-08) and A-2 (2026-06-12).`,
      );
    },
  );

  it("say that they do not say since when, where none is past", () => {
    expect(told("Electrode set next due", [["A-1", "Oak", on("2026-07-20")]])).toBe(
      'No heading was understood as the last replacement of Electrode set. The dates under "Electrode set next due" say when it is due, but not since when.',
    );
  });

  it("are not spoken of where there are none", () => {
    expect(told("Remarks", [["A-1", "Oak", null]])).toBe(
      "No heading was understood as the last replacement of Electrode set.",
    );
  });
});
