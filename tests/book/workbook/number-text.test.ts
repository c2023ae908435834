import { describe, expect, it } from "vitest";
import { moneyMeant, numberMeant } from "../../../src/book/workbook/number-text.ts";

describe("a number in text", () => {
  it.each([
    ["120,5", 120.5],
    ["1.234,5", 1234.5],
    ["1,234.5", 1234.5],
    ["1 234,50", 1234.5],
    ["1\u00a0234,50", 1234.5],
    ["1'234.5", 1234.5],
    ["1.234.567,5", 1234567.5],
    ["-1.234,5", -1234.5],
    ["0,125", 0.125],
    ["1,500", null],
    ["1.500", null],
    ["1,2,3", null],
    ["12,34.5", null],
  ])("%s means %s", (text, number) => {
    expect(numberMeant(text)).toBe(number);
  });
  it.each([
    ["€ 1.234,50", 1234.5],
    ["1 234,50 €", 1234.5],
    ["USD 1,234.50", 1234.5],
    ["84,90 EUR", 84.9],
    ["1.500 €", null],
  ])("the money %s is %s", (text, number) => {
    expect(moneyMeant(text)).toBe(number);
  });
});
