import { describe, expect, it } from "vitest";
import { BookError } from "../../../../src/book/workbook/errors.ts";
import {
  on,
  onlyRegister,
  oursOf,
  readSheets,
  sheetOf,
  type Typed,
} from "../../../scenes/scene.ts";

describe("a list of employees", () => {
  const people = (sheet = "Sheet1", headings = ["ID", "Surname", "Site", "Status", "Hire date"]) =>
    sheetOf(sheet, [
      headings,
      ...Array.from({ length: 12 }, (_, at): Typed[] => [
        `E${at + 100}`,
        "Aster",
        `S0${at % 3}`,
        "active",
        on("2020-04-01"),
      ]),
    ]);
  // A list of staff may say how to reach them, so that the guard of patient data lets it pass.
  const plain = ["ID", "Role", "Site", "Status", "Hire date"];

  it("is not taken for one, and the message says what makes it doubtful and how to say what it is", () => {
    expect(() => readSheets([people("Sheet1", plain)])).toThrow(
      new BookError(
        'no equipment register found: the sheet Sheet1 may list employees: "Hire date" says so, "ID" is a device by 80% only, ' +
          'and no column has models, serial numbers or last replacements; if it is the register, give --match "register=Sheet1" or state it in Setup, ' +
          "else write Device over the column that names the devices",
      ),
    );
    expect(() => readSheets([people("Staff")])).toThrow(/"Surname" and "Hire date" say so/);
  });

  it("is read where a person says that it is the register", () => {
    const matches = new Map([["register", "Sheet1"]]);
    const register = onlyRegister(readSheets([people("Sheet1", plain)], oursOf({ matches })));
    expect(register.sheet).toBe("Sheet1");
    const device = new Map([["column device", "ID"]]);
    expect(
      onlyRegister(readSheets([people("Sheet1", plain)], oursOf({ matches: device }))).sheet,
    ).toBe("Sheet1");
  });

  it("leaves a register beside it, and one with models or a device column, alone", () => {
    const register = sheetOf("Equipment", [
      ["Device", "Site", "Electrode set replaced"],
      ["VR-001", "S01", on("2026-05-04")],
      ["VR-002", "S02", on("2026-03-02")],
    ]);
    expect(onlyRegister(readSheets([people("Sheet1", plain), register])).sheet).toBe("Equipment");
    const models = ["ID", "Model", "Site", "Status", "Hired on"];
    expect(onlyRegister(readSheets([people("Sheet1", models)])).sheet).toBe("Sheet1");
    const devices = ["Device", "Role", "Site", "Status", "Staff"];
    expect(onlyRegister(readSheets([people("Sheet1", devices)])).sheet).toBe("Sheet1");
  });
});
