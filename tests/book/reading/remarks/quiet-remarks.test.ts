import { describe, expect, it } from "vitest";
import { quietRemarks } from "../../../../src/book/reading/remarks/quiet-remarks.ts";
import { readBook } from "../../../../src/book/reading/read.ts";
import { JUNE, kitOf, logOf, readLog } from "../../../scenes/our-log.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../../scenes/scene.ts";

/** Remarks that are left, of devices with these remarks under a heading. */
function left(remarks: readonly Typed[], heading = "Notes"): ReturnType<typeof quietRemarks> {
  const rows: Typed[][] = [
    ["Device", "Electrode set replaced", heading],
    ...remarks.map((remark, at): Typed[] => [`V-${at + 1}`, on("2026-06-01"), remark]),
  ];
  const book = bookOf([sheetOf("Kit", rows)]);
  return quietRemarks(book, readBook(book, oursOf()));
}

describe("remarks of which nothing is known", () => {
  it("are all those that speak of no date and no part in known words, each wording once", () => {
    expect(left(["by the window", "sent to the fair", "By the window", null])).toEqual([
      {
        sheet: "Kit",
        heading: "Notes",
        remarks: 3,
        texts: ['"By the window"', '"sent to the fair"'],
      },
    ]);
  });
  it("are none of those that are heard or told", () => {
    expect(left(["not changed", "electrodes torn", "electrodes due in May?"])).toEqual([]);
  });
  it("do not name a person", () => {
    expect(left(["born 03.02.2026, mother's name Vell"])[0]?.texts).toEqual([
      "(not shown, since it may be about a person)",
    ]);
  });
  it("are looked for under no heading of states", () => {
    expect(left(["somewhere"], "Status")).toEqual([]);
  });
  it("are notes beside replacements of the Job log that nobody knows", () => {
    const row = (note: string, job = "replaced"): Typed[] => [
      ...[JUNE, "HS-01", "SET", job, null, job === "replaced" ? "yes" : null, "L1", "KB", note],
    ];
    const notes = ["routine", "see paper", "See paper", "torn"].map((note) => row(note));
    const log = logOf([...notes, row("old one put back"), row("see paper", "inspected")]);
    const { reading } = readLog(kitOf("HS-01"), log);
    expect(quietRemarks(bookOf([kitOf("HS-01"), log]), reading)).toEqual([
      { sheet: "Job log", heading: "Note", remarks: 3, texts: ['"See paper"', '"torn"'] },
    ]);
  });
});
