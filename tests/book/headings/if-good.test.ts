import { describe, expect, it } from "vitest";
import { asksIfGood } from "../../../src/book/headings/if-good.ts";

describe("a heading", () => {
  it.each([
    ...["Electrodes OK", "Good condition", "Fit for use?", "Free of cracks?", "Check passed"],
    ...["Elektroden in Ordnung", "Zustand gut", "en bon état", "Coussinets conformes"],
    ...["buen estado", "aptas", "buono stato", "idonei", "bom estado", "goede staat", "bruikbaar"],
    ...["w dobrym stanie", "Poduszki sprawne"],
  ])("asks if something is good: %s", (heading) => {
    expect(asksIfGood(heading)).toBe(true);
  });
  it.each([
    "Condition",
    "Zustand",
    "Goods received",
    "Gutachten",
    "Bonus",
    "Booking no",
    "Adaptor",
  ])("does not: %s", (heading) => {
    expect(asksIfGood(heading)).toBe(false);
  });
});
