import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { judge } from "../../../../src/book/columns/judge.ts";
import { readBook } from "../../../../src/book/reading/read.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../../scenes/scene.ts";

/** Two sheets laid out alike; invented. That sites number their devices from 1 on: common practice, no source. */
function read(names: readonly string[], rows: readonly Typed[][][], heads = HEADS) {
  const book = bookOf(names.map((name, at) => sheetOf(name, [heads, ...(rows[at] ?? [])])));
  const reading = readBook(book, oursOf());
  const [part] = judge(book, reading).parts;
  const rowsOf = part === undefined ? [] : judge(book, reading).rows(part);
  return {
    sheets: reading.registers.map(({ sheet }) => sheet),
    sites: [...new Set(reading.devices.map(({ site }) => site))],
    states: rowsOf.map(({ answers }) => answers.state),
    problems: reading.problems,
  };
}

const HEADS = ["Device", "Electrodes replaced"];
const on1 = (month: number, as: (device: number) => string | number): Typed[][] =>
  [1, 2, 3, 4].map((device) => [as(device), on(`2026-0${month}-0${2 * device}`)]);
const plain = (device: number): number => device;

describe("sheets of sites that each number their own devices", () => {
  it("are all read, and each device is in doubt until the site is in its number", () => {
    const { sheets, sites, states, problems } = read(
      ["North", "South"],
      [on1(4, plain), on1(1, plain)],
    );
    expect(sheets).toEqual(["North", "South"]);
    expect(sites).toEqual(["North", "South"]);
    expect(new Set(states)).toEqual(new Set(["Check row"]));
    expect(problems.find(({ kind }) => kind === "duplicate device")?.fix).toContain('"North 1"');
  });

  it.each([
    ["a word and a number", (one) => `Unit ${one}`],
    ["a number sign", (one) => `Screener #${one}`],
    ["a word and a letter", (one) => `Cart ${"ABCD".charAt(one - 1)}`],
    ["Polish words", (one) => `Aparat nr ${one}`],
  ] as [string, (one: number) => string][])("are read where they have %s", (_, as) => {
    const { sheets, states, problems } = read(["North", "South"], [on1(4, as), on1(1, as)]);
    expect(sheets).toEqual(["North", "South"]);
    expect(new Set(states)).toEqual(new Set(["Check row"]));
    expect(doubtsSay({ ours: oursOf(), problems }).join(" ")).toContain(
      `write the site into the identifier, such as "North ${as(1)}", in the register`,
    );
  });

  it("are read where a column says another site for each, whatever their names", () => {
    const heads = ["Device", "Site", "Electrodes replaced"];
    const at = (site: string): Typed[][] =>
      on1(4, (one) => `HS-10${one}`).map(([device, date]) => [device ?? null, site, date ?? null]);
    const { sheets, problems } = read(["One", "Two"], [at("North"), at("South")], heads);
    expect(sheets).toEqual(["One", "Two"]);
    expect(doubtsSay({ ours: oursOf(), problems }).join(" ")).toContain('"North HS-101"');
    expect(read(["One", "Two"], [at("North"), at("North")], heads).sheets).toEqual(["One"]);
  });

  it("are told with a way out where they may be others", () => {
    const as = (one: number): string => `OAE-${one}`;
    const { problems } = read(["North", "South"], [on1(4, as), on1(5, as)]);
    expect(doubtsSay({ ours: oursOf(), problems }).join(" ")).toContain(
      'if its devices are others with the same names, write the site into the identifiers, such as "South OAE-1"',
    );
  });

  it("are without doubt once it is", () => {
    const { states, problems } = read(
      ["North", "South"],
      [on1(4, (one) => `North ${one}`), on1(1, (one) => `South ${one}`)],
    );
    expect(states.map((state) => state === "Overdue")).toEqual([
      ...[false, false, false, false, true, true, true, true],
    ]);
    expect(states).not.toContain("Check row");
    expect(problems.filter(({ kind }) => kind === "duplicate device")).toEqual([]);
  });

  it("are read beside the same dates where their serial numbers differ", () => {
    const heads = ["Device", "Serial number", "Electrodes replaced"];
    const withSerial = (first: number): Typed[][] =>
      on1(4, plain).map(([device, date], at) => [device ?? null, `S${first + at}`, date ?? null]);
    const rows = [withSerial(100), withSerial(200)];
    expect(read(["North", "South"], rows, heads).sheets).toEqual(["North", "South"]);
    expect(read(["North", "South"], [withSerial(100), withSerial(100)], heads).sheets).toEqual([
      "North",
    ]);
  });

  it.each([
    ["a row of dates is the same", ["North", "South"], 4],
    ["one is named after the other", ["Kit", "Kit (2)"], 1],
    ["one is named as a copy", ["North", "Old"], 1],
    ["a name says its period", ["Kit 2025", "Stock 2026"], 1],
  ] as [string, string[], number][])("are copies where %s", (_, names, month) => {
    expect(read(names, [on1(4, plain), on1(month, plain)]).sheets).toHaveLength(1);
  });

  it("are copies where devices have identifiers of their own", () => {
    const named = (one: number): string => `HS-10${one}`;
    expect(read(["North", "South"], [on1(4, named), on1(1, named)]).sheets).toHaveLength(1);
  });
});
