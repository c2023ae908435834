import { describe, expect, it } from "vitest";
import { undatedParts } from "../../../src/book/reading/unread/missing-columns.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { bookOf, on, onlyRegister, REPORT_DATE, sheetOf, type Typed } from "../../scenes/scene.ts";

const ROWS = [0, 1, 2, 3, 4, 5];

/** Six devices with this beside them; what was taken for dates, and every heading that is offered as dates. */
function beside(heading: string, cell: (at: number) => Typed) {
  const rows: Typed[][] = [
    ["Site", "Device", heading],
    ...ROWS.map((at) => ["North", `D-${at}`, cell(at)]),
  ];
  const book = bookOf([sheetOf("Kit", rows)]);
  const reading = readWorkbook(book, REPORT_DATE, { reportDate: REPORT_DATE });
  const matched = onlyRegister(reading).matches.find((match) => match.heading === heading)?.field;
  const offered = undatedParts(book, reading).map(({ problem }) => problem.fix);
  return { matched, offered: offered.join(" ") };
}

/** A number that would be a day of 2026 if it counted days. */
const number = (at: number): Typed => 46_150 + at;

describe("numbers without the format of dates", () => {
  it.each([
    ["Ear cushion ref"],
    ["Electrodes no"],
    ["Almohadilla n.º"],
    ["Elektroden Nr."],
    ["Coussinet n°"],
  ])("are no dates of a part whose name alone is above them: %s", (heading) => {
    const { matched, offered } = beside(heading, number);
    expect(matched).toBeUndefined();
    expect(offered).not.toContain(heading);
  });

  it("are asked about where nothing says that they number something", () => {
    const { matched, offered } = beside("electrodos", number);
    expect(matched).toBeUndefined();
    expect(offered).toContain(
      'Under "electrodos" stand numbers without the format of dates: if they are its dates, give them that format.',
    );
    expect(offered).not.toContain("=electrodos");
  });

  it("are its last replacements where the heading says so", () => {
    expect(beside("Electrodes replaced", number).matched).toBe("last:SET");
  });
});

describe("numbers of devices", () => {
  const HEADINGS =
    "N° série; Seriennr.; Nº de serie; Nr seryjny; N.º de série; Matricola; Serienr; Serial; Inventory no; Nr ewid.; Volgnummer; Cod. activo; Tag";
  it.each(HEADINGS.split("; "))("are never offered as dates: %s", (heading) => {
    expect(beside(heading, number).offered).not.toContain(heading);
  });

  it.each(["N° série", "Seriennummer", "Serial number", "Numer seryjny", "Device no"])(
    "nor in the format of dates: %s",
    (heading) => {
      expect(beside(heading, (at) => on(`2026-05-0${at + 1}`)).offered).not.toContain(heading);
    },
  );

  it("leave what has the format of dates to be asked about", () => {
    const { offered } = beside("Vtx", (at) => on(`2026-05-0${at + 1}`));
    expect(offered).toContain("Vtx");
  });
});
