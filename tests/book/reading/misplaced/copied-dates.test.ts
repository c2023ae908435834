import { describe, expect, it } from "vitest";
import { judge } from "../../../../src/book/columns/judge.ts";
import { readBook } from "../../../../src/book/reading/read.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../../scenes/scene.ts";

const HEADINGS: Typed[] = ["Device", "Site", "Electrode set replaced", "Ear cushion replaced"];
const IDS = ["A1", "A2", "A3", "A4"];
const register = (name: string, different: Readonly<Record<string, string>> = {}) =>
  sheetOf(name, [
    HEADINGS,
    ...IDS.map((id): Typed[] => [id, "Alder", on(different[id] ?? "2026-05-04"), on("2026-05-04")]),
  ]);

function read(...sheets: readonly ReturnType<typeof sheetOf>[]) {
  const book = bookOf(sheets);
  const reading = readBook(book, oursOf());
  const judged = judge(book, reading);
  const [set] = judged.parts;
  if (set === undefined) throw new Error("no part");
  return {
    sheets: reading.registers.map(({ sheet }) => sheet),
    states: judged.rows(set).map(({ answers }) => answers.state),
    kinds: reading.problems.map(({ kind }) => kind),
    causes: reading.problems.map(({ cause }) => cause),
  };
}

describe("two sheets that list the same devices", () => {
  it("need no doubt where their dates are the same", () => {
    const { states, kinds } = read(register("Equipment"), register("Sheet2"));
    expect(new Set(states)).toEqual(new Set(["Not due"]));
    expect(kinds).toEqual(["register not read"]);
  });

  it("put a later date in doubt where no name says which is old, whichever comes first", () => {
    const [one, other] = [register("Equipment", { A2: "2026-06-04" }), register("Sheet2")];
    const { sheets, states, causes } = read(one, other);
    expect(sheets).toEqual(["Equipment"]);
    expect(states).toEqual(["Not due", "Check row", "Not due", "Not due"]);
    expect(causes).toContain("Sheet2 has 2026-05-04 for A2.");
    // The earlier one counts by itself.
    const turned = read(other, one);
    expect(turned.sheets).toEqual(["Sheet2"]);
    expect(new Set(turned.states)).toEqual(new Set(["Not due"]));
    expect(turned.causes).toEqual([
      "Equipment looks like a register, but is not read: its devices are on Sheet2 too. It has other dates for A2; none of them counts.",
    ]);
  });

  it.each([
    ["Copy Equipment"],
    ["Equipment (2)"],
    ["Equipment old"],
    ["Kopie von Equipment"],
    ["Copie de Equipment"],
    ["Copia de Equipment"],
    ["Cópia de Equipment"],
    ["Kopia Equipment"],
    ["Kopie Equipment"],
    ["Equipment oud"],
    ["Equipment vecchio"],
    ["Equipment antigo"],
    ["Stare Equipment"],
    ["Equipment backup"],
  ])("are read from the other than %s, even where that comes first", (name) => {
    const { sheets, states, causes } = read(
      register(name, { A2: "2026-06-04", A3: "2026-01-05" }),
      register("Equipment"),
    );
    expect(sheets).toEqual(["Equipment"]);
    // An old copy has older dates: they say nothing against those of today.
    expect(new Set(states)).toEqual(new Set(["Not due"]));
    expect(causes).toEqual([expect.stringContaining("other dates for A2 and A3")]);
  });

  it("are read from the copy where there is nothing else", () => {
    expect(read(register("Copy of list")).sheets).toEqual(["Copy of list"]);
  });

  it("are no copies of each other by such a word alone", () => {
    const wing = sheetOf("Old wing", [HEADINGS, ["B1", "X", on("2026-05-04"), on("2026-05-04")]]);
    expect(read(wing, register("New wing")).sheets).toEqual(["Old wing", "New wing"]);
  });

  it("are no rivals where a name says an earlier time", () => {
    const { states, sheets } = read(
      register("Equipment"),
      register("2024", { A1: "2024-02-01", A2: "2024-03-01" }),
    );
    expect(sheets).toEqual(["Equipment"]);
    expect(new Set(states)).toEqual(new Set(["Not due"]));
  });

  it.each([
    ["Plan 2026", "2026"],
    ["Soll 2026", "Ist 2026"],
    ["Equipment", "Equipment 2026"],
    ["Equipment", "Equipment June 2026"],
    ["Equipment", "Q2 2026"],
    ["Equipment", "H1 2026"],
  ])("are rivals while the time that a name says is not over: %s, %s", (name, other) => {
    const { states } = read(register(name, { A2: "2026-06-04" }), register(other));
    expect(states).toEqual(["Not due", "Check row", "Not due", "Not due"]);
  });

  it.each([["Equipment 2025"], ["Equipment May 2026"], ["Q1 2026"], ["H2 2025"]])(
    "are no rivals once it is: %s",
    (name) => {
      const { states } = read(register("Equipment", { A2: "2026-06-04" }), register(name));
      expect(new Set(states)).toEqual(new Set(["Not due"]));
    },
  );
});
