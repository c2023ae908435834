import { describe, expect, it } from "vitest";
import { speaksAgainstDate } from "../../../src/book/headings/comment-text.ts";
import { isExchanged } from "../../../src/book/headings/withdrawing-words.ts";
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

describe(isExchanged.name, () => {
  it.each([
    ...["electrodes swapped with V-2", "electrodes now on V-2", "electrodes were on V-2"],
    ...["Elektroden getauscht mit V-2", "électrodes échangées avec V-2", "electrodos ahora en V-2"],
    ...[
      "elettrodi scambiati con V-2",
      "eletrodos trocados com V-2",
      "elektroden gewisseld met V-2",
    ],
    ...["elektrody zamienione z V-2"],
  ])("are in doubt on both: %s", (remark) => {
    expect(inDoubt(remark)).toEqual(["V-1 SET", "V-2 SET"]);
  });
  it.each(["swapped with V-2", "parts swapped with V-2 on 1 June", "same parts as V-2"])(
    "may be any of their parts: %s",
    (remark) => {
      expect(inDoubt(remark)).toEqual(["V-1 remark", "V-2 remark"]);
    },
  );
  it.each(["electrodes swapped with new", "stands beside V-2", "room swapped with V-2"])(
    "are none of these: %s",
    (remark) => {
      expect(inDoubt(remark)).toEqual([]);
    },
  );
});

describe("when and where a device is used", () => {
  it.each(["weekdays only", "mornings only", "nights only", "left side of room", "nur nachts"])(
    "changes no date: %s",
    (said) => {
      expect(inDoubt(said)).toEqual([]);
      expect(speaksAgainstDate(said, null)).toBe(false);
    },
  );
});
