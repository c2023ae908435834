import { describe, expect, it } from "vitest";
import { judge } from "../../../../src/book/columns/judge.ts";
import { readBook } from "../../../../src/book/reading/read.ts";
import { readJobs } from "../../../../src/book/sheets/job-log.ts";
import { cellKey } from "../../../../src/book/workbook/snapshot.ts";
import { readStyles, struckIn } from "../../../../src/xlsx/read/styles.ts";
import { readStrings } from "../../../../src/xlsx/read/strings.ts";
import { bookOf, on, oursOf, sheetOf, told } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");
const HEADINGS = [
  "Device",
  "Electrode set replaced",
  "Ear cushion replaced",
  "Status",
  "Retired on",
];

function read(...struck: readonly (readonly [number, number])[]) {
  const rows = [
    HEADINGS,
    ["A", MAY, MAY, "In service", null],
    ["B", MAY, MAY, "Retired", on("2026-05-30")],
    ["C", MAY, MAY, null, on("2026-05-30")],
  ];
  const more = { struck: new Set(struck.map(([row, column]) => cellKey(row, column))) };
  const book = bookOf([sheetOf("Kit", rows, more)]);
  const reading = readBook(book, oursOf());
  const judged = judge(book, reading);
  const [set] = judged.parts;
  if (set === undefined) throw new Error("no part");
  const states = judged.rows(set).map(({ answers }) => [answers.state, answers.check]);
  return { states, told: told(reading) };
}

describe("cells that are struck through", () => {
  it("change nothing where there are none", () => {
    expect(read().states).toEqual([
      ["Not due", "OK"],
      ["Retired", "OK"],
      ["Retired", "OK"],
    ]);
  });

  it("are no last replacement", () => {
    const { states, told: kinds } = read([1, 1]);
    expect(states[0]).toEqual(["Check row", "Date in doubt"]);
    expect(kinds).toContain("struck out B2");
  });

  it("are told where the device is one", () => {
    const { states, told: kinds } = read([1, 0]);
    expect(states[0]).toEqual(["Not due", "OK"]);
    expect(kinds).toContain("struck device A2");
  });

  it("take no device out of service", () => {
    expect(read([2, 3]).states[1]).toEqual(["Check row", "Date in doubt"]);
    expect(read([3, 4]).states[2]).toEqual(["Check row", "Date in doubt"]);
  });

  it("are no day of a job", () => {
    const log = sheetOf(
      "Job log",
      [
        ["Job log"],
        [],
        ["Date", "Device", "Part", "Job", "Finding", "Complete set", "Lot", "By", "Note"],
        [MAY, "A", "SET", "replaced", "", "yes", "", "", ""],
      ],
      { struck: new Set([cellKey(3, 0)]) },
    );
    const { jobs, problems } = readJobs(log, 1900);
    expect(jobs.map(({ date }) => date)).toEqual([null]);
    expect(problems.map(({ kind }) => kind)).toContain("struck out");
  });
});

describe("what strikes text through in a file (ECMA-376, CT_BooleanProperty: absent val is true)", () => {
  it("is the font of a cell format", () => {
    const font = (inside: string) => `<font>${inside}<sz val="11"/></font>`;
    const xf = (id: number) => `<xf numFmtId="0" fontId="${id}"/>`;
    const fonts = [
      "",
      "<strike/>",
      '<strike val="1"/>',
      '<strike val="0"/>',
      '<strike val="false"/>',
    ];
    const text = `<styleSheet><fonts count="5">${fonts.map(font).join("")}</fonts><cellXfs count="5">${fonts.map((_, at) => xf(at)).join("")}</cellXfs></styleSheet>`;
    const isStruck = struckIn(readStyles(text, "styles.xml"));
    expect(fonts.map((_, at) => isStruck(at))).toEqual([false, true, true, false, false]);
  });

  it("is a run of a text", () => {
    const run = (properties: string) =>
      `<si><r><rPr>${properties}</rPr><t>4 May</t></r><r><t> 6 June</t></r></si>`;
    const text = `<sst><si><t>plain</t></si>${run("<b/><strike/>")}${run('<strike val="0"/>')}</sst>`;
    const { texts, struck } = readStrings(text, "sharedStrings.xml");
    expect(texts).toEqual(["plain", "4 May 6 June", "4 May 6 June"]);
    expect([...struck]).toEqual([1]);
  });
});
