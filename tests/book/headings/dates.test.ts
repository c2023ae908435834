import * as dateFns from "date-fns";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { showsDate } from "../../../src/book/workbook/cells.ts";
import { readDateText, swapped } from "../../../src/book/headings/dates.ts";
import { dayMeant } from "../../../src/book/headings/day-order.ts";
import { civilDate, type Day, day, isoText } from "../../../src/core/day.ts";
import type { Published } from "../../core/published.ts";

/** "2026-04-12", "dmy 2026-12-04 mdy 2026-04-12", "month 2026-04-01 2026-04-30", or null. */
function shown(text: string): string | null {
  const read = readDateText(text);
  if (read === null) return null;
  if (read.kind === "day") return isoText(read.date);
  if (read.kind === "month") return `month ${isoText(read.first)} ${isoText(read.last)}`;
  const part = (name: string, date: Day | null): string =>
    `${name} ${date === null ? "-" : isoText(date)}`;
  return `${part("dmy", read.dmy)} ${part("mdy", read.mdy)}`;
}

const WEEKDAYS: readonly (readonly [string, string | null])[] = [
  // By any calendar: 13 May 2026 was a Wednesday, and a Tuesday in 2025.
  ["Wed 13 May 2026", "2026-05-13"],
  ["Tuesday 13 May 2026", null],
  ["Tue, 13 May 2025", "2025-05-13"],
  ["Mon 06/04/2026", "dmy 2026-04-06 mdy 2026-06-04"],
  ["Tue 06/04/2026", null],
];

describe("a weekday before a date", () => {
  it.each(WEEKDAYS)("%s", (text, wanted) => {
    expect(shown(text)).toBe(wanted);
  });
});

const published: readonly Published<string, string>[] = [
  {
    source: "21 CFR 801.18, the printed example 2 Jan 2014",
    given: "2 Jan 2014",
    value: "2014-01-02",
  },
  {
    source: "Microsoft KB Q214330, the day 5 July 1998",
    given: "July 5, 1998",
    value: "1998-07-05",
  },
  { source: "ISO 8601-1:2019 calendar date, extended", given: "1985-04-12", value: "1985-04-12" },
  { source: "ISO 8601-1:2019 calendar date, basic", given: "19850412", value: "1985-04-12" },
  { source: "RFC 3339 section 5.8", given: "1985-04-12T23:20:50.52Z", value: "1985-04-12" },
  {
    source: "RFC 3339 section 5.8; the date as written, in no other zone",
    given: "1996-12-19T16:39:57-08:00",
    value: "1996-12-19",
  },
  { source: "POSIX.1 strptime %y: 69 is 1969", given: "1 Jan 69", value: "1969-01-01" },
  { source: "POSIX.1 strptime %y: 68 is 2068", given: "1 Jan 68", value: "2068-01-01" },
];

