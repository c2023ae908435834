import { describe, expect, it } from "vitest";
import { percentText } from "../../../src/book/records/percent.ts";

describe("a share as people read it", () => {
  it.each([
    [0.9, "90%"],
    [0.955, "95.5%"],
    [1, "100%"],
    // What is not sure never reads as sure.
    [0.9996, "99.96%"],
    [0.9999, "99.99%"],
    [0.99999, "99.99%"],
  ])("%f", (share, text) => {
    expect(percentText(share)).toBe(text);
  });
  it("has so many digits as are asked for", () => {
    expect(percentText(0.5, 1)).toBe("50.0%");
  });
});
