import { describe, expect, it } from "vitest";
import { functions } from "../../functions/index.ts";
import { PLAINLY } from "../../taskpane/pane/words/function-words.ts";
import { showIn } from "../../taskpane/pane/state/show.ts";

describe("what the pane shows", () => {
  const british = showIn("en-GB");

  // Forms of dates, shares and money: Unicode CLDR, through Intl.
  it("has the dates and shares of a sentence as people read them, and leaves what is quoted", () => {
    expect(british.said("short from 2026-07-21 by 1 (95%).")).toBe(
      "short from 21 Jul 2026 by 1 (95%).",
    );
    expect(british.said('"2026-07-21" is text, and 2026-02-30 is no day')).toBe(
      '"2026-07-21" is text, and 2026-02-30 is no day',
    );
    expect(british.said("5.4% of the programme")).toBe("5.4% of the programme");
    expect(british.said("L2026-07-21 and 2026-07-21-7 are no dates")).toBe(
      "L2026-07-21 and 2026-07-21-7 are no dates",
    );
    expect(showIn("de-DE").said("due by 2026-07-06 (80%)")).toBe("due by 06.07.2026 (80\u00a0%)");
  });

  it("keeps money and its currency together; XXX is no currency (ISO 4217)", () => {
    expect(british.money(3484, "EUR")).toBe("3,484.00\u00a0EUR");
    expect(british.money(3484, "XXX")).toBe("3,484.00");
    expect(british.money(null, "EUR")).toBe("");
  });

  it("has a plain sentence for each function and for nothing else", () => {
    expect(Object.keys(PLAINLY).sort()).toEqual(functions.map(({ id }) => id).sort());
    expect(Object.values(PLAINLY).filter((text) => !/^[A-Z].*\.$/.test(text))).toEqual([]);
  });
});
