import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { type TypedRow, typedBook } from "../scenes/own-log-book.ts";
import { sparespan } from "./session.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-rows-"));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});
const DAY = ["--report-date", "2026-06-10"];

let made = 0;
function bookAt(sheets: Readonly<Record<string, readonly TypedRow[]>>): string {
  const path = join(folder, `book ${(made += 1)}.xlsx`);
  writeFileSync(path, typedBook(sheets));
  return path;
}

/** Twelve lines of three devices, under headings of which only that of the device may be known. */
const events = (headings: TypedRow, [set, cushion]: readonly [string, string]): TypedRow[] => [
  headings,
  ...["2025-08", "2025-11", "2026-02", "2026-05"].flatMap((month) => [
    [`${month}-03`, "E-1", set, "ab"],
    [`${month}-04`, "E-2", set, "ab"],
    [`${month}-05`, "E-3", cushion, "cd"],
  ]),
];

describe("a workbook with nothing but a list of replacements", () => {
  it.each<[TypedRow, readonly [string, string]]>([
    [
      ["Date", "Device", "What was done", "Who"],
      ["new electrodes", "ear cushions replaced"],
    ],
    [
      ["Fecha", "Equipo", "Pieza cambiada", "Técnico"],
      ["electrodos", "almohadillas"],
    ],
    [
      ["Datum", "Gerät", "Was", "Wer"],
      ["Elektroden gewechselt", "Ohrpolster gewechselt"],
    ],
    [
      ["Date", "Appareil", "Travail", "Qui"],
      ["électrodes remplacées", "coussinets remplacés"],
    ],
  ])("is read by what its refusal says to type: %j", async (headings, words) => {
    const book = bookAt({ Events: events(headings, words) });
    const { code, err } = await sparespan("check", book, ...DAY);
    expect(code).toBe(2);
    const [typed] = /npx sparespan new OUT\.xlsx --from BOOK\.xlsx --log/.exec(err) ?? [];
    expect(typed).toBeDefined();
    const out = book.replace(".xlsx", "-made.xlsx");
    const said = typed?.split(" ").slice(2) ?? [];
    const args = said.map((word) => ({ "OUT.xlsx": out, "BOOK.xlsx": book })[word] ?? word);
    const done = await sparespan(...args, ...DAY);
    expect(done.out, done.err).toContain("12 lines understood, 0 not");
    const today = await sparespan("today", out, "--json", ...DAY);
    // Sets last 3 months from the latest line, cushions 6; by the first lines all would be overdue.
    expect(JSON.parse(today.out)).toMatchObject({ devices: 3, overdue: 0 });
  });

  it("needs to be told how its rows are meant", async () => {
    const rows = events(
      ["Fecha", "Equipo", "Pieza cambiada", "Técnico"],
      ["electrodos", "almohadillas"],
    );
    const { code, err } = await sparespan(
      "new",
      join(folder, "x.xlsx"),
      "--from",
      bookAt({ Events: rows }),
    );
    expect([code, err]).toEqual([
      2,
      expect.stringContaining("or --log where each row is a replacement"),
    ]);
  });

  it("is refused as before where it holds no devices", async () => {
    const book = bookAt({
      List: [
        ["Item", "Amount"],
        ["gel", 3],
        ["wipes", 4],
      ],
    });
    const { code, err } = await sparespan("new", join(folder, "y.xlsx"), "--from", book, "--log");
    expect([code, err]).toEqual([2, expect.stringContaining("no equipment register found")]);
  });
});
