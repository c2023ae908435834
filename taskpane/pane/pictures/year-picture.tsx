import type { JSX } from "preact";
import { yearBefore } from "../../../src/book/year/past.ts";
import type { PartYear } from "../../../src/book/year/need.ts";
import type { Year } from "../../../src/book/year/year.ts";
import type { Day } from "../../../src/core/day.ts";
import { type Bar, Bars } from "./bars.tsx";
import { Legend } from "./legend.tsx";
import type { Show } from "../state/show.ts";
import { LATER_WORDS } from "../words/later-words.ts";

const words = LATER_WORDS.ahead;

/** The year ahead of each part in a picture; with something assumed, beside what is expected without it. */
export function YearPicture({
  year,
  plain,
  show,
}: {
  readonly year: Year;
  /** The year as the workbook has it; null where nothing is assumed. */
  readonly plain: Year | null;
  readonly show: Show;
}): JSX.Element {
  const { parts, horizon } = year;
  const past = parts.map(({ part }) => yearBefore(year, part));
  return (
    <>
      {parts.map((one, at) => (
        <PartPicture
          key={one.part.code}
          {...{ one, year, show }}
          past={past[at] ?? null}
          before={plain?.parts.find(({ part }) => part.code === one.part.code) ?? null}
        />
      ))}
      <Legend
        all={[
          ["bar", LATER_WORDS.chart.ahead],
          ["limits", LATER_WORDS.chart.band(show.percent(horizon.level))],
          ...(past.some((counts) => counts !== null) ? [["past", words.past] as const] : []),
          ...(plain === null ? [] : [["before", words.before] as const]),
        ]}
      />
    </>
  );
}

function PartPicture({
  one: { part, months, total },
  year,
  past,
  before,
  show,
}: {
  readonly one: PartYear;
  readonly year: Year;
  readonly past: readonly number[] | null;
  readonly before: PartYear | null;
  readonly show: Show;
}): JSX.Element {
  const peak = Math.max(...months.map(({ expected }) => expected));
  const highest = months.findIndex(({ expected }) => expected === peak);
  const bars = months.map(({ expected, low, high }, at): Bar => {
    const month = year.months[at] ?? year.horizon.reportDate;
    return {
      ...monthLabel(month, at, show),
      amount: expected,
      text: peak > 0 && expected >= peak / 2 ? show.number(expected, peak < 10 ? 1 : 0) : "",
      low,
      high,
      past: past?.[at] ?? null,
      before: before?.months[at]?.expected ?? null,
    };
  });
  const sum = past?.reduce((all, count) => all + count, 0) ?? null;
  return (
    <Bars
      title={words.picture(part.name)}
      unit={part.task ? words.tasks : words.replacements}
      description={words.told({
        expected: show.number(total.expected, 1),
        low: show.number(total.low),
        high: show.number(total.high),
        most: show.number(peak, 1),
        month: show.month(year.months[highest] ?? year.horizon.reportDate),
        past: sum === null ? null : show.number(sum),
        before: before === null ? null : show.number(before.total.expected, 1),
      })}
      bars={bars}
      show={show}
    />
  );
}

/** Every second month is named, for there is no room for all; the year stands below the first and the last. */
function monthLabel(month: Day, at: number, show: Show): Pick<Bar, "label" | "under"> {
  if (at % 2 !== 0) return { label: "" };
  return { label: show.shortMonth(month), ...(at % 12 === 0 ? { under: show.year(month) } : {}) };
}
