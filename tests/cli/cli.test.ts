import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { sheetNamed, valueAt } from "../../src/book/workbook/snapshot.ts";
import { openWorkbook } from "../../src/xlsx/index.ts";
import { sparespan } from "./session.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-cli-"));
const at = (...names: string[]): string => join(folder, ...names);
const CLEAN = at("demo", "velloran-20260706-clean.xlsx");
const UNTIDY = at("demo", "velloran-20260706-untidy.xlsx");
const JULY = ["--report-date", "2026-07-06"];

beforeAll(async () => {
  expect((await sparespan("demo", at("demo"))).code).toBe(0);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe("sparespan", () => {
  it("demo writes two workbooks, the answers and the one for the first run", () => {
    expect(readdirSync(at("demo"))).toEqual([
      "velloran-20260706-clean.xlsx",
      "velloran-20260706-first-run.xlsx",
      "velloran-20260706-untidy-answers.json",
      "velloran-20260706-untidy.xlsx",
    ]);
  });

  it("check finds in the untidy file what its answers name, and nothing else", async () => {
    const { code, out } = await sparespan("check", UNTIDY, "--json", ...JULY);
    expect(code).toBe(1);
    const { problems } = JSON.parse(out) as { problems: Record<string, unknown>[] };
    const answers = JSON.parse(
      readFileSync(at("demo", "velloran-20260706-untidy-answers.json"), "utf8"),
    ) as Record<string, unknown>[];
    const line = ({ kind, sheet, row, heading }: Record<string, unknown>): string =>
      JSON.stringify([kind, sheet, row, heading]);
    expect(problems.map(line).sort()).toEqual(answers.map(line).sort());
  });

  it("today lists what is due with the caution, and exits 0 on clean rows", async () => {
    const { code, out } = await sparespan("today", CLEAN, ...JULY);
    expect(code).toBe(0);
    expect(out).toMatch(
      /^Report date 2026-07-06: 35 devices; 1 device retired\. Parts: Overdue \d+ · To check 0 ·/,
    );
    expect(out).toContain("Planning aid: the maker's instructions");
  });

  it.each(["portable", "live", "values"])(
    "columns --as %s gives the register its columns",
    async (mode) => {
      const path = at(`${mode}.xlsx`);
      const { code, out } = await sparespan("columns", CLEAN, "-o", path, "--as", mode, ...JULY);
      expect({ code, out }).toEqual({
        code: 0,
        out: `${path}: 15 columns for 35 rows, Equipment!M3:AA38; sheet Read me\n`,
      });
      const { snapshot } = openWorkbook(readFileSync(path));
      const sheet = sheetNamed(snapshot, "Equipment");
      expect(sheet && valueAt(sheet, 2, 15)).toBe("Electrode set: next due");
      const formulas = [...(sheet?.formulas.values() ?? [])].join("\n");
      expect(formulas.includes("SPARE.NEXTDUE(")).toBe(mode === "live");
      expect(formulas.includes("WORKDAY.INTL(")).toBe(mode !== "values");
      const again = await sparespan("columns", path, "-n", "--as", mode, ...JULY);
      expect(again.out).toBe("nothing to change\n");
    },
  );

  it("never writes over a file unless told to, and never over the workbook itself", async () => {
    const path = at("there.xlsx");
    writeFileSync(path, "mine");
    expect(await sparespan("columns", CLEAN, "-o", path, ...JULY)).toMatchObject({ code: 2 });
    expect(readFileSync(path, "utf8")).toBe("mine");
    expect((await sparespan("columns", CLEAN, "-o", CLEAN)).err).toContain("--in-place");
    expect((await sparespan("columns", CLEAN, "-o", path, "--force", ...JULY)).code).toBe(0);
    expect((await sparespan("columns", CLEAN)).err).toContain("give somewhere to write");
  });

  it("prints the plan and writes nothing with --dry-run", async () => {
    const files = readdirSync(folder);
    const { code, out } = await sparespan("columns", CLEAN, "--dry-run", ...JULY);
    expect(code).toBe(0);
    expect(out).toContain(
      'add column "Electrode set: next due" at Equipment!P3:P38 (portable formulas)',
    );
    expect(readdirSync(folder)).toEqual(files);
  });

  it("new makes an empty register that reads without a fault", async () => {
    const path = at("new.xlsx");
    expect((await sparespan("new", path)).code).toBe(0);
    const { code, out } = await sparespan("check", path);
    expect({ code, end: out.endsWith("\n0 faults, 0 notices.\n") }).toEqual({ code: 0, end: true });
    expect((await sparespan("columns", path, "-o", at("new2.xlsx"))).err).toBe(
      "sparespan: Equipment holds no devices yet; fill in its rows first\n",
    );
  });

  it("start does the main job on a workbook and writes a copy beside it", async () => {
    const { code, out } = await sparespan("start", CLEAN, ...JULY);
    const copy = CLEAN.replace(".xlsx", " with columns.xlsx");
    expect(code).toBe(0);
    expect(out).toContain(`Written: ${copy}`);
    expect(existsSync(copy)).toBe(true);
  });

  it("says a column's choice is remembered", async () => {
    const path = at("matched.xlsx");
    const match = ["--match", "note=Model"];
    expect((await sparespan("columns", CLEAN, "-o", path, ...match, ...JULY)).code).toBe(0);
    const { out } = await sparespan("check", path, "--json", ...JULY);
    const { registers } = JSON.parse(out) as {
      registers: { matches: { field: string; heading: string }[] }[];
    };
    expect(registers).toHaveLength(1);
    expect(registers[0]?.matches.find(({ field }) => field === "note")?.heading).toBe("Model");
  });

  const wrong: readonly (readonly [string[], string])[] = [
    [["fly"], 'there is no command "fly"; see --help'],
    [["today"], "workbook is missing; see --help"],
    [["today", at("no.xlsx")], `${at("no.xlsx")} does not exist`],
    [["today", at("no.pdf")], `${at("no.pdf")} must be a .xlsx or .xlsm workbook`],
    [
      ["today", at("no.csv")],
      `${at("no.csv")} must be a .xlsx or .xlsm workbook; npx sparespan new BOOK.xlsx --from "${at("no.csv")}" makes one`,
    ],
    [
      ["check", at("no.ods")],
      `${at("no.ods")} must be a .xlsx or .xlsm workbook; npx sparespan new BOOK.xlsx --from "${at("no.ods")}" --convert makes one`,
    ],
    [["today", "a.xlsx", "b.xlsx"], 'one workbook at a time, got "b.xlsx" too'],
    [
      ["today", "a.xlsx", "--report-date", "soon"],
      '--report-date must be a date as yyyy-mm-dd, got "soon"',
    ],
    [["columns", "a.xlsx", "--as", "gold"], '--as must be portable or live or values, got "gold"'],
    [
      ["columns", "a.xlsx", "--match", "device"],
      '--match must be field=heading, such as device="Unit no", got "device"',
    ],
  ];
  it.each(wrong)("says what is wrong with %j and exits 2", async (args, sentence) => {
    expect(await sparespan(...args)).toEqual({
      code: 2,
      out: "",
      err: `sparespan: ${sentence}\n`,
    });
  });

  it("helps, with examples", async () => {
    expect(await sparespan("--help")).toMatchObject({ code: 0 });
    for (const name of ["today", "check", "columns", "new", "demo", "start"]) {
      const { code, out } = await sparespan(name, "--help");
      expect({ code, helps: out.includes(`\n  sparespan ${name}`) }).toEqual({
        code: 0,
        helps: true,
      });
    }
    expect(await sparespan()).toMatchObject({ code: 2, out: "" });
  });

  it("stops at patient data, naming the column and no value", async () => {
    const path = at("patients.xlsx");
    const { newWorkbook } = await import("../../src/xlsx/index.ts");
    const rows = [
      ["Device", "Site", "Electrode set replaced", "Mother's name"],
      ["D1", "S01", 46000, "Doe, Jane"],
    ];
    const cells = rows.flatMap((values, row) =>
      values.map((value, column) => ({ row, column, value })),
    );
    const sheet = {
      kind: "addSheet",
      sheet: "Equipment",
      cells,
      widths: [],
      freezeRows: 0,
    } as const;
    writeFileSync(path, newWorkbook({ summary: "", edits: [sheet] }));
    const { code, out, err } = await sparespan("today", path);
    expect({ code, out }).toEqual({ code: 2, out: "" });
    expect(err).toContain("Mother's name");
    expect(err).not.toContain("Doe");
  });
});
