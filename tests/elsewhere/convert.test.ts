import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import process from "node:process";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openWorkbook } from "../../src/xlsx/index.ts";
import { separated } from "../../src/book/lists/separated.ts";
import { sparespan } from "../cli/session.ts";
import { officeMissing } from "./office.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-convert-test-"));
const at = (name: string): string => join(folder, name);
const BOOK = at("velloran-20260706-clean.xlsx");
const missing = officeMissing();
if (missing !== null) process.stdout.write(`Workbooks of another form: ${missing}.\n`);

beforeAll(async () => {
  await sparespan("demo", folder);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** The book in another form, by LibreOffice itself. */
function saved(ending: string): string {
  const profile = `-env:UserInstallation=file://${at("profile")}`;
  const args = [profile, "--headless", "--convert-to", ending, "--outdir", folder, BOOK];
  spawnSync("soffice", args, { stdio: "ignore" });
  return BOOK.replace(/xlsx$/, ending);
}

describe("workbooks of another form", () => {
  it.skipIf(missing !== null).each(["ods", "xls"])(
    "a .%s that LibreOffice saved comes in with every value of the register",
    async (ending) => {
      const path = saved(ending);
      const out = at(`from-${ending}.xlsx`);
      const said = await sparespan("new", out, "--from", path, "--convert");
      expect(said.code, said.err).toBe(0);
      const values = (file: string) => openWorkbook(readFileSync(file)).snapshot.sheets[0]?.values;
      const [before, after] = [values(BOOK), values(out)];
      expect(before?.length).toBeGreaterThan(30);
      before?.forEach((row, index) => {
        row.forEach((value, column) => {
          if (value !== null) expect(after?.[index]?.[column]).toEqual(value);
        });
      });
      const today = (file: string) => sparespan("today", file, "--json");
      expect((await today(out)).out).toBe((await today(BOOK)).out);
    },
    300_000,
  );

  it.skipIf(missing !== null)(
    "a file LibreOffice cannot read is refused in a sentence",
    async () => {
      writeFileSync(at("broken.ods"), "PK\u0003\u0004 and nothing behind it");
      const said = await sparespan("new", at("b.xlsx"), "--from", at("broken.ods"), "--convert");
      expect(said.code).toBe(2);
      expect(said.err).toMatch(
        /^sparespan: LibreOffice could not read .*broken\.ods: open .* save it as/,
      );
    },
  );

  it("without LibreOffice the sentence says how to save it as .xlsx", async () => {
    writeFileSync(at("some.ods"), "");
    const { PATH } = process.env;
    process.env["PATH"] = folder;
    try {
      const said = await sparespan("new", at("c.xlsx"), "--from", at("some.ods"), "--convert");
      expect(said.err).toContain("it is not installed here: open ");
      expect(said.err).toContain("save it as an Excel workbook (.xlsx)");
    } finally {
      process.env["PATH"] = PATH;
    }
  });
});

/** Source: the csv module of Python, excel dialect, as the other reader and writer of such lists. */
const PYTHON = `
import csv, json, random, sys
random.seed(7)
signs = ['a', 'é', '"', ',', ';', '\\n', '\\r\\n', ' ', '1', "'", '|', '\\t']
for number in range(300):
    separator = random.choice([',', ';', '\\t', '|'])
    rows = [[''.join(random.choices(signs, k=random.randrange(6))) for _ in range(3)] for _ in range(4)]
    import io
    out = io.StringIO(newline='')
    csv.writer(out, delimiter=separator).writerows(rows)
    back = list(csv.reader(io.StringIO(out.getvalue(), newline=''), delimiter=separator))
    print(json.dumps([separator, out.getvalue(), back]))
`;
const python = spawnSync("python3", ["-c", PYTHON], { encoding: "utf8" });
if (python.status !== 0)
  process.stdout.write("Lists by another writer: python3 is not installed.\n");

describe("lists that Python wrote", () => {
  it.skipIf(python.status !== 0)("are cut as Python itself reads them, 300 of them", () => {
    const lines = python.stdout.trim().split("\n");
    expect(lines).toHaveLength(300);
    for (const line of lines) {
      const [separator, text, rows] = JSON.parse(line) as [string, string, string[][]];
      expect(separated(text, separator).rows.map(({ cells }) => cells)).toEqual(rows);
    }
  });
});
