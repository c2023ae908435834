import { describe, expect, it } from "vitest";
import { day, isoText } from "../../../src/core/day.ts";
import { readDateText } from "../../../src/book/headings/dates.ts";
import { columnOrder, dayMeant } from "../../../src/book/headings/day-order.ts";

describe("the order of day and month in a column", () => {
  const order = (...texts: readonly string[]) =>
    columnOrder(texts.map((text) => readDateText(text)));

  it.each([
    [["04/12/2026", "14/12/2026"], "dmy", false],
    [["04/12/2026", "12/14/2026"], "mdy", false],
    [["04/12/2026", "05/11/2026"], null, false],
    [["14/12/2026", "12/14/2026"], null, true],
    [["04/12/2026", "4.12.26"], "dmy", false],
    [["2026-04-12", "12 April 2026"], null, false],
    [[], null, false],
  ] as const)("of %j is %s, mixed %s", (texts, decided, mixed) => {
    expect(order(...texts)).toEqual({ order: decided, mixed });
  });

  it("is what somebody said, even where a text does not fit", () => {
    const texts = ["12/14/2026"].map((text) => readDateText(text));
    expect(columnOrder(texts, { stated: "dmy" })).toEqual({ order: "dmy", mixed: false });
    expect(texts[0] && dayMeant(texts[0], "dmy")).toBeNull();
  });

  it("decides a column as a whole: the same text means the same day in every row", () => {
    const meant = (text: string, decided: "dmy" | "mdy" | null): string | null => {
      const read = readDateText(text);
      const date = read === null ? null : dayMeant(read, decided);
      return date === null ? null : isoText(date);
    };
    expect(meant("04/12/2026", "dmy")).toBe("2026-12-04");
    expect(meant("04/12/2026", "mdy")).toBe("2026-04-12");
    expect(meant("04/12/2026", null)).toBeNull();
    expect(meant("04/04/2026", null)).toBe("2026-04-04");
    expect(meant("14/12/2026", "mdy")).toBeNull();
  });

  it("leaves the day of a month open until first or last is said", () => {
    const read = readDateText("Feb 2024");
    if (read === null) throw new Error("Feb 2024 is a month");
    expect(dayMeant(read, "dmy")).toBeNull();
    expect(dayMeant(read, null, "first")).toBe(day("2024-02-01"));
    expect(dayMeant(read, null, "last")).toBe(day("2024-02-29"));
  });
});
