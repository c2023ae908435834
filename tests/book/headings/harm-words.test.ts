import { describe, expect, it } from "vitest";
import { withHarm } from "../../../src/book/headings/harm-words.ts";
import { readBook } from "../../../src/book/reading/read.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../scenes/scene.ts";

const DATE = on("2026-06-01");

/** Parts and rows in doubt where V-1 has this remark, of two devices. */
function inDoubt(remark: string): string[] {
  const rows: Typed[][] = [
    ["Device", "Electrode set replaced", "Remarks"],
    ["V-1", DATE, remark],
    ["V-2", DATE, null],
  ];
  const { devices } = readBook(bookOf([sheetOf("Kit", rows)]), oursOf());
  return devices.flatMap(({ id, doubt, doubtedParts = [] }) =>
    doubt === null ? doubtedParts.map((part) => `${id} ${part}`) : `${id} ${doubt}`,
  );
}

/** Words for harm to the skin: common practice, no source. */
describe(withHarm.name, () => {
  it.each([
    ...["2 babies with red skin", "irritation", "blister", "burn mark", "mark stayed on the skin"],
    ...[
      "sore",
      "bleeding",
      "small wound",
      "skin was very red",
      "left a red mark",
      "allergic reaction",
    ],
    ...[
      "Hautrötung",
      "rote Haut",
      "Blase",
      "Verbrennung",
      "Abdruck bleibt",
      "blutet",
      "offene Wunde",
    ],
    ...["rougeur", "peau rouge", "cloque", "brûlure", "saignement", "plaie"],
    ...["enrojecimiento", "ampolla", "quemadura", "sangrado", "herida", "irritación"],
    ...["arrossamento", "vescica", "ustione", "sanguinamento", "ferita", "segno sulla pelle"],
    ...["vermelhidão", "bolha", "queimadura", "sangramento", "ferida", "pele vermelha"],
    ...["roodheid", "blaar", "brandwond", "bloeding", "wondje", "rode huid"],
    ...["zaczerwienienie", "pęcherz", "oparzenie", "krwawienie", "skaleczenie", "czerwona skóra"],
  ])("puts the row in doubt: %s", (remark) => {
    expect(inDoubt(remark)).toEqual(["V-1 remark"]);
  });
  it("is of the part that is named", () => {
    expect(inDoubt("electrode left red skin")).toEqual(["V-1 SET"]);
    expect(inDoubt("Elektroden: Hautrötung")).toEqual(["V-1 SET"]);
  });
  it.each([
    "no irritation",
    "keine Rötung",
    "red lead",
    "red cushions",
    "blood pressure cuff beside it",
  ])("is none where it is denied or something else is said: %s", (remark) => {
    expect(inDoubt(remark)).toEqual([]);
  });
});
