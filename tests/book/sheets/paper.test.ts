import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { onPaper } from "../../../src/book/sheets/paper.ts";
import { highRows, noteLines, widthOf } from "../../../src/book/sheets/shape.ts";
import { partsOf, sparespan } from "../../cli/session.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-paper-"));
const at = (name: string): string => join(folder, name);
beforeAll(async () => {
  await sparespan("demo", folder);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/**
 * Points of the type on paper, by arithmetic on the file alone: ISO 216 and ANSI/ASME Y14.1 give the paper (the narrower
 * side of A4 upright, of Letter on its side), ECMA-376 part 1 (18.3.1.13) the width of a column in pixels of the usual
 * font, 96 to the inch.
 */
function points(sheet: string, wide: number): number {
  const characters = [...sheet.matchAll(/<col ([^>]*)\/>/g)].map(([, tag = ""]) => {
    const number = (name: string): number => Number(new RegExp(`${name}="([^"]*)"`).exec(tag)?.[1]);
    return number("width") * (number("max") - number("min") + 1);
  });
  const inches = characters.reduce((sum, width) => sum + width * 7, 0) / 96;
  const margin = Number(/<pageMargins [^>]*left="([^"]*)"/.exec(sheet)?.[1]);
  const paper = sheet.includes('orientation="portrait"') ? 210 / 25.4 : 11;
  return Math.min(11, (11 * wide * (paper - 2 * margin)) / inches);
}

describe("what is made for paper", () => {
  it("is one page wide at 8 points or more, but for Parts, which is two wide with its names on both", async () => {
    const steps = [["columns"], ["order"], ["ahead"], ["budget"], ["rounds"]] as const;
    const evidence = ["evidence", "--from", "2026-01-01", "--to", "2026-06-30"] as const;
    let book = at("velloran-20260706-clean.xlsx");
    for (const [nth, [command, ...more]] of [...steps, evidence].entries()) {
      const out = at(`step-${nth}.xlsx`);
      const said = await sparespan(
        command,
        book,
        ...more,
        ...["-o", out, "--report-date", "2026-07-06"],
      );
      expect(said.code, said.err).toBeLessThan(2);
      book = out;
    }
    const parts = partsOf(book);
    const sheets = [...parts].filter(([, text]) => text.includes("<pageSetup "));
    expect(sheets.length).toBeGreaterThan(25);
    const wide = sheets.map(([, text]) => Number(/fitToWidth="(\d+)"/.exec(text)?.[1]));
    expect(wide.filter((pages) => pages > 1)).toEqual([2]);
    for (const [nth, [name, text]] of sheets.entries()) {
      expect([name, points(text, wide[nth] ?? 1) >= 8]).toEqual([name, true]);
    }
    expect(parts.get("xl/workbook.xml")).toMatch(/Print_Titles"[^>]*>Parts!\$A:\$A,Parts!\$3:\$3</);
  });

  it("stands upright where that keeps it large", () => {
    const about = { titleRows: null, footer: "" };
    const sides = [60, 114, 115, 190, 191, 380, 381].map((characters) => {
      const { orientation, pagesWide, titleColumns } = onPaper("S", characters, about);
      return [orientation, pagesWide, titleColumns];
    });
    expect(sides).toEqual([
      ["portrait", 1, 0],
      ["portrait", 1, 0],
      ["landscape", 1, 0],
      ["landscape", 1, 0],
      ["landscape", 2, 1],
      ["landscape", 2, 1],
      ["landscape", 3, 1],
    ]);
  });

  it("has rows as high as their longest text needs", () => {
    const columns = [
      { heading: "Item", width: 10 },
      { heading: "Why it is there", width: 10, wraps: true },
    ] as const;
    const long = "one two three four five six seven";
    const high = highRows(
      columns,
      [
        ["a", "short"],
        ["b", long],
        [long, null],
      ],
      { head: 4 },
    );
    // Eleven letters a line: "one two", "three four", "five six", "seven"; a text that does not wrap takes one.
    expect(high).toEqual([
      { row: 4, points: 45 },
      { row: 6, points: 60 },
    ]);
    expect(highRows(columns, [["a", "b"]], { head: 0, least: 24 }).at(-1)).toEqual({
      row: 1,
      points: 24,
    });
    expect(widthOf({ heading: "Replacements by", width: 4 })).toBe(15);
    expect(widthOf({ heading: "Due", width: 4, format: "yyyy-mm-dd" })).toBe(12);
  });

  it("has its notes in lines no longer than the page, none lost, and in the lines there are where the table stays", () => {
    const long = Array.from({ length: 60 }, (_, at) => `word${at}`).join(" ");
    const notes = ["First sentence.", "Second.", long, "Fourth.", "Fifth."];
    const columns = [{ heading: "Item", width: 20 }];
    const said = notes.join(" ").split(" ");
    const lines = noteLines(notes, columns);
    expect(lines[0]).toBe("First sentence. Second.");
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(120);
    expect(lines.join(" ").split(" ")).toEqual(said);
    expect(noteLines(notes, columns, 3)).toHaveLength(3);
    expect(noteLines(notes, columns, 3).join(" ").split(" ")).toEqual(said);
    expect(noteLines(["One."], columns)).toEqual(["One.", "", ""]);
  });
});
