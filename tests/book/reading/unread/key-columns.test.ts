import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");
const said = (rows: readonly Typed[][]): string =>
  doubtsSay(readSheets([sheetOf("Kit", rows)])).join(" ");

/** Five devices with a text in the first column, a serial number and a date. */
function register(head: readonly Typed[], first: readonly Typed[], last = "Serial no"): Typed[][] {
  const rows = first.map((text, at): Typed[] => [text, `70${at}81`, MAY]);
  return [[...head, last, "Electrode set replaced"], ...rows];
}

describe("devices without a heading that says so", () => {
  const names = ["NB-1", "NB-2", "NB-3", "NB-4", "NB-5"];
  it("are told before all figures where serial numbers stand in for them", () => {
    expect(said(register(["Asst mark"], names))).toBe(
      'No heading says which column names the devices, so "Serial no" does; "Asst mark" has another text in each row. If so, head it Device or give --match "device=Asst mark".',
    );
    expect(said(register([null], names))).toContain("column A, which has no heading, has another");
  });
  it("are not where they have their heading, or nothing else names them", () => {
    expect(said(register(["Device"], names))).toBe("");
    expect(said(register(["Asst mark"], ["a", "a", "b", "b", "b"]))).not.toContain("device=");
  });
});

describe("sites without a heading that says so", () => {
  const places = ["Alder", "Alder", "Birch", "Birch", "Birch"];
  it.each(["Loctie", "Bay", "Bereich", "Service"])("are told: %s", (heading) => {
    expect(said(register([heading], places, "Device"))).toBe(
      `No heading says the site, so all devices are at one place; "${heading}" may say it. If so, head it Site or give --match "site=${heading}".`,
    );
  });
  it.each([
    ["Site", places],
    ["Colour", places],
    ["Printer", ["yes", "no", "yes", "no", "no"]],
    ["Bay", ["1", "1", "2", "2", "2"]],
    ["Bay", ["Alder", "Alder", "Alder", "Alder", "Alder"]],
  ] as [string, string[]][])(
    "are not where there are any or it is something else",
    (head, cells) => {
      expect(said(register([head], cells, "Device"))).toBe("");
    },
  );
});

it("rows that have entries but no device are told above all, where they are most", () => {
  const rows: Typed[][] = ["A-1", "A-2", "A-3"].map((id) => [null, id, "North"]);
  expect(said([["Device", "Site", "Model", "Electrode set replaced"], ...rows])).toContain(
    '3 rows of Kit have entries, but no device under "Device": they are in none of the figures.',
  );
});
