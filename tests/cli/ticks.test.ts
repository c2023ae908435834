import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { type TypedRow, typedBook } from "../scenes/own-log-book.ts";
import { sparespan } from "./session.ts";

/** Months that are ticked where a part was replaced, as people keep them; invented. */
const folder = mkdtempSync(join(tmpdir(), "sparespan-ticks-"));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});
const DAY = ["--report-date", "2026-07-06"];
const X = "x";
const _ = null;

let made = 0;
function bookAt(sheet: string, rows: readonly TypedRow[]): string {
  const path = join(folder, `book ${(made += 1)}.xlsx`);
  writeFileSync(path, typedBook({ [sheet]: rows }));
  return path;
}

/** What is due, of a book made by ticks. */
async function dueOf(sheet: string, rows: readonly TypedRow[]) {
  const out = join(folder, `made ${(made += 1)}.xlsx`);
  const said = await sparespan("new", out, "--from", bookAt(sheet, rows), "--ticks", ...DAY);
  if (!existsSync(out)) return { said, due: [] };
  const today = await sparespan("today", out, "--json", ...DAY);
  const { items } = JSON.parse(today.out) as {
    items: { device: string; part: string; state: string; due: string | null }[];
  };
  return { said, due: items.map((one) => `${one.device} ${one.part} ${one.state} ${one.due}`) };
}

const ITALIAN: readonly TypedRow[] = [
  ["Punto nascita", "Apparecchio", "Ricambio", "gen", "feb", "mar", "apr", "mag", "giu", "lug"],
  ["Lago", "IT1", "elettrodi", _, _, X, _, _, X, _],
  ["Lago", "IT1", "cuscinetto", X, _, _, _, _, _, _],
  ["Lago", "IT2", "elettrodi", X, _, _, _, _, _, _],
];

describe("months that are ticked", () => {
  it("are told as marks and not as texts for counts, with the way to take them", async () => {
    const { out } = await sparespan("check", bookAt("Cambi 2026", ITALIAN), ...DAY);
    expect(out).toContain("Months are marked, not counted. Under its months stand marks, such as");
    expect(out).toContain("with --ticks where each tick is a replacement");
    expect(out).not.toContain("Count is text");
    expect(out).not.toContain("Month is counted twice");
  });

  it("count from the first day of the latest month, where that was said", async () => {
    const { said, due } = await dueOf("Cambi 2026", ITALIAN);
    expect(said.out).toContain("Each tick (x) was taken as a replacement on the first day");
    expect(said.out).toContain('The year of the months is taken from "Cambi 2026".');
    // Three months from 1 June and 1 January, six months from 1 January.
    expect(due).toEqual([
      "IT2 Electrode set Overdue 2026-04-01",
      "IT1 Ear cushion Overdue 2026-07-01",
      "IT2 Ear cushion Check row null",
    ]);
  });

  it("are asked for by the command that finds no day", async () => {
    const out = join(folder, "none.xlsx");
    const { code, err } = await sparespan(
      "new",
      out,
      "--from",
      bookAt("Cambi 2026", ITALIAN),
      ...DAY,
    );
    expect([code, err]).toEqual([2, expect.stringContaining("or --ticks where months are ticked")]);
  });

  it.each<[string, readonly TypedRow[]]>([
    ["a month after the report date", [["A", "K-1", "electrodes", X, _, _, X]]],
    ["another mark", [["A", "K-1", "electrodes", X, _, "o", _]]],
    ["a word", [["A", "K-1", "electrodes", X, _, "plan", "no"]]],
  ])("do not count with %s", async (_what, lines) => {
    const headings = ["Site", "Device", "Part", "2026-01", "2026-02", "2026-04", "2026-08"];
    const more: TypedRow = ["A", "K-2", "electrodes", X, X, _, _];
    const { due, said } = await dueOf("Kit", [headings, ...lines, more]);
    expect(said.out).toContain("Not taken, because they are no plain ticks of a month");
    expect(due).toContain("K-1 Electrode set Overdue 2026-04-01");
  });

  it.each<[string, TypedRow, string]>([
    ["Wechsel", ["Klinik", "Gerät", "Teil", "Jan 2026", "Feb 2026", "Mrz 2026"], "Elektroden"],
    ["Suivi", ["Site", "Appareil", "Pièce", "janv. 2026", "févr. 2026", "mars 2026"], "électrodes"],
    ["Cambios 2026", ["Sitio", "Equipo", "Pieza", "ene", "feb", "mar"], "electrodos"],
    ["Wymiany 2026", ["Oddział", "Aparat", "Część", "sty", "lut", "mar"], "elektrody"],
  ])("in other languages: %s", async (sheet, headings, part) => {
    const { due } = await dueOf(sheet, [
      headings,
      ["A", "K-1", part, X, _, "X"],
      ["A", "K-2", part, _, "✓", _],
    ]);
    expect(due.filter((one) => !one.includes("Check row"))).toEqual([
      "K-2 Electrode set Overdue 2026-05-01",
      "K-1 Electrode set Overdue 2026-06-01",
    ]);
  });

  it("are no marks where counts stand among them", async () => {
    const rows: readonly TypedRow[] = [
      ["Site", "Device", "Electrodes replaced", "2026-04", "2026-05", "2026-06"],
      ["A", "K-1", "2026-05-04", 80, "x", 90],
      ["A", "K-2", "2026-05-04", 81, "x", 91],
    ];
    const { out } = await sparespan("check", bookAt("Kit", rows), ...DAY);
    expect(out).toContain("Count is text");
  });
});