describe("dates written as text", () => {
  it.each(published)("reads as in $source", ({ given, value }) => {
    expect(shown(given)).toBe(value);
  });

  it.each([
    // Texts other readers were seen to get wrong (order flipped, rolled over, moved by a zone).
    ["04/12/2026", "dmy 2026-12-04 mdy 2026-04-12"],
    ["14/12/2026", "dmy 2026-12-14 mdy -"],
    ["12/14/2026", "dmy - mdy 2026-12-14"],
    ["31/02/2026", null],
    ["Dec-26", "month 2026-12-01 2026-12-31"],
    ["4.12.26", "dmy 2026-12-04 mdy -"],
    ["2026-12-04T00:00:00Z", "2026-12-04"],
    // Forms people write.
    ["4-12-2026", "dmy 2026-12-04 mdy 2026-04-12"],
    ["4 / 12 / 2026", "dmy 2026-12-04 mdy 2026-04-12"],
    ["12-Apr-2026", "2026-04-12"],
    ["12 apr 26", "2026-04-12"],
    ["12th April 2026", "2026-04-12"],
    ["April 12, 2026", "2026-04-12"],
    ["Sun, 12 April 2026", "2026-04-12"],
    ["12/04/2026 09:30", "dmy 2026-04-12 mdy 2026-12-04"],
    ["2026/4/12", "2026-04-12"],
    ["2026-Apr-12", "2026-04-12"],
    ["\u00a012 April\u00a02026 ", "2026-04-12"],
    ["Jan 2026", "month 2026-01-01 2026-01-31"],
    ["February 2024", "month 2024-02-01 2024-02-29"],
    ["2026-01", "month 2026-01-01 2026-01-31"],
    ["01/2026", "month 2026-01-01 2026-01-31"],
    ["2026 Sept", "month 2026-09-01 2026-09-30"],
    // Nothing certain.
    ["29/02/2026", null],
    ["29 February 2025", null],
    ["13/13/2026", null],
    ["2026-13-01", null],
    ["31.4.2026", null],
    ["12/04", null],
    ["12", null],
    ["April", null],
    ["12 Foo 2026", null],
    ["12/04-2026", null],
    ["unknown", null],
    ["", null],
    ["in 2026", null],
    ["Q1 2026", null],
    ["1 Jan 1899", null],
  ])("reads %j as %j", (text, value) => {
    expect(shown(text)).toBe(value);
  });

  it("agrees with date-fns on dates it formats, whatever the form", () => {
    const forms = ["yyyy-MM-dd", "d MMM yyyy", "dd-MMM-yyyy", "MMMM d, yyyy", "EEE, d MMMM yyyy"];
    fc.assert(
      fc.property(
        fc.integer({ min: 25569, max: 80000 }),
        fc.constantFrom(...forms),
        (serial, form) => {
          const { year, month, dayOfMonth } = civilDate(serial as Day);
          const text = dateFns.format(new Date(year, month - 1, dayOfMonth, 12), form);
          expect(shown(text)).toBe(isoText(serial as Day));
        },
      ),
    );
  });

  it("finds 132 days of a year whose numbers fit both orders and differ", () => {
    // Source: counted, 12 months of days 1 to 12 without the 12 where both numbers are the same.
    let both = 0;
    for (
      let serial = day("2026-01-01");
      serial <= day("2026-12-31");
      serial = (serial + 1) as Day
    ) {
      const { year, month, dayOfMonth } = civilDate(serial);
      const read = readDateText(`${dayOfMonth}/${month}/${year}`);
      if (read?.kind === "numbers" && read.dmy !== null && read.mdy !== null) {
        both += read.dmy === read.mdy ? 0 : 1;
      }
    }
    expect(both).toBe(132);
  });

  it("never throws, and never gives a date whose numbers are not in the text", () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[0-9/. janfebTZ:,-]{0,24}$/), (text) => {
        const read = readDateText(text);
        if (read?.kind !== "day") return;
        const { dayOfMonth } = civilDate(read.date);
        expect(text).toContain(String(dayOfMonth));
      }),
      { numRuns: 3000 },
    );
  });
});

describe("day and month swapped", () => {
  it("gives the other date, or nothing where there is none", () => {
    expect(swapped(day("2026-04-12"))).toBe(day("2026-12-04"));
    expect(swapped(day("2026-04-13"))).toBeNull();
  });

  it("twice is the same date", () => {
    fc.assert(
      fc.property(fc.integer({ min: 40000, max: 50000 }), (serial) => {
        const other = swapped(serial as Day);
        if (other !== null) expect(swapped(other)).toBe(serial);
      }),
    );
  });
});

describe("number formats that show a date", () => {
  // Codes of ECMA-376 Part 1, 18.8.30 (numFmts), and what people make of them.
  it.each([
    ["yyyy-mm-dd", true],
    ["m/d/yy h:mm", true],
    ["mmm-yy", true],
    ["[$-409]d-mmm-yyyy;@", true],
    ["mmmm", true],
    ["General", false],
    ["0.00", false],
    ["#,##0;[Red]-#,##0", false],
    ["h:mm:ss", false],
    ["[h]:mm", false],
    ["mm:ss.0", false],
    ['"day "0', false],
    ["0\\d", false],
    ["@", false],
  ])("%s: %s", (code, isDate) => {
    expect(showsDate(code)).toBe(isDate);
  });
});

describe("years that come first, or are marked", () => {
  it("in two digits are asked about, whatever the order of day and month", () => {
    const read = readDateText("26-05-12");
    expect(read === null ? null : dayMeant(read, "dmy")).toBeNull();
    const plain = readDateText("12-05-26");
    expect(plain === null ? null : dayMeant(plain, "dmy")).toBe(day("2026-05-12"));
  });

  // From memory: Polish writes r. (rok) behind the number of a year.
  it.each([
    ["12 maja 2026 r.", "2026-05-12"],
    ["25.03.2026 r.", "dmy 2026-03-25 mdy -"],
    ["maj 2026 r.", "month 2026-05-01 2026-05-31"],
  ])("as in Polish are read: %s", (written, said) => {
    expect(shown(written)).toBe(said);
  });
});
