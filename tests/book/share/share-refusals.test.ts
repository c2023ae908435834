import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Plan } from "../../../src/book/workbook/plan.ts";
import { applyPlan, openWorkbook } from "../../../src/xlsx/index.ts";
import { faultsOf, readXml, textAt } from "./order-texts.ts";
import { type Said, sheetAt, sparespan } from "../../cli/session.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-refusals-"));
const at = (...names: string[]): string => join(folder, ...names);
const BOOK = at("demo", "velloran-20260706-clean.xlsx");
const BUYER = ["--buyer", "Velloran programme"];

function share(...args: readonly string[]): Promise<Said> {
  return sparespan("share", ...args, "--report-date", "2026-07-06");
}

/** A copy of the book changed by a plan. */
function changed(to: string, plan: Plan): string {
  writeFileSync(at(to), applyPlan(openWorkbook(readFileSync(BOOK)), plan));
  return at(to);
}

beforeAll(async () => {
  expect((await sparespan("demo", at("demo"))).code).toBe(0);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe("what share refuses", () => {
  it.each([
    [["order"], "workbook is missing; see --help"],
    [
      ["all", "BOOK"],
      "choose what to share: sparespan share order BOOK, or share copy BOOK, or share mail BOOK",
    ],
    [["order", "BOOK"], "give somewhere to write: -o OUT.xlsx or -o OUT.csv or -o OUT.xml"],
    [["order", "BOOK", "-o", "BOOK"], "-o names the workbook itself; choose another name"],
    [["order", "BOOK", "--in-place"], "share never changes the workbook itself; give -o"],
    [["order", "BOOK", "-o", "a.txt"], "a.txt must end in .xlsx, .csv, .xml"],
    [["copy", "BOOK", "-o", "a.csv"], "a.csv must end in .xlsx"],
    [["copy", "BOOK", "-o", "a.xlsx", "--buyer", "B"], "share copy takes no --buyer"],
    [["order", "BOOK", "-o", "a.xlsx", "--values"], "share order takes no --values"],
    [["order", "BOOK", "-o", "a.xlsx", "--bom", "no"], "--bom is for .csv only"],
    [
      ["order", "BOOK", "-o", "a.csv", "--separator", "bar"],
      '--separator must be comma or semicolon or tab, got "bar"',
    ],
    [["order", "BOOK", "-o", "a.xml"], "An order as XML must name the buyer: give --buyer."],
    [
      ["order", "BOOK", "-o", "a.csv", "--seller", "Z"],
      'No line is for the supplier "Z"; the lines are for Supplier A.',
    ],
  ])("%j", async (args, message) => {
    const { code, err } = await share(...args.map((arg) => (arg === "BOOK" ? BOOK : arg)));
    expect({ code, err: err.split("\n")[0] }).toEqual({ code: 2, err: `sparespan: ${message}` });
    expect(existsSync("a.xlsx") || existsSync("a.csv") || existsSync("a.xml")).toBe(false);
  });

  it("an order of several suppliers as XML, and writes one for each", async () => {
    const parts = sheetAt(BOOK, "Parts");
    const headings = parts.values[2] ?? [];
    const supplier = headings.indexOf("Supplier");
    const row = parts.values.findIndex(([code]) => code === "CUSHION");
    const two = changed("two.xlsx", {
      summary: "another supplier",
      edits: [
        {
          kind: "fillCells",
          sheet: "Parts",
          blocks: [{ column: supplier, rows: [row], values: ["B & <Sons>"] }],
          expects: {},
        },
      ],
    });
    const refused = await share("order", two, "-o", at("two.xml"), ...BUYER);
    expect(refused.err).toBe(
      "sparespan: An order as XML goes to one supplier, and these lines are for B & <Sons>, Supplier A: give --seller and run it once for each.\n",
    );
    const written: string[][] = [];
    for (const [nth, seller] of ["b & <sons>", "Supplier A"].entries()) {
      const path = at(`two-${nth}.xml`);
      expect((await share("order", two, "-o", path, ...BUYER, "--seller", seller)).code).toBe(0);
      const root = readXml(readFileSync(path, "utf8"));
      expect(faultsOf(root)).toEqual([]);
      const lines = root.children.filter(({ name }) => name === "cac:OrderLine");
      written.push([
        textAt(root, "cbc:ID") ?? "",
        textAt(root, "cac:SellerSupplierParty", "cac:Party", "cac:PartyName", "cbc:Name") ?? "",
        String(lines.length),
      ]);
    }
    expect(written).toEqual([
      ["2026-07-06-1", "B & <Sons>", "6"],
      ["2026-07-06-2", "Supplier A", "7"],
    ]);
  });

  it("an order where nothing has to go out: nothing is written, and that is said", async () => {
    const shelf = sheetAt(BOOK, "Shelf");
    const onHand = (shelf.values[2] ?? []).indexOf("On hand");
    const rows = shelf.values.flatMap((row, nth) => (nth > 2 && row[0] !== null ? [nth] : []));
    const block = { column: onHand, rows, values: rows.map(() => 500) };
    const full = changed("full.xlsx", {
      summary: "full shelves",
      edits: [{ kind: "fillCells", sheet: "Shelf", blocks: [block], expects: {} }],
    });
    const { code, out } = await share("order", full, "-o", at("none.csv"));
    // So many are told as a digit too many; what is believed of them is still enough.
    expect({ code, out }).toEqual({
      code: 1,
      out: "Nothing needs to be ordered now; no order was written.\n",
    });
    expect(existsSync(at("none.csv"))).toBe(false);
  });

  it("to write over a file without --force, and writes nothing in a dry run", async () => {
    const path = at("there.csv");
    expect((await share("order", BOOK, "-o", path, "--dry-run")).code).toBe(0);
    expect(existsSync(path)).toBe(false);
    expect((await share("order", BOOK, "-o", path)).code).toBe(0);
    const { code, err } = await share("order", BOOK, "-o", path);
    expect({ code, err }).toEqual({
      code: 2,
      err: `sparespan: ${path} already exists; choose another name or give --force\n`,
    });
  });
});
