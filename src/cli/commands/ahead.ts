import { z } from "zod";
import { isoText } from "../../core/day.ts";
import { percentText } from "../../book/records/percent.ts";
import { CAUTIONS } from "../../book/records/cautions.ts";
import { listed } from "../../book/records/problems.ts";
import { yearChange } from "../../book/year/year-change.ts";
import { missingTexts, PASSED_OVER } from "../../book/year/use.ts";
import { spreadSays } from "../../book/year/use-spread.ts";
import { isPlain } from "../../book/year/what-if.ts";
import { adviceOf, fitsOf, USUAL_YEAR, type Year, yearAhead } from "../../book/year/year.ts";
import { partText } from "../../book/year/horizon.ts";
import type { LimitedNeed, Need, PartYear } from "../../book/year/need.ts";
import { lifeOf, USUAL_WORN, wearLines } from "../../book/year/wear-lines.ts";
import { BOOK, command } from "../command.ts";
import { type Outcome, runJob } from "../job.ts";
import { needDevices, type OpenBook } from "../open.ts";
import { type Given, number, usual, whole } from "../option.ts";
import { AMOUNT, DATE, jobResult, list } from "../result.ts";
import { aligned } from "../report.ts";
import { WHAT_IF, whatIfOf } from "../what-if.ts";

const NEED = { planned: z.number(), early: z.number() };
const LIMITED = z.strictObject({
  ...NEED,
  expected: z.number(),
  low: z.number(),
  high: z.number(),
  holds: z.number(),
});

const RESULT = {
  reportDate: DATE,
  level: z.number(),
  months: list(DATE),
  parts: list(
    z.strictObject({
      part: z.string(),
      units: z.number(),
      total: LIMITED,
      months: list(LIMITED),
      sites: list(
        z.strictObject({ site: z.string(), units: z.number(), months: list(z.strictObject(NEED)) }),
      ),
      wear: z.strictObject({ worn: z.number(), months: z.number() }),
      fits: list(
        z.strictObject({
          months: z.number(),
          share: z.number(),
          low: z.number(),
          high: z.number(),
        }),
      ).nullable(),
      advice: z
        .strictObject({
          months: z.number(),
          cost: z.number(),
          atShortest: z.number(),
          atLongest: z.number(),
        })
        .nullable(),
      life: z
        .strictObject({
          by: z.enum(["months", "uses", "months and use"]),
          wipes: z.boolean(),
          better: z.number(),
          lives: z.number(),
          failures: z.number(),
          kinds: list(
            z.strictObject({
              interval: z.enum(["longest", "between", "shortest"]),
              alcohol: z.boolean().nullable(),
              devices: z.number(),
              uses: z.number(),
              months: z.number(),
              share: z.number(),
              low: z.number(),
              high: z.number(),
              leastCost: z.number().nullable(),
            }),
          ),
        })
        .nullable(),
    }),
  ),
  sessions: list(z.strictObject({ month: DATE, uses: z.number(), low: AMOUNT, high: AMOUNT })),
  countsMissing: list(DATE),
  leftOut: list(z.string()),
  estimated: list(z.string()),
};

/** What --json prints. */
type Result = z.infer<z.ZodObject<typeof RESULT>>;

const OPTIONS = {
  months: usual(
    USUAL_YEAR.months,
    whole("12", "how many whole months from the report date", [1, 60]),
  ),
  level: usual(
    USUAL_YEAR.level,
    number("0.9", "chance that the limits hold, 0.5 to 0.999", [0.5, 0.999]),
  ),
  share: usual(
    USUAL_WORN,
    number(
      String(USUAL_WORN),
      "target for the percentage worn before the end of the interval",
      [0, 100],
    ),
  ),
  ...WHAT_IF,
};

/** Replacements by month and part for the year ahead, with limits and what-if. */
export const ahead = command({
  name: "ahead",
  moment: "The year",
  brief: "replacements by month and part, with limits and what-if",
  about: `Replacements by month and part: on schedule, early, and the limits that hold with the chance --level;
whether the interval fits the wear seen (the share worn before its end, against --share percent), whether
life goes by months or by uses and how the interval then fits each kind of site, and which interval costs
least. With -o, also the sheets Year ahead, Usage forecast and Year by device,
with charts.`,
  words: BOOK,
  writes: "[-o OUT]",
  common: ["json"],
  examples: [
    "ahead equipment.xlsx",
    "ahead equipment.xlsx --volume 10 --interval SET=3-4",
    "ahead equipment.xlsx -o with-year.xlsx",
  ],
  options: OPTIONS,
  result: jobResult(RESULT),
  run: (asked) => runJob(asked.words, asked, (book) => outcome(book, asked.given)),
});

