import { describe, expect, it } from "vitest";
import { NODE_CODEC } from "../../src/cli/files.ts";
import { chance } from "../../src/book/demo/chance.ts";
import { bytesOf, newSink, put, putWhole } from "../../src/xlsx/file/sink.ts";

const PIECES = [
  '<c r="',
  "</c>",
  "",
  "Überfällig",
  "é",
  "日本",
  "😀",
  "x".repeat(64),
  "ł".repeat(65),
];
const NUMBERS = [0, 9, 10, 99, 100, 46_055, 1_048_576, 999_999_999];

describe.each([
  ["with an encoder of the host", NODE_CODEC],
  ["with none", {}],
])("pieces of text in bytes, %s", (_, codec) => {
  it("read as all of them together, however little room there was", () => {
    const random = chance(7);
    for (const room of [0, 1, 50, 5_000]) {
      const sink = newSink(room, codec);
      let text = "";
      for (let count = 0; count < 300; count += 1) {
        const piece = PIECES[random.below(PIECES.length)] ?? "";
        const number = NUMBERS[random.below(NUMBERS.length)] ?? 0;
        put(sink, piece);
        putWhole(sink, number);
        text += piece + String(number);
      }
      expect(new TextDecoder().decode(bytesOf(sink))).toBe(text);
    }
  });
});
