import { execFileSync, spawnSync } from "node:child_process";
import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { answerText, formulaText } from "../../functions/help.ts";
import { functions } from "../../functions/index.ts";
import type { Edit, SheetCell } from "../../src/book/workbook/plan.ts";
import { type CellValue, isCellError, type Sheet } from "../../src/book/workbook/snapshot.ts";
import { fromSerial, isoText } from "../../src/core/day.ts";
import { newWorkbook } from "../../src/xlsx/index.ts";
import { bookOf } from "../taskpane/desk.ts";
import { excelCalls } from "../functions/excel-calls.ts";
import { calculator } from "./formula.ts";
import { officeMissing, recalculated } from "./office.ts";
import { paperSheet } from "../taskpane/paper.ts";
import { sparespan } from "../cli/session.ts";

/** Every command README shows is run as it stands there, on the demonstration's book. */
const folder = mkdtempSync(join(tmpdir(), "sparespan-readme-"));
const README = readFileSync("README.md", "utf8");
const MAIN = resolve("build", "command", "sparespan.js");

/** A register somebody kept as a list. */
const LIST = "Device;Site;Electrode set replaced\nVR-101;S01;2026-05-04\nVR-102;S01;2026-06-01\n";

beforeAll(async () => {
  execFileSync(process.execPath, ["src/cli/ready.mjs"]);
  await sparespan("demo", folder);
  copyFileSync(join(folder, "velloran-20260706-clean.xlsx"), join(folder, "equipment.xlsx"));
  writeFileSync(join(folder, "register.csv"), LIST);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Commands in code blocks and in lines of text, comments taken off. */
const commands = [...README.matchAll(/npx (sparespan [^`\n]*)/g)]
  .map((match) => (match[1] ?? "").replace(/\s+#.*$/, "").trim())
  .filter((command) => !command.includes("COMMAND") && !command.includes("NAME …"));

describe("README's commands", () => {
  it("are many", () => {
    expect(commands.length).toBeGreaterThan(14);
  });
  it.each([...new Set(commands)])("%s", (command) => {
    const shell = command.replace(/^sparespan/, `"${process.execPath}" "${MAIN}"`);
    const input = /echo '([^']*)'.*calc -/.exec(README)?.[1] ?? "";
    const done = spawnSync("bash", ["-c", shell], {
      cwd: folder,
      encoding: "utf8",
      input: `${input}\n`,
    });
    expect({ status: done.status, err: done.status === 2 ? done.stderr : "" }).toEqual({
      status: expect.toSatisfy((status: number) => status === 0 || status === 1) as number,
      err: "",
    });
    const out = / -o (\S+)/.exec(command)?.[1];
    if (out !== undefined) expect(existsSync(join(folder, out))).toBe(true);
  });
  it("print what README says they print", () => {
    for (const [, command = "", printed = ""] of README.matchAll(
      /`npx (sparespan calc [^`]*)` \(prints ([^)]*)\)/g,
    )) {
      const shell = command.replace(/^sparespan/, `"${process.execPath}" "${MAIN}"`);
      expect(spawnSync("bash", ["-c", shell], { encoding: "utf8" }).stdout.trim()).toBe(printed);
    }
  });
});

/** A row of the list of differences: ours and what it gives, Excel's own and what that gives. */
const differs = [
  ...(README.split(/^### Differs from Excel$/m)[1] ?? "").matchAll(
    /^\| `=([^`]*)` *\| ([^|]*?) *\| `=([^`]*)` *\| ([^|]*?) *\|/gm,
  ),
].map(([, ours = "", given = "", own = "", gives = ""]) => ({ ours, given, own, gives }));

/** What the functions' own examples give, which are tested elsewhere. */
const examples = new Map(
  functions.flatMap((one) =>
    one.examples.map((example): [string, string] => [
      formulaText(one, example),
      answerText(one, example),
    ]),
  ),
);

describe("README's differences from Excel", () => {
  it("are a handful", () => {
    expect(differs.length).toBe(5);
  });
  it.each(differs)("$ours gives $given", ({ ours, given }) => {
    const example = examples.get(`=${ours}`);
    if (example !== undefined) {
      expect(example).toBe(given);
      return;
    }
    const sheet: Sheet = { ...paperSheet("Ours", [[null]]), formulas: new Map([[0, ours]]) };
    const at = calculator(bookOf(sheet), sheet, excelCalls(1900));
    expect(shown(at(0, 0))).toBe(given);
  });
  it.skipIf(officeMissing() !== null)("hold against a spreadsheet program's own", async () => {
    const path = join(folder, "own.xlsx");
    const cells = differs.map(({ own }, row): SheetCell => {
      return { row, column: 0, value: 0, formula: { text: own, live: false } };
    });
    const sheet = { sheet: "Own", cells, widths: [], freezeRows: 0 };
    const edits: Edit[] = [{ kind: "addSheet", ...sheet }];
    writeFileSync(path, newWorkbook({ summary: "own", edits }));
    const [answer] = await recalculated([{ path, sheet: "Own" }]);
    const found = differs.map((_, row) => shown(answer?.plain[row]?.[0] ?? null));
    expect(found).toEqual(
      differs.map(({ gives }) =>
        gives === "a day of 1900" ? (expect.stringMatching(/^1900-/) as string) : gives,
      ),
    );
  });
});

/** A cell as README shows it. */
function shown(cell: CellValue): string {
  if (isCellError(cell)) return cell.error;
  if (cell === null || cell === "") return "blank";
  return typeof cell === "number" && cell > 60 ? isoOrNumber(cell) : String(cell);
}

function isoOrNumber(cell: number): string {
  const date = Number.isInteger(cell) ? fromSerial(cell, 1900) : null;
  return date === null ? String(cell) : isoText(date);
}

describe("the set-up", () => {
  it("leaves a program that npx can run, also where a build was made anew", () => {
    chmodSync(MAIN, 0o644);
    const done = spawnSync(process.execPath, ["src/cli/ready.mjs"], { encoding: "utf8" });
    expect([done.status, statSync(MAIN).mode & 0o111]).toEqual([0, 0o111]);
  });
});