function outcome(book: OpenBook, given: Given<typeof OPTIONS>): Outcome<Result> {
  needDevices(book);
  const { months, level, share } = given;
  const year = yearAhead(book.workbook.snapshot, book.reading, {
    months,
    level,
    whatIf: whatIfOf(given),
  });
  return { lines: aheadLines(year, share), json: aheadJson(year), change: yearChange(year) };
}

function aheadLines(year: Year, limit: number): string[] {
  const { horizon, months, parts } = year;
  const head = ["Month", ...parts.map(({ part }) => part.name)];
  const rows = months.map((month, at) => [
    [isoText(month).slice(0, 7), partText(at, horizon)].filter(Boolean).join(" "),
    ...parts.map((part) => cellText(part.months[at])),
  ]);
  const total = ["Total", ...parts.map((part) => cellText(part.total))];
  return [
    `Year ahead from ${isoText(horizon.reportDate)}, ${horizon.months} whole months: expected replacements, in brackets the limits that hold with at least ${percentText(horizon.level)}.`,
    ...(isPlain(year.whatIf)
      ? []
      : ["What if: as given by the options; none of it is in the register."]),
    "",
    ...aligned([head, ...rows, total]),
    "",
    ...parts.flatMap((part) => wearLines(year, part, limit)),
    ...useLines(year),
    ...[spreadSays(horizon.spread, year.use)].filter((text) => text !== ""),
    ...year.leftOut.map((text) => `Left out: ${text}.`),
    "",
    CAUTIONS.planningAid,
    CAUTIONS.latestPlannedDate,
  ];
}

function cellText(need: PartYear["total"] | undefined): string {
  return need === undefined ? "" : `${need.expected.toFixed(1)} (${need.low}-${need.high})`;
}

function useLines({ use, estimated, parts }: Year): string[] {
  const { ahead: uses } = use.programme;
  const missing = missingTexts(use, (month) => isoText(month).slice(0, 7));
  const sessions = uses.reduce((sum, one) => sum + one.uses, 0);
  const doubts = new Set(
    parts.flatMap(({ units }) =>
      units.flatMap(({ device, doubt }) => (doubt === "" ? [] : [device])),
    ),
  );
  return [
    uses.length === 0
      ? "Too few counts for a forecast: the shortest intervals apply."
      : `Sessions expected: ${sessions.toFixed(0)}.`,
    ...(missing.length === 0 ? [] : [`Counts missing in ${missing.join("; ")}; ${PASSED_OVER}.`]),
    ...(estimated.length === 0
      ? []
      : [`Using the estimate for their site: ${estimated.join(", ")}.`]),
    ...(doubts.size === 0
      ? []
      : [
          `In doubt, so calculated with the shorter interval or as due at once: ${listed(
            [...doubts].filter((device) => device !== ""),
            10,
          )}.`,
        ]),
  ];
}

function aheadJson(year: Year): Result {
  return {
    reportDate: isoText(year.horizon.reportDate),
    level: year.horizon.level,
    months: year.months.map(isoText),
    parts: year.parts.map((part) => ({
      part: part.part.code,
      units: part.units.length,
      total: limitedJson(part.total),
      months: part.months.map(limitedJson),
      sites: part.sites.map((site) => ({ ...site, months: site.months.map(needJson) })),
      wear: { worn: part.wear.failures, months: part.wear.months },
      fits: fitsOf(part),
      advice: adviceOf(part),
      life: lifeOf(year, part),
    })),
    sessions: year.use.programme.ahead.map(({ month, ...rest }) => ({
      month: isoText(month),
      ...rest,
    })),
    countsMissing: year.use.programme.missing.map(isoText),
    leftOut: year.leftOut,
    estimated: year.estimated,
  };
}

/** Scheduled and unplanned bear the names that people and files know. */
function needJson({ scheduled, unplanned }: Need) {
  return { planned: scheduled, early: unplanned };
}

function limitedJson(need: LimitedNeed): z.infer<typeof LIMITED> {
  const { expected, low, high, holds } = need;
  return { ...needJson(need), expected, low, high, holds };
}
