import { execFileSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, parse } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { afterAll, describe, expect, it } from "vitest";
import {
  type CellValue,
  isCellError,
  type Sheet,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../../src/book/workbook/snapshot.ts";
import { applyPlan, newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import {
  fullPlan,
  NEW_SHEET,
  registerOf,
  workbook,
  WORKBOOKS,
} from "../reference/workbooks/full-plan.ts";

/** LibreOffice 7.4 does not open these as they come, before any plan. */
const NOT_ELSEWHERE = ["backslash.xlsx", "shouting.xlsx"];
/** openpyxl reads part names as they are spelt and does not know the strict form. */
const NOT_OPENPYXL = [...NOT_ELSEWHERE, "strict.xlsx"];
const MINUTES = 600_000;

const soffice = whereIs("soffice");
if (!soffice) {
  process.stdout.write(
    "Left out: LibreOffice (soffice) is not installed, so no other program opens the files.\n",
  );
}

const PYTHON = "/usr/bin/python3";
const WELL_FORMED = fileURLToPath(new URL("../reference/workbooks/wellformed.py", import.meta.url));
const openpyxl = runs(PYTHON, ["-c", "import openpyxl"]);
if (!openpyxl) {
  process.stdout.write(
    "Left out: Python with openpyxl is not installed, so it does not read the files.\n",
  );
}

function runs(program: string, words: readonly string[]): boolean {
  try {
    execFileSync(program, words, { stdio: "ignore" });
    return true;
  } catch {
    return false;
  }
}

function whereIs(program: string): string | null {
  try {
    return execFileSync("which", [program], { encoding: "utf8" }).trim();
  } catch {
    return null;
  }
}

/** What LibreOffice reads in each file: it opens all in one run and saves what it has read. */
function readElsewhere(
  files: ReadonlyMap<string, Uint8Array>,
  folder: string,
): Map<string, Snapshot> {
  for (const [name, bytes] of files) writeFileSync(join(folder, name), bytes);
  const profile = `-env:UserInstallation=${pathToFileURL(join(folder, "profile")).href}`;
  const names = [...files.keys()].map((name) => join(folder, name));
  const out = join(folder, "out");
  const options = ["--headless", "--convert-to", "xlsx", "--outdir", out];
  execFileSync(soffice ?? "", [profile, ...options, ...names], {
    stdio: "ignore",
    timeout: 3 * MINUTES,
  });
  return new Map(
    readdirSync(out).map((name) => [
      parse(name).name,
      openWorkbook(new Uint8Array(readFileSync(join(out, name)))).snapshot,
    ]),
  );
}

/** A blank cell and one whose formula gives an empty text look the same to a reader. */
function shown(value: CellValue | undefined): CellValue {
  if (value === undefined || value === "") return null;
  if (isCellError(value)) return value.error;
  // LibreOffice drops a control character that XML cannot hold.
  return typeof value === "string" ? value.replaceAll("\u0001", "") : value;
}

function sheetOf(book: Snapshot | undefined, name: string): Sheet {
  const sheet = book && sheetNamed(book, name);
  if (!sheet) throw new Error(`the sheet ${name} was not read`);
  return sheet;
}

function expectSame(found: CellValue, wanted: CellValue, place: string): void {
  if (typeof wanted === "number") expect(found, place).toBeCloseTo(wanted, 9);
  else expect(found, place).toBe(wanted);
}

const folder = mkdtempSync(join(tmpdir(), "xlsx-"));
const saved = new Map<string, Uint8Array>();
for (const name of WORKBOOKS) {
  const open = openWorkbook(workbook(name));
  saved.set(name, applyPlan(open, fullPlan(open.snapshot, false)));
}
const own = fullPlan(openWorkbook(workbook("bare.xlsx")).snapshot, false).edits.filter(
  (edit) => "sheet" in edit && edit.sheet === NEW_SHEET,
);
saved.set(
  "made.xlsx",
  newWorkbook({ summary: "A book of its own", edits: own }, { dateSystem: 1904 }),
);
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe.skipIf(!soffice)(
  "files read by LibreOffice",
  () => {
    const names = [...saved.keys()].filter((name) => !NOT_ELSEWHERE.includes(name));
    const files = new Map<string, Uint8Array>();
    for (const name of names) {
      files.set(name, saved.get(name) ?? new Uint8Array());
      if (name !== "made.xlsx") files.set(`before-${name}`, workbook(name));
    }
    const theirs = soffice ? readElsewhere(files, folder) : new Map<string, Snapshot>();

    it.each(names)("%s shows the same values there", (name) => {
      const there = theirs.get(parse(name).name);
      const before = theirs.get(`before-${parse(name).name}`);
      for (const sheet of openWorkbook(saved.get(name) ?? new Uint8Array()).snapshot.sheets) {
        const other = sheetOf(there, sheet.name);
        const old = before ? sheetNamed(before, sheet.name) : null;
        const free = sheet.name === "Register" && before ? registerOf(before).free : 0;
        for (const [row, line] of sheet.values.entries()) {
          for (const [column, value] of line.entries()) {
            // What was there must read as it did there before the plan, what is new as the plan says.
            const wanted = old && column < free ? valueAt(old, row, column) : value;
            if (old && sheet.name !== "Register") continue;
            const place = `${sheet.name} row ${row + 1} column ${column + 1}`;
            expectSame(shown(other.values[row]?.[column]), shown(wanted), place);
          }
        }
      }
    });

    it.each(names.filter((name) => name !== "made.xlsx"))(
      "%s shows the old sheets as before",
      (name) => {
        const there = theirs.get(parse(name).name);
        const before = theirs.get(`before-${parse(name).name}`);
        expect(before?.sheets.length).toBeGreaterThan(0);
        for (const old of before?.sheets ?? []) {
          const now = sheetOf(there, old.name);
          const lines = old.values.map((line, row) =>
            line.map((_, column) => valueAt(now, row, column)),
          );
          expect(lines).toEqual(old.values);
        }
      },
    );

    it("has the new columns among what was compared", () => {
      const { sheet, headerRow } = registerOf(
        theirs.get("untidy") ?? { dateSystem: 1900, formats: [], sheets: [], names: [] },
      );
      expect(sheet.values[headerRow]?.slice(4)).toEqual(["Next due", "Twice", "State", "Mixed"]);
      expect(theirs.get("untidy")?.names.map(({ name }) => name)).toContain("Due_dates");
    });
  },
  MINUTES,
);

describe.skipIf(!openpyxl)("files read by Python", () => {
  it("are well formed for expat and open in openpyxl", () => {
    const paths = [...saved].map(([name, bytes]) => {
      const path = join(folder, `python-${name}`);
      writeFileSync(path, bytes);
      return path;
    });
    const told = execFileSync(PYTHON, [WELL_FORMED, ...paths], { encoding: "utf8" });
    const unknown = new RegExp(NOT_OPENPYXL.join("|"));
    expect(told.split("\n").filter((line) => line !== "" && !unknown.test(line))).toEqual([]);
  });
});
