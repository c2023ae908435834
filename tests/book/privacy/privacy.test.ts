import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { PatientDataError } from "../../../src/book/workbook/errors.ts";
import { patientHeading } from "../../../src/book/privacy/patient-words.ts";
import { shapeOf } from "../../../src/book/privacy/patient-shapes.ts";
import { oursOf, on, readSheets, sheetOf, type Typed } from "../../scenes/scene.ts";

const REGISTER = sheetOf("Equipment", [
  ["Device", "Site", "Electrode set replaced"],
  ["VR-01", "S01", on("2026-05-02")],
  ["VR-02", "S02", on("2026-04-20")],
]);

/** What every refusal ends with. */
const GO_ON =
  'remove it; only totals per device belong in this workbook. If it is about devices or suppliers, say so in its heading, such as "Device photo" or "Supplier phone"';

/** The message when a sheet with such a column stands beside the register, null when it is read. */
function stopped(heading: string, values: readonly Typed[], sheet = "List"): string | null {
  const rows = values.map((value, at): Typed[] => [`row ${at + 1}`, value]);
  try {
    readSheets([REGISTER, sheetOf(sheet, [["Line", heading], ...rows])]);
    return null;
  } catch (error) {
    if (error instanceof PatientDataError) return error.message;
    throw error;
  }
}

describe("columns that stop the reading", () => {
  it("stop it also on a sheet that only has the name of one of ours", () => {
    for (const name of ["Job log", "Parts", "Read me"]) {
      expect(stopped("Mother's name", ["a", "b"], name)).toContain(
        `"Mother's name" of the sheet ${name} looks`,
      );
    }
  });
  // The identifiers of 45 CFR 164.514(b)(2)(i), A to R; device identifiers (M) are the register itself
  // here, and any other code (R) cannot be told from an asset number.
  it.each([
    ["A names", "Mother's name"],
    ["A names", "Baby name"],
    ["A names", "Patient"],
    ["A names", "Infant surname"],
    ["A names", "Last name"],
    ["B places", "Postcode"],
    ["B places", "Home address"],
    ["C dates", "DOB"],
    ["C dates", "Date of birth"],
    ["C dates", "Birth date"],
    ["C dates", "Admission date"],
    ["C dates", "Discharge date"],
    ["D telephone", "Phone"],
    ["E fax", "Fax no."],
    ["F e-mail", "E-mail"],
    ["G social security", "SSN"],
    ["G social security", "Social Security No"],
    ["H medical record", "MRN"],
    ["H medical record", "Medical record number"],
    ["H medical record", "NHS number"],
    ["I health plan", "Insurance ID"],
    ["I health plan", "Policy number"],
    ["J account", "Account number"],
    ["K certificate or licence", "Driver's licence"],
    ["L vehicle", "Vehicle registration"],
    ["N web address", "URL"],
    ["O IP address", "IP address"],
    ["P biometric", "Fingerprint"],
    ["Q photograph", "Photo"],
    ["R other", "Patient ID"],
    ["R other", "Baby no."],
  ])("%s: %s", (_, heading) => {
    expect(stopped(heading, ["secret-value-1", "secret-value-2"])).toMatch(
      /looks like patient data/,
    );
  });

  it.each([
    ["social security numbers", "Ref", ["123-45-6789"]],
    ["e-mail addresses", "Info", ["someone@example.org"]],
    ["phone numbers", "Info", ["(555) 010-0199", "+1 555 010 0123", "555-010-0145"]],
    ["network addresses", "Info", ["192.0.2.1", "192.0.2.2", "198.51.100.7"]],
    [
      "web addresses",
      "Info",
      ["https://example.org/1", "https://example.org/2", "www.example.org"],
    ],
    [
      "names of persons",
      "Info",
      ["Aster, Ann", "Birch, Bo", "Cedar, Cy", "Dill, Di", "Elder, Ed", "Fern, Fay"],
    ],
  ])("%s by the shape of the values", (looksLike, heading, values) => {
    expect(stopped(heading, values)).toBe(
      `the column "${heading}" of the sheet List looks like patient data (${looksLike}): ${GO_ON}`,
    );
  });

  it("names sheet and heading, never a value", () => {
    const message = stopped("Date of birth", ["12 April 2026"]);
    expect(message).toBe(
      `the column "Date of birth" of the sheet List looks like patient data (date of birth): ${GO_ON}`,
    );
  });

  it("gives the column's letter where the heading itself may be a value", () => {
    const rows = [
      ["one", "Aster, Ann"],
      ["two", "Birch, Bo"],
      ["three", "Cedar, Cy"],
      ["four", "Dill, Di"],
      ["five", "Elder, Ed"],
      ["six", "Fern, Fay"],
    ];
    expect(() => readSheets([REGISTER, sheetOf("Loose", rows)])).toThrow(
      /^the column B of the sheet Loose/,
    );
  });

  it("looks at hidden sheets and hidden columns too", () => {
    const hidden = sheetOf("Old", [["Line", "MRN"]], { visibility: "veryHidden" });
    expect(() => readSheets([REGISTER, hidden])).toThrow(PatientDataError);
    const column = sheetOf("Old", [["Line", "MRN"]], { hiddenColumns: new Set([1]) });
    expect(() => readSheets([REGISTER, column])).toThrow(PatientDataError);
  });

  it("reads headings joined from two rows", () => {
    const rows = [
      ["Line", "Mother", null],
      [null, "Name", "Room"],
      ["one", "x", "y"],
    ];
    const merges = [{ firstRow: 0, lastRow: 0, firstColumn: 1, lastColumn: 2 }];
    expect(() => readSheets([REGISTER, sheetOf("Wards", rows, { merges })])).toThrow(
      PatientDataError,
    );
  });

  it("never repeats a value it was given", () => {
    const values = fc.array(fc.stringMatching(/^[1-8][0-9]{2}-[1-9][0-9]-[1-9][0-9]{3}$/), {
      minLength: 1,
      maxLength: 5,
    });
    fc.assert(
      fc.property(values, (numbers) => {
        const message = stopped("Info", numbers) ?? "";
        for (const number of numbers) expect(message).not.toContain(number);
      }),
      { numRuns: 200 },
    );
  });
});

