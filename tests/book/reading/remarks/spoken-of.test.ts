import { describe, expect, it } from "vitest";
import type { Reading } from "../../../../src/book/records/records.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");

/** A list of four devices with this below it, and this beside its rows. */
function read(
  below: readonly (readonly Typed[])[],
  beside: readonly (readonly Typed[])[] = [],
): Reading {
  const list: Typed[][] = ["V-1", "V-2", "Alder", "104"].map((id, at) => [
    ...[id, "North", MAY, MAY],
    ...(beside[at + 1] ?? []),
  ]);
  const headings = ["Device", "Site", "Electrode set replaced", "Ear cushion replaced"];
  const rows = [[...headings, ...(beside[0] ?? [])], ...list, [], ...below.map((row) => [...row])];
  return readSheets([sheetOf("Kit", rows)]);
}

/** The parts that are in doubt since something is said of them. */
function doubted({ devices }: Reading): string[] {
  return devices.flatMap(({ id, doubt, doubtedParts = [] }) =>
    doubt === null ? doubtedParts.map((part) => `${id} ${part}`) : `${id} ${doubt}`,
  );
}

describe("what is said of a device below the list", () => {
  it.each([
    [
      [
        ["Date", "Device", "What"],
        [MAY, "V-2", "cushion torn"],
      ],
    ],
    [
      [
        ["Date", "What", "Device"],
        [MAY, "cushion torn", "V-2"],
      ],
    ],
    [
      [
        ["Datum", "Gerät", "Was"],
        [MAY, "V-2", "Polster gerissen"],
      ],
    ],
    [[["Checked by N. N. on 4 May"], [], ["V-2 cushion torn, waiting for spare"]]],
    [[["Faults:"], ["V-2 cushion torn, waiting for spare"]]],
    [[["V-2: cushion torn, waiting for spare"]]],
    [[[null, null, "V-2 cushion torn"]]],
  ] as [Typed[][]][])("puts the part of that device in doubt: %j", (below) => {
    expect(doubted(read(below))).toEqual(["V-2 CUSHION"]);
  });

  it("is of any device that has a cell of its own", () => {
    expect(
      doubted(
        read([
          ["Date", "What"],
          [MAY, "Alder", "cushion torn"],
        ]),
      ),
    ).toEqual(["Alder CUSHION"]);
    expect(
      doubted(
        read([
          ["Date", "What"],
          [MAY, 104, "cushion torn"],
        ]),
      ),
    ).toEqual(["104 CUSHION"]);
  });

  it("is told where it names a device and speaks against nothing", () => {
    const { problems } = read([
      ["Signed", "N. N."],
      [MAY, "V-2", "electrodes changed"],
    ]);
    expect(problems.map(({ kind, row }) => [kind, row])).toEqual([
      ["unweighed remark", 7],
      ["foot row", 6],
    ]);
  });

  it("leaves devices alone that it does not name", () => {
    expect(
      doubted(
        read([
          ["Signed", "N. N."],
          ["Red", "cushion torn"],
        ]),
      ),
    ).toEqual([]);
    expect(doubted(read([["Total", 4]]))).toEqual([]);
  });
});

describe("what is said beside the list", () => {
  it("is of the device that it names, and may be of the row's", () => {
    const beside = [["Faults"], ["V-2", "cushion torn"]];
    expect(doubted(read([], beside))).toEqual(["V-1 CUSHION", "V-2 CUSHION"]);
    const named = read([], [[null], ["V-2 cushion torn"]]);
    expect(doubted(named)).toEqual(["V-1 CUSHION", "V-2 CUSHION"]);
    expect(named.problems[0]?.cause).toContain("Of V-1 and V-2 it says");
  });

  it("is of the row's alone where no other is named", () => {
    expect(doubted(read([], [[null], ["cushion torn"]]))).toEqual(["V-1 CUSHION"]);
    expect(doubted(read([], [["Remarks"], ["spare of V-2"]]))).toEqual([]);
  });
});
