import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Plan } from "../../../src/book/workbook/plan.ts";
import { ORDER_COLUMNS } from "../../../src/book/share/columns.ts";
import { orderCsv } from "../../../src/book/share/csv.ts";
import type { Purchase, PurchaseLine } from "../../../src/book/share/purchase.ts";
import { orderXml } from "../../../src/book/share/ubl.ts";
import { type CellValue, valueAt } from "../../../src/book/workbook/snapshot.ts";
import { ADD_IN } from "../../../src/cli/share.ts";
import { day } from "../../../src/core/day.ts";
import { applyPlan, openWorkbook } from "../../../src/xlsx/index.ts";
import { faultsOf, readCsv, readXml, textAt } from "./order-texts.ts";
import { partsOf, sheetAt, sparespan } from "../../cli/session.ts";
import { cases } from "../../cases.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-share-"));
const at = (...names: string[]): string => join(folder, ...names);
const BOOK = at("demo", "velloran-20260706-clean.xlsx");
const JULY = ["--report-date", "2026-07-06"];
const BUYER = ["--buyer", "Velloran programme"];

function share(...args: string[]): ReturnType<typeof sparespan> {
  return sparespan("share", ...args, ...JULY);
}

const read = (path: string) => openWorkbook(readFileSync(path)).snapshot;

/** Lines of the table of an order, each cell by its heading. */
function linesOf(path: string): Map<string, CellValue>[] {
  const sheet = sheetAt(path, "Order");
  const area = sheet.tables[0]?.area;
  if (area === undefined) throw new Error("the order has no table");
  const lines: Map<string, CellValue>[] = [];
  for (let row = area.firstRow + 1; row <= area.lastRow; row += 1) {
    const cell = (column: number) =>
      [sheet.tables[0]?.headings[column] ?? "", valueAt(sheet, row, column)] as const;
    lines.push(new Map(Array.from({ length: area.lastColumn + 1 }, (_, column) => cell(column))));
  }
  return lines;
}

/** A copy of a book changed by a plan. */
function changed(from: string, to: string, plan: Plan): string {
  writeFileSync(at(to), applyPlan(openWorkbook(readFileSync(from)), plan));
  return at(to);
}

