import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");
const REGISTER = sheetOf("Kit", [
  ["Device", "Site", "Electrode set replaced", "Ear cushion replaced"],
  ["HS-01", "Alder", MAY, MAY],
  ["HS-02", "Birch", MAY, MAY],
]);

function say(name: string, rows: readonly Typed[][]): string {
  return doubtsSay(readSheets([REGISTER, sheetOf(name, rows)])).join(" ");
}

/** Sheets as people keep them beside a register (common practice, no source). */
describe("a sheet that is not read, names devices of the register and speaks of parts", () => {
  it.each([
    [
      "Faults",
      [
        ["Device", "Fault"],
        ["HS-01", "electrodes corroded"],
      ],
      "HS-01",
    ],
    ["To do", [["HS-02: replace the ear cushions at once"]], "HS-02"],
    [
      "Recall",
      [
        ["Device", "Lot", "Part"],
        ["HS-01", "L22", "Electrode set"],
      ],
      "HS-01",
    ],
    [
      "Mängel",
      [
        ["Gerät", "Mangel"],
        ["HS-01", "Ohrpolster gerissen"],
      ],
      "HS-01",
    ],
    [
      "Défauts",
      [
        ["HS 01", "électrodes corrodées"],
        ["HS-02", "coussinet"],
      ],
      "HS-01 and HS-02",
    ],
    [
      "Job log",
      [
        ["When", "Unit", "What"],
        ["in June", "HS-01", "crack in the cushion"],
      ],
      "HS-01",
    ],
  ] as [string, Typed[][], string][])("is told: %s", (name, rows, devices) => {
    expect(say(name, rows)).toContain(
      `${name} speaks of parts and names ${devices}; it is not read, so nothing of it is in any list.`,
    );
  });

  it.each([
    [
      "no part is spoken of",
      [
        ["Device", "Network name"],
        ["HS-01", "scr-04"],
      ],
    ],
    [
      "no device is named",
      [
        ["Part", "Price"],
        ["Electrode set", 90],
      ],
    ],
    [
      "numbers alone name nothing",
      [
        ["Room", "What"],
        [1, "electrodes"],
      ],
    ],
  ] as [string, Typed[][]][])("is not, where %s", (_, rows) => {
    expect(say("Other", rows)).not.toContain("speaks of parts");
  });
});

/** Lists of names whose title alone says something (common practice, no source). */
describe("a sheet that says in its title alone what became of devices", () => {
  it.each([
    ...["Quarantine", "Out of service", "Moved to South", "Disposed", "In repair", "Loaned out"],
    ...[
      "Moves",
      "Außer Betrieb",
      "Hors service",
      "En réparation",
      "Fuera de servicio",
      "Cuarentena",
    ],
    ...["Fora de serviço", "Fuori servizio", "Buiten gebruik", "W naprawie", "Wycofane"],
  ])("is told: %s", (name) => {
    const said = `The sheet "${name}" names HS-02; it is not read, so HS-02 is in service`;
    expect(say(name, [["Device"], ["HS-02"]])).toContain(said);
    expect(say("Sheet2", [[name], ["HS-02"]])).toContain(`Sheet2 says "${name}" and names HS-02`);
  });

  it("is not where the register says the same, or the title says nothing", () => {
    const rows = [
      ["Device", "Status", "Electrode set replaced"],
      ["HS-01", "in use", MAY],
      ["HS-02", "Retired", MAY],
    ];
    const list = sheetOf("Disposed", [["HS-02"]]);
    expect(doubtsSay(readSheets([sheetOf("Kit", rows), list])).join(" ")).not.toContain("Disposed");
    expect(say("Round order", [["HS-02"], ["HS-01"]])).toBe("");
  });
});

describe("a sheet that names no device in its cells", () => {
  it.each([
    [
      "HS-02",
      [
        ["Date", "Work"],
        [MAY, "cushion torn"],
      ],
      "HS-02 speaks of parts and names HS-02",
    ],
    [
      "Birch",
      [
        ["Date", "Work"],
        [MAY, "all cushions torn"],
      ],
      'Birch says "all cushions torn"',
    ],
    ["News", [["The maker recalls all ear cushions of lot 24"]], "News says"],
    ["Info", [["Rückruf: Elektroden der Charge 24"]], "Info says"],
  ] as [string, Typed[][], string][])(
    "is told by its name, or as a recall: %s",
    (name, rows, said) => {
      expect(say(name, rows)).toContain(said);
    },
  );
  it("is none where it tells how things are done", () => {
    expect(say("How to", [["A cushion that is torn is replaced at once."]])).toBe("");
    expect(say("Birch", [["Beds", 12]])).toBe("");
  });
});
