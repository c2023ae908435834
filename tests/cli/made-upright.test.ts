import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { type TypedRow, typedBook } from "../scenes/own-log-book.ts";
import { sheetAt, sparespan } from "./session.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-upright-"));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});
const DAY = ["--report-date", "2026-07-06"];

const WORDS = [
  ["Device", "Site", "Electrodes last replaced", "Ear cushions last replaced"],
  ["Gerät", "Standort", "Elektroden zuletzt gewechselt", "Ohrpolster zuletzt gewechselt"],
  ["Appareil", "Site", "Électrodes remplacées le", "Coussinets remplacés le"],
  ["Equipo", "Centro", "Electrodos cambiados", "Almohadillas cambiadas"],
] as const;
/** No two of the dates are alike, and none can be read in two ways. */
const DEVICES = [
  ["A-01", "Oak", "2026-06-15", "2026-02-16"],
  ["A-02", "Oak", "2026-05-19", "2026-03-23"],
  ["A-03", "Elm", "2026-01-20", "2026-04-28"],
] as const;

const turned = (rows: readonly TypedRow[]): TypedRow[] =>
  (rows[0] ?? []).map((_, at) => rows.map((row) => row[at] ?? null));

let made = 0;
/** What is due by the book, and what is said where a register is made of it. */
async function dueOf(sheets: Readonly<Record<string, readonly TypedRow[]>>) {
  const [from, path] = ["rows", "made"].map((name) => join(folder, `${name}${(made += 1)}.xlsx`));
  if (from === undefined || path === undefined) throw new Error("no name");
  writeFileSync(from, typedBook(sheets));
  const before = await sparespan("today", from, ...DAY);
  const { out } = await sparespan("new", path, "--from", from, ...DAY);
  const after = await sparespan("today", path, "--json", ...DAY);
  return { before, from, path, out, after };
}

/** The answer of `today` to the same devices in rows. */
async function dueInRows(words: TypedRow, devices: readonly TypedRow[] = DEVICES) {
  const path = join(folder, `upright${(made += 1)}.xlsx`);
  writeFileSync(path, typedBook({ Equipment: [words, ...devices] }));
  return due((await sparespan("today", path, "--json", ...DAY)).out);
}

/** The whole answer but where each line stands, and what is said of other sheets. */
function due(json: string): unknown {
  const said = JSON.parse(json) as { readonly items: readonly object[] };
  const items = said.items.map((item) => ({ ...item, sheet: "", row: 0 }));
  return { ...said, items, doubts: [] };
}

describe("a register made of devices that do not stand in rows", () => {
  it.each(WORDS.map((words) => [words]))("is that of their columns: %j", async (words) => {
    const { before, after, path, from } = await dueOf({ Grid: turned([words, ...DEVICES]) });
    expect(before.err).toContain("npx sparespan new OUT.xlsx --from BOOK.xlsx makes a sheet");
    expect(due(after.out)).toEqual(await dueInRows(words));
    expect(after.out).not.toContain("not read");
    // What was there stays, cell for cell.
    expect(sheetAt(path, "Grid").values).toEqual(sheetAt(from, "Grid").values);
  });

  it("takes the names above columns without a word for them, and tells what it leaves", async () => {
    const [, ...below] = turned([WORDS[0], ...DEVICES]);
    const grid = [
      ["Our equipment"],
      ["Part", "A-01", "A-02", "A-03"],
      ...below,
      ["A-02: cushion torn"],
    ];
    const { after, out } = await dueOf({ Grid: grid });
    expect(due(after.out)).toEqual(await dueInRows(WORDS[0]));
    // Damage that is on no register.
    expect(after.out).toContain("Grid (sheet not read)");
    expect(out).toContain('Not taken from Grid: "Our equipment", "Part" and "A-02: cushion torn".');
  });

  it.each(WORDS.map((words) => [words]))("is that of cards on sheets: %j", async (words) => {
    const cards = DEVICES.map((device) => [device[0], turned([words, device]).slice(1)]);
    const { before, after } = await dueOf(Object.fromEntries(cards) as Record<string, TypedRow[]>);
    expect(before.err).toContain("are cards of one device each");
    expect(due(after.out)).toEqual(await dueInRows(words));
    expect(after.out).not.toContain("not read");
  });

  it.each(WORDS.map((words) => [words]))("is that of cards below each other: %j", async (words) => {
    const cards = DEVICES.flatMap((device) => [...turned([words, device]), []]);
    const { before, after } = await dueOf({ Cards: cards });
    expect(before.err).toContain("cards of one device each below each other");
    expect(due(after.out)).toEqual(await dueInRows(words));
    expect(after.out).not.toContain("not read");
  });

  it.each(WORDS.map((words) => [words]))("is that of tables side by side: %j", async (words) => {
    const [device, , set, cushion] = words;
    const rowOf = ([id, , first, second]: (typeof DEVICES)[number]): TypedRow => [
      id,
      first,
      second,
    ];
    const beside = [
      ["Oak", null, null, null, "Elm", null, null],
      [device, set, cushion, null, device, set, cushion],
      [...rowOf(DEVICES[0]), null, ...rowOf(DEVICES[2])],
      [...rowOf(DEVICES[1])],
    ];
    const { before, after } = await dueOf({ Overview: beside });
    expect(before.err).toContain("has tables side by side");
    expect(due(after.out)).toEqual(await dueInRows(words));
    expect(after.out).not.toContain("not read");
  });

  it("keeps dates in doubt", async () => {
    const [names = [], sites = [], ...dates] = turned([WORDS[0], ...DEVICES]);
    const doubtful = dates.map((row) => row.map((cell, at) => (at === 2 ? `${cell}?` : cell)));
    const { after } = await dueOf({ Grid: [names, sites, ...doubtful] });
    const asked = DEVICES.map((row) =>
      row.map((cell, at) => (row[0] === "A-02" && at > 1 ? `${cell}?` : cell)),
    );
    expect(due(after.out)).toEqual(await dueInRows(WORDS[0], asked));
  });

  it("is not made where devices stand in rows already", async () => {
    const { out, path } = await dueOf({
      Equipment: [WORDS[0], ...DEVICES],
      Grid: turned([WORDS[0], ...DEVICES]),
    });
    expect(out).toBe("");
    expect(() => sheetAt(path, "Equipment")).toThrow();
  });
});
