import { isoText } from "../core/day.ts";
import { CAUTIONS } from "../book/records/cautions.ts";
import { counted, listed } from "../book/records/problems.ts";
import { yearChange } from "../book/year/year-change.ts";
import { missingTexts } from "../book/year/use.ts";
import { isPlain, type WhatIf } from "../book/year/what-if.ts";
import { adviceOf, fitsOf, USUAL_YEAR, type Year, yearAhead } from "../book/year/year.ts";
import type { LimitedNeed, Need, PartYear } from "../book/year/need.ts";
import { noWearWhy } from "../book/year/wear.ts";
import { numberOf, type Wish } from "./arguments.ts";
import { UsageError } from "./io.ts";
import { type Command, type Outcome, runJob } from "./job.ts";
import { needDevices, type OpenBook } from "./open.ts";
import { aligned } from "./report.ts";
import { whatIfOf } from "./what-if.ts";

/** Replacements by month and part for the year ahead, with limits and what-if. */
export const ahead: Command = (wish, io) =>
  runJob(wish, io, { work: (book) => outcome(book, wish) });

/** The year ahead as the options ask for it. */
function yearOf(book: OpenBook, wish: Wish, months: number): Year {
  const { snapshot } = book.workbook;
  needDevices(book);
  const level = numberOf("level", wish.text("level"), [0.5, 0.999]) ?? USUAL_YEAR.level;
  return yearAhead(snapshot, book.reading, { months, level, whatIf: whatIfOf(wish) });
}

function outcome(book: OpenBook, wish: Wish): Outcome {
  const months = numberOf("months", wish.text("months"), [1, 60]) ?? USUAL_YEAR.months;
  if (!Number.isInteger(months)) throw new UsageError(`--months must be whole, got ${months}`);
  const limit = numberOf("share", wish.text("share"), [0, 100]) ?? 5;
  const year = yearOf(book, wish, months);
  return {
    lines: aheadLines(year, limit),
    json: aheadJson(year),
    change: yearChange(year),
  };
}

function aheadLines(year: Year, limit: number): string[] {
  const { horizon, months, parts } = year;
  const head = ["Month", ...parts.map(({ part }) => part.name)];
  const rows = months.map((month, at) => [
    isoText(month).slice(0, 7),
    ...parts.map((part) => cellText(part.months[at])),
  ]);
  const total = ["Total", ...parts.map((part) => cellText(part.total))];
  const level = Math.round(horizon.level * 100);
  return [
    `Year ahead from ${isoText(horizon.reportDate)}, ${months.length} months: expected replacements, in brackets the limits that hold with ${level} %.`,
    ...(isPlain(year.whatIf)
      ? []
      : ["What if: as said with the options; nothing of it is in the register."]),
    "",
    ...aligned([head, ...rows, total]),
    "",
    ...parts.flatMap((part) => wearLines(part, year.whatIf.wear, limit)),
    ...useLines(year),
    ...year.leftOut.map((text) => `Left out: ${text}.`),
    "",
    CAUTIONS.planningAid,
    CAUTIONS.latestPlannedDate,
  ];
}

function cellText(need: PartYear["total"] | undefined): string {
  return need === undefined ? "" : `${need.expected.toFixed(1)} (${need.low}-${need.high})`;
}

/** What the log says about wear, whether the interval fits it, and what costs least. */
function wearLines(part: PartYear, looked: WhatIf["wear"], limit: number): string[] {
  const { name, task } = part.part;
  if (task) return [];
  const { failures, months, wear } = part.wear;
  if (wear === null) return [`${name}: ${noWearWhy(looked)}; early replacements are not counted.`];
  const seen = `${name}: ${failures} worn before their due date in ${counted(Math.round(months), "month")} in use (Job log)`;
  const fits = fitsOf(part);
  if (fits === null) return [`${seen}; early ones at a steady rate, too few for more.`];
  const shares = fits.map(
    ({ months: age, share, low, high }) =>
      `${percent(share)} before ${age} months (${percent(low)} to ${percent(high)})`,
  );
  const most = Math.max(...fits.map(({ share }) => share)) * 100;
  const verdict =
    most > limit ? `more than the ${limit} % looked for` : `within the ${limit} % looked for`;
  const advice = adviceOf(part);
  return [
    `${seen}.`,
    `  Worn: ${shares.join(", ")}: ${verdict}.`,
    ...(advice === null
      ? []
      : [
          `  Least cost a month at ${advice.months.toFixed(1)} months (${advice.cost.toFixed(2)}; shortest ${advice.atShortest.toFixed(2)}, longest ${advice.atLongest.toFixed(2)}): advice only, never longer than Parts says.`,
        ]),
  ];
}

function percent(share: number): string {
  return `${(share * 100).toFixed(1)} %`;
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
      ? "Too few counts to look ahead: the shortest intervals apply."
      : `Sessions expected: ${sessions.toFixed(0)}.`,
    ...(missing.length === 0
      ? []
      : [`Counts missing in ${missing.join("; ")}; those months are passed over.`]),
    ...(estimated.length === 0 ? [] : [`By the estimate of their site: ${estimated.join(", ")}.`]),
    ...(doubts.size === 0
      ? []
      : [
          `In doubt, so reckoned with the shorter interval or as due at once: ${listed(
            [...doubts].filter((device) => device !== ""),
            10,
          )}.`,
        ]),
  ];
}

function aheadJson(year: Year): object {
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
function needJson({ scheduled, unplanned }: Need): object {
  return { planned: scheduled, early: unplanned };
}

function limitedJson({ expected, low, high, ...need }: LimitedNeed): object {
  return { ...needJson(need), expected, low, high };
}
