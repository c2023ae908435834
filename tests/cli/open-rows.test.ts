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

describe("a workbook with a sheet for each part", () => {
  it("is made one register by what check says to type", async () => {
    const sheet = (heading: string, day: string): TypedRow[] => [
      ["Device", "Site", heading],
      ...["E-1", "E-2", "E-3"].map((id): TypedRow => [id, "North", day]),
    ];
    const book = bookAt({
      Electrodes: sheet("Electrodes replaced", "2026-02-04"),
      Cushions: sheet("Ear cushions replaced", "2026-05-04"),
    });
    const check = await sparespan("check", book, ...DAY);
    expect(check.out).toContain("npx sparespan new OUT.xlsx --from BOOK.xlsx makes a register");
    const out = book.replace(".xlsx", "-made.xlsx");
    const done = await sparespan("new", out, "--from", book, ...DAY);
    expect([done.code, done.err]).toEqual([0, ""]);
    expect(done.out).toContain(
      "sheet Equipment with 3 devices, made from the rows of Electrodes and Cushions.",
    );
    const today = await sparespan("today", out, "--json", ...DAY);
    expect(JSON.parse(today.out)).toMatchObject({ devices: 3, overdue: 3, toCheck: 0 });
    // What stays behind is no rival of the register that was made of it.
    expect((await sparespan("check", out, ...DAY)).out).toContain("0 faults, 0 notices");
  });
});
