import { describe, expect, it } from "vitest";
import { serialsTwice } from "../../../../src/book/reading/misplaced/serials-twice.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

function told(serials: readonly Typed[]): string[] {
  const rows = serials.map((serial, at): Typed[] => [
    `V-${at + 1}`,
    serial,
    on(`2026-05-0${at + 4}`),
  ]);
  const head = ["Device", "Serial number", "Electrode set replaced"];
  return readSheets([sheetOf("Kit", [head, ...rows])]).problems.map(({ cause }) => cause);
}

describe(serialsTwice.name, () => {
  it("tells devices with one serial number", () => {
    expect(told(["70481", "70482", "70481"])).toEqual([
      'V-1 and V-3 have the serial number "70481".',
    ]);
  });
  it("tells nothing of blanks, words and numbers of their own", () => {
    expect(told(["70481", null, null])).toEqual([]);
    expect(told(["unknown", "unknown", "70483"])).toEqual([]);
  });
});