beforeAll(async () => {
  expect((await sparespan("demo", at("demo"))).code).toBe(0);
  for (const ending of ["xlsx", "csv", "xml"]) {
    const told = await share("order", BOOK, "-o", at(`order.${ending}`), ...BUYER);
    expect(told.code).toBe(0);
  }
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const line: PurchaseLine = {
  id: 1,
  item: "Ear cushion",
  quantity: 10,
  unit: "EA",
  packs: 2,
  price: 19.99,
  priceFor: 5,
  amount: 39.98,
  needBy: day("2026-08-01"),
  site: "S01",
  shipTo: "Stores, S01",
  costCentre: "00140",
  ourItem: "004712",
  supplierItem: "EC-0040",
  makerItem: "0040-C",
  gtin: "06291041500213",
  supplier: "Supplier A",
  quote: "Q-1",
  note: "S01: short from 2026-08-01.",
};

function purchase(more: Partial<Purchase> = {}): Purchase {
  return {
    number: "17",
    buyer: "Velloran programme",
    seller: "Supplier A",
    book: "equipment.xlsx",
    reportDate: day("2026-07-06"),
    currency: "EUR",
    lines: [line],
    parts: 39.98,
    freight: 0,
    unpriced: [],
    ...more,
  };
}

describe("the order as a workbook", () => {
  it("holds values only, one table a sheet, and nothing of the add-in", () => {
    const parts = partsOf(at("order.xlsx"));
    const all = [...parts.values()].join("\n");
    const traces = /<f[ >]|_xl(?!nm\.)|SPARE\.|SpareS|externalLink|webextension|customXml/g;
    expect(all.match(traces) ?? []).toEqual([]);
    expect(all.toLowerCase()).not.toContain(ADD_IN);
    const names = [...all.matchAll(/<definedName name="([^"]*)"/g)].map(([, name]) => name);
    expect(new Set(names)).toEqual(new Set(["_xlnm.Print_Titles"]));
    const tables = [...all.matchAll(/displayName="([^"]*)"/g)].map(([, name]) => name);
    expect(tables).toEqual(["Order", "Working"]);
    expect(read(at("order.xlsx")).sheets.map(({ name }) => name)).toEqual(["Order", "Calculation"]);
  });

  it("ties out: quantity by price is the amount, and the amounts are the cost of the order", async () => {
    const { out } = await sparespan("order", BOOK, "--json", ...JULY);
    const told = JSON.parse(out) as { now: unknown[]; cost: { parts: number; freight: number } };
    const lines = linesOf(at("order.xlsx"));
    expect(lines).toHaveLength(told.now.length);
    const number = (of: ReadonlyMap<string, CellValue>, heading: string): number =>
      Number(of.get(heading));
    let sum = 0;
    for (const of of lines) {
      const amount = (number(of, "Quantity") / number(of, "Per")) * number(of, "Price");
      expect(amount).toBeCloseTo(number(of, "Amount"), 9);
      expect(number(of, "Packs")).toBe(number(of, "Quantity") / number(of, "Per"));
      sum += number(of, "Amount");
    }
    expect(sum).toBeCloseTo(told.cost.parts, 9);
    const sheet = sheetAt(at("order.xlsx"), "Order");
    const total = sheet.values.find(([label]) => label === "Together, without taxes");
    expect(total?.find((value) => typeof value === "number")).toBeCloseTo(
      told.cost.parts + told.cost.freight,
      9,
    );
  });

  it("says what it is, and leaves part numbers as texts with their zeros", () => {
    const sheet = sheetAt(at("order.xlsx"), "Order");
    expect(sheet.values.slice(0, 2).map((row) => row[0])).toEqual([
      "Order 2026-07-06",
      "13 lines, 4,784.00 with freight as expected, without taxes",
    ]);
    const head = new Map(sheet.values.slice(3, 9).map((row) => [row[0], row[1]]));
    expect(Object.fromEntries(head)).toMatchObject({
      Date: "2026-07-06, from velloran-20260706-clean.xlsx; values only, no formulas",
      Buyer: "Velloran programme",
      Supplier: "Supplier A",
      "Ship to": "as each line says",
    });
    expect(head.get("Terms")).toContain("Complete sets only, no partial deliveries.");
    expect(head.get("Caution")).toContain("Planning aid: the maker's instructions");
    // What only a machine reads is in the CSV and the XML.
    expect(sheet.tables[0]?.headings).not.toContain("GTIN");
    for (const of of linesOf(at("order.xlsx"))) {
      expect(of.get("Our number")).toMatch(/^00471[12]$/);
      expect(of.get("Cost centre")).toMatch(/^00\d40$/);
    }
  });
});

it("a ship-to that looks like a formula is text in every form of the order", async () => {
  const sites = sheetAt(BOOK, "Sites");
  const column = (sites.values[2] ?? []).indexOf("Ship to");
  const odd = ["=1+1", '"a" & <b>', "@x\ny", "]]>"];
  const rows = odd.map((_, nth) => 3 + nth);
  const book = changed(BOOK, "strange.xlsx", {
    summary: "odd names",
    edits: [
      { kind: "fillCells", sheet: "Sites", blocks: [{ column, rows, values: odd }], expects: {} },
    ],
  });
  for (const ending of ["xlsx", "csv", "xml"]) {
    expect(await share("order", book, "-o", at(`odd.${ending}`), ...BUYER)).toMatchObject({
      err: "",
      code: 0,
    });
  }
  const met = (texts: readonly (CellValue | undefined)[]): unknown[] =>
    [...new Set(texts)].slice(0, 4);
  expect(met(linesOf(at("odd.xlsx")).map((of) => of.get("Ship to")))).toEqual(odd);
  expect([...partsOf(at("odd.xlsx")).values()].join("")).not.toMatch(/<f[ >]/);
  const csv = readCsv(readFileSync(at("odd.csv"), "utf8").slice(1), ",").slice(1);
  expect(met(csv.map((row) => row[11]))).toEqual(["'=1+1", odd[1], "'@x\ny", odd[3]]);
  const root = readXml(readFileSync(at("odd.xml"), "utf8"));
  const lines = root.children.filter(({ name }) => name === "cac:OrderLine");
  const path = ["cac:LineItem", "cac:Delivery", "cac:DeliveryLocation", "cbc:Description"];
  expect(met(lines.map((node) => textAt(node, ...path)))).toEqual(odd);
});

/** CWE-1236, improper neutralization of formula elements in a CSV file: signs and examples, text read. */
const RISKY = ["=1+1", "+1", "-1+1", "@SUM(1)", "\t=1", "\r=1", " =1", "\uff1d1", "-0012"];

describe("the order as CSV", () => {
  it("is UTF-8 with a mark, CRLF, the headings and the same lines as the workbook", () => {
    const bytes = readFileSync(at("order.csv"));
    expect([...bytes.subarray(0, 3)]).toEqual([0xef, 0xbb, 0xbf]);
    const rows = readCsv(bytes.toString("utf8").slice(1), ",");
    expect(rows[0]).toEqual(ORDER_COLUMNS.map(({ heading }) => heading));
    const lines = linesOf(at("order.xlsx"));
    expect(rows).toHaveLength(lines.length + 1);
    for (const [nth, of] of lines.entries()) {
      const row = new Map(rows[0]?.map((heading, to) => [heading, rows[nth + 1]?.[to] ?? ""]));
      for (const heading of ["Item", "Site", "Ship to", "Our number", "Quote"]) {
        expect(row.get(heading)).toBe(of.get(heading));
      }
      expect(Number(row.get("Amount"))).toBe(of.get("Amount"));
      expect(row.get("Need by")).toMatch(/^2026-\d\d-\d\d$/);
      expect(row.get("Note")).toMatch(/No partial delivery\.$/);
    }
  });

  it.each(RISKY)("begins no cell with %j (CWE-1236, text read)", (text) => {
    const csv = orderCsv(purchase({ lines: [{ ...line, shipTo: text }] }), {
      separator: "comma",
      mark: false,
    });
    const cell = readCsv(csv, ",")[1]?.[11] ?? "";
    expect(cell).toBe(`'${text.replace("\r", "\n")}`);
  });

  it("keeps a number below zero a number", () => {
    const csv = orderCsv(purchase({ lines: [{ ...line, amount: -39.98 }] }), {
      separator: "tab",
      mark: false,
    });
    expect(readCsv(csv, "\t")[1]?.[7]).toBe("-39.98");
  });

  it("writes a decimal comma where semicolons separate", () => {
    const csv = orderCsv(purchase(), { separator: "semicolon", mark: true });
    expect(csv.startsWith("\ufeffLine;Item;")).toBe(true);
    expect(readCsv(csv.slice(1), ";")[1]?.slice(5, 8)).toEqual(["19,99", "5", "39,98"]);
  });

  it("gives back every text that goes in, whatever it holds", () => {
    const separators = ["comma", "semicolon", "tab"] as const;
    fc.assert(
      fc.property(
        fc.string({ unit: "binary" }),
        fc.constantFrom(...separators),
        (text, separator) => {
          const csv = orderCsv(purchase({ lines: [{ ...line, note: text }] }), {
            separator,
            mark: false,
          });
          const sign = { comma: ",", semicolon: ";", tab: "\t" }[separator];
          const rows = readCsv(csv, sign);
          const cell = rows[1]?.at(-1) ?? "";
          expect(rows.map((row) => row.length)).toEqual([20, 20]);
          expect(cell).not.toMatch(/^\s*[=+\-@]/);
          const plain = text
            .replace(/\r\n?/g, "\n")
            .replace(/[^\t\n\u0020-\u007e\u00a0-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, "");
          expect([plain, `'${plain}`]).toContain(cell);
        },
      ),
      { numRuns: cases("Texts of an order as CSV", 2000, 200) },
    );
  });
});

describe("the order as XML", () => {
  it("follows OASIS UBL 2.1: elements, order and what must be there (schema text read)", () => {
    const root = readXml(readFileSync(at("order.xml"), "utf8"));
    expect(root.name).toBe("Order");
    expect(root.attributes.get("xmlns")).toBe(
      "urn:oasis:names:specification:ubl:schema:xsd:Order-2",
    );
    expect(faultsOf(root)).toEqual([]);
    expect(textAt(root, "cbc:IssueDate")).toBe("2026-07-06");
    const first = (...path: string[]) => textAt(root, "cac:OrderLine", "cac:LineItem", ...path);
    expect(first("cbc:PartialDeliveryIndicator")).toBe("false");
    expect(first("cac:Item", "cbc:PackSizeNumeric")).toBe("5");
    expect(first("cac:Item", "cac:BuyersItemIdentification", "cbc:ID")).toBe("004712");
    const sum = root.children
      .filter(({ name }) => name === "cac:OrderLine")
      .reduce(
        (all, node) => all + Number(textAt(node, "cac:LineItem", "cbc:LineExtensionAmount")),
        0,
      );
    expect(sum).toBe(
      Number(textAt(root, "cac:AnticipatedMonetaryTotal", "cbc:LineExtensionAmount")),
    );
    // One line more than by mean lead times: orders go out so early that they come at the service level.
    expect(sum).toBe(4700);
  });

  it("finds fault with an order that breaks the standard", () => {
    const text = orderXml(purchase());
    const broken = (from: string, to: string): string[] =>
      faultsOf(readXml(text.replace(from, to)));
    expect(broken("<cbc:ID>17</cbc:ID>", "")).toEqual(["Order lacks ID"]);
    expect(broken(' currencyID="EUR"', "")).toEqual(["LineExtensionAmount has no currency"]);
    expect(
      broken(
        "<cbc:UBLVersionID>2.1</cbc:UBLVersionID>\n  <cbc:ID>17</cbc:ID>",
        "<cbc:ID>17</cbc:ID><cbc:UBLVersionID>2.1</cbc:UBLVersionID>",
      ),
    ).toEqual(["UBLVersionID comes too late in Order"]);
    expect(() => broken("</Order>", "")).toThrow("elements are left open");
  });

  it("leaves out what is not known, and names a quote at the line where quotes differ", () => {
    const bare = {
      ...line,
      id: 2,
      price: null,
      amount: null,
      gtin: "",
      quote: "Q-2",
      shipTo: "",
      site: "",
      costCentre: "",
    };
    const root = readXml(orderXml(purchase({ lines: [line, bare], unpriced: ["Ear cushion"] })));
    expect(faultsOf(root)).toEqual([]);
    expect(textAt(root, "cac:AnticipatedMonetaryTotal")).toBeNull();
    expect(textAt(root, "cac:QuotationDocumentReference")).toBeNull();
    const second = root.children.at(-1);
    if (second === undefined) throw new Error("no second line");
    expect(textAt(second, "cac:LineItem", "cac:Price")).toBeNull();
    expect(textAt(second, "cac:DocumentReference", "cbc:ID")).toBe("Q-2");
  });

  it("holds every text, well-formed, whatever it holds", () => {
    const texts = fc.oneof(
      fc.string({ unit: "binary" }),
      fc.constantFrom("]]>", "<a b='1'>&amp;", '"', "\u0000", "\ud800"),
    );
    fc.assert(
      fc.property(texts, (text) => {
        const root = readXml(
          orderXml(purchase({ lines: [{ ...line, shipTo: `x${text}`, unit: text }] })),
        );
        expect(faultsOf(root)).toEqual([]);
        const found = root.children.at(-1);
        if (found === undefined) throw new Error("no line");
        const plain = text
          .replace(/\r\n?/g, "\n")
          .replace(/[^\t\n\u0020-\u007e\u00a0-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, "");
        expect(
          textAt(found, "cac:LineItem", "cac:Delivery", "cac:DeliveryLocation", "cbc:Description"),
        ).toBe(`x${plain}`);
        const quantity = found.children[0]?.children.find(({ name }) => name === "cbc:Quantity");
        expect(quantity?.attributes.get("unitCode")).toBe(plain);
      }),
      { numRuns: cases("Texts of an order as XML", 1000, 100) },
    );
  });
});

const PYTHON = "/usr/bin/python3";
const canRead =
  existsSync(PYTHON) && spawnSync(PYTHON, ["-c", "import openpyxl"]).status === 0
    ? null
    : "Python 3 with openpyxl is not installed";
if (canRead !== null) process.stderr.write(`Orders are not read by other software: ${canRead}.\n`);

describe("read by other software (openpyxl, Python's csv and XML parser)", () => {
  it.skipIf(canRead !== null)("the three forms of an order say the same", () => {
    const files = ["xlsx", "csv", "xml"].map((ending) => at(`order.${ending}`));
    const done = spawnSync(PYTHON, ["tests/reference/ubl.py", ...files], { encoding: "utf8" });
    expect(done.stderr).toBe("");
    type Lines = { readonly lines: readonly Readonly<Record<string, string>>[] };
    const [book, csv, xml] = JSON.parse(done.stdout) as [
      Lines & Record<string, unknown>,
      Lines,
      Lines,
    ];
    expect([book["sheets"], book["tables"], book["names"], book["formulas"]]).toEqual([
      ["Order", "Calculation"],
      ["Order", "Working"],
      [],
      0,
    ]);
    expect(xml.lines).toHaveLength(13);
    for (const [nth, of] of xml.lines.entries()) {
      for (const [heading, text] of Object.entries(of)) {
        expect(csv.lines[nth]?.[heading], heading).toBe(text);
        const money = heading === "Price" || heading === "Amount";
        const found = book.lines[nth]?.[heading] ?? "";
        expect(money ? Number(found) : found, heading).toBe(money ? Number(text) : text);
      }
    }
  });
});
