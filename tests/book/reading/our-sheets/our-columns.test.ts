import { describe, expect, it } from "vitest";
import { hasOurColumns } from "../../../../src/book/reading/our-sheets/our-columns.ts";
import { readBook } from "../../../../src/book/reading/read.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { DEFAULT_PARTS } from "../../../../src/book/records/parts.ts";
import { pagesOf } from "../../../../src/book/workbook/cells.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../../scenes/scene.ts";

const OURS = [
  "Electrode set: interval (months)",
  "Electrode set: next due",
  "Electrode set: state",
  "Electrode set: row check",
];
const register = (name: string, set: string, more: readonly Typed[] = []) =>
  sheetOf(name, [
    ["Device", "Site", "Electrode set replaced", ...(more.length > 0 ? OURS : [])],
    ...["V-1", "V-2", "V-3", "V-4"].map((id): Typed[] => [id, "Elm", on(set), ...more]),
  ]);
const COPY = register("2025", "2025-05-06", [3, on("2025-08-06"), "Overdue", "OK"]);

describe(hasOurColumns.name, () => {
  it("tells a copy with our columns", () => {
    const pages = pagesOf(bookOf([register("Kit", "2026-05-04"), COPY]));
    expect(pages.map((page) => hasOurColumns(page, DEFAULT_PARTS))).toEqual([false, true]);
  });
  it("lets it be told as a copy alone", () => {
    const book = bookOf([register("Kit", "2026-05-04"), COPY]);
    const said = doubtsSay(readBook(book, oursOf()));
    expect(said).toHaveLength(1);
    expect(said[0]).toContain("2025 looks like a register, but is not read");
  });
});