describe("columns of an ordinary equipment book", () => {
  it.each([
    "Device name",
    "Site name",
    "Contact set",
    "Contact electrode set",
    "Serial number",
    "Asset number",
    "Model",
    "Model name",
    "Supplier phone",
    "Supplier e-mail",
    "Vendor contact",
    "Manufacturer address",
    "Maker's website",
    "Service hotline",
    "Hospital",
    "Hospital address",
    "Ward phone",
    "Babies per month",
    "Babies screened",
    "Number of babies",
    "Patients screened",
    "Births",
    "Newborns",
    "Infant count",
    "Birthing site",
    "Account code",
    "Cost account number",
    "Policy",
    "Calibration certificate no.",
    "Licence (software)",
    "Delivery date",
    "Battery discharge date",
    "Technician",
    "Checked by",
    "Initials",
    "Role",
    "Device photo",
    "Device IP address",
    "IP rating",
    "Patient cable",
    "Patient-side electrode set replaced",
    "Mother board",
    "Parent asset no.",
    "Record",
    "Name",
    "Ship-to address",
    "Manual URL",
    "Age (years)",
    "Weight",
    "Insured value",
    "Part number",
    "Lot",
    "Notes",
  ])("%s is read", (heading) => {
    expect(patientHeading(heading, false)).toBeNull();
  });

  it.each([
    ["Serial number", ["123-45-6789", "987-65-4321", "222-33-4444"]],
    ["Asset number", ["123-45-6789"]],
    ["Serial number", ["0629 1041 5002 13", "0629 1041 5002 20", "0629 1041 5002 37"]],
    ["Part no.", ["555-010-0199", "555-010-0123", "555-010-0145"]],
    ["Supplier phone", ["(555) 010-0199", "+1 555 010 0123", "555-010-0145"]],
    ["Supplier e-mail", ["orders@example.org"]],
    ["Firmware version", ["10.0.2.1", "10.0.2.2", "10.0.2.3"]],
    [
      "Description",
      ["Cable, Grey", "Cushion, Large", "Electrode, Set", "Probe, Tip", "Charger, Wall"],
    ],
    ["Location", ["North, Wing", "South, Wing", "West, Wing", "East, Wing", "Old, Wing"]],
    ["Checked by", ["AB", "CD", "lead screener"]],
    ["Note", ["call 555-010-0199 before noon", "sent to maker on 2026-04-12"]],
    ["Date", ["12/04/2026", "2026-04-12", "12-04-2026 09:30"]],
  ])("%s with %j is read", (heading, values) => {
    expect(stopped(heading, values)).toBeNull();
  });

  const INVENTORY = ["Asset", "Model", "Serial number"];
  /** The message when an inventory has such a column too. */
  const inventory = (heading: string, values: readonly Typed[], headings = INVENTORY) => {
    const rows = values.map((value, at): Typed[] => [
      ...headings.map((word) => `${word} ${at}`),
      value,
    ]);
    try {
      readSheets([REGISTER, sheetOf("All", [[...headings, heading], ...rows])]);
      return null;
    } catch (error) {
      if (error instanceof PatientDataError) return error.message;
      throw error;
    }
  };

  it.each([
    ["Photo?", ["yes", "no", "yes"]],
    ["Photos", ["a12.jpg", "a13.jpg", "a14.jpg"]],
    ["IP address", ["192.0.2.1", "192.0.2.2", "192.0.2.3"]],
    ["Host", ["192.0.2.1", "192.0.2.2", "192.0.2.3"]],
    ["URL", ["https://example.org/1", "https://example.org/2", "https://example.org/3"]],
    ["See", ["https://example.org/1", "https://example.org/2", "https://example.org/3"]],
  ])("an inventory may have a column %s", (heading, values) => {
    expect(inventory(heading, values)).toBeNull();
    // Without the neighbours that say what the rows are, it is refused; yes and no show nobody.
    const alone = stopped(heading, values);
    if (values[0] === "yes") expect(alone).toBeNull();
    else expect(alone).toMatch(/looks like patient data/);
  });

  it.each([
    ["Photo", ["a12.jpg"], ["Asset", "Model", "Baby name"]],
    ["IP address", ["192.0.2.1"], ["Asset", "Patient ID", "Serial number"]],
    ["DOB", ["12 April 2026"], INVENTORY],
    ["E-mail", ["x"], INVENTORY],
    ["Info", ["someone@example.org"], INVENTORY],
    ["Info", ["123-45-6789"], INVENTORY],
  ])("but a column %s with %j among %j is refused", (heading, values, headings) => {
    expect(inventory(heading, values, headings)).toMatch(/looks like patient data/);
  });

  it("what a refusal says to do lets the column be read", () => {
    expect(stopped("Photo", ["a12.jpg"])).toContain(GO_ON);
    expect(stopped("Device photo", ["a12.jpg"])).toBeNull();
    expect(stopped("Info", ["555-010-0199", "555-010-0123", "555-010-0145"])).toContain(GO_ON);
    expect(stopped("Supplier phone", ["555-010-0199", "555-010-0123"])).toBeNull();
  });

  it("a list of sites or suppliers may say how to reach them", () => {
    const suppliers = [
      ["Supplier", "Phone", "E-mail", "Address", "Website"],
      ["North Trade", "(555) 010-0199", "orders@example.org", "1 Example Road", "www.example.org"],
      ["South Trade", "(555) 010-0123", "sales@example.org", "2 Example Road", "www.example.com"],
      ["West Trade", "(555) 010-0145", "desk@example.org", "3 Example Road", "www.example.net"],
    ];
    expect(() => readSheets([REGISTER, sheetOf("Where to buy", suppliers)])).not.toThrow();
    const sites = suppliers.map(([name, ...rest], at) => [
      at === 0 ? "Site" : (name ?? ""),
      ...rest,
    ]);
    expect(() => readSheets([REGISTER, sheetOf("Our sites", sites)])).not.toThrow();
  });

  it("a list of patients may not, whatever its sheet is called", () => {
    const rows = [["Site", "Mother", "Phone"]];
    expect(() => readSheets([REGISTER, sheetOf("Contacts", rows)])).toThrow(PatientDataError);
  });

  it("leaves our own sheets alone", () => {
    const log = sheetOf("Job log", [["Job log"], [], ["Date", "Device", "By", "Phone"]]);
    expect(() => readSheets([REGISTER, log], oursOf())).not.toThrow();
  });
});

describe("shapes of values", () => {
  it.each([
    // Numbers never given out: areas 000, 666, 9xx; group 00; serial 0000 (SSA, randomisation FAQ, from memory).
    ["000-12-3456", null],
    ["666-12-3456", null],
    ["912-12-3456", null],
    ["123-00-3456", null],
    ["123-45-0000", null],
    ["123-45-6789", "social security numbers"],
    ["2026-04-12", null],
    ["12-04-2026", null],
    ["VR-0001", null],
    ["1234567890", null],
    ["06291041500213", null],
    ["2001:db8::1", "network addresses"],
    ["256.1.1.1", null],
    ["10:30", null],
    ["Ratio 1:2:3", null],
  ])("%s is %s", (text, shape) => {
    expect(shapeOf(text)).toBe(shape);
  });

  it("never throws", () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 90 }), (text) => {
        expect(() => shapeOf(text)).not.toThrow();
        expect(() => patientHeading(text, false)).not.toThrow();
      }),
    );
  });
});
