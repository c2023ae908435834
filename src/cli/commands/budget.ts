import { z } from "zod";
import { isoText } from "../../core/day.ts";
import { type Budget, budgetOf } from "../../book/budget/budget.ts";
import { mayBegin } from "../../book/budget/fiscal.ts";
import { budgetSays } from "../../book/budget/says.ts";
import type { SoFar } from "../../book/budget/so-far.ts";
import { assumptionsOf } from "../../book/budget/assumptions.ts";
import { budgetChange } from "../../book/budget/budget-change.ts";
import { budgetTexts } from "../budget-texts.ts";
import { BOOK, command } from "../command.ts";
import { UsageError } from "../io.ts";
import { type Outcome, runJob } from "../job.ts";
import { needDevices, type OpenBook } from "../open.ts";
import { flag, type Given, month, number } from "../option.ts";
import { POOL } from "../orders.ts";
import { AMOUNT, DATE, jobResult, list } from "../result.ts";
import { WHAT_IF, whatIfOf } from "../what-if.ts";

const RESULT = {
  reportDate: DATE,
  fiscalYear: z.string(),
  from: DATE,
  end: DATE,
  currency: z.string(),
  expected: z.number(),
  contingency: AMOUNT,
  upper: AMOUNT,
  holds: z.number().nullable(),
  level: z.number(),
  freight: list(z.number()),
  places: list(
    z.strictObject({
      part: z.string(),
      site: z.string(),
      units: z.number(),
      startStock: z.number(),
      endStock: z.number(),
      boughtAgain: z.number(),
      packs: z.number(),
      cost: AMOUNT,
      quarters: list(
        z.strictObject({
          quarter: z.string(),
          units: z.number(),
          packs: z.number(),
          price: AMOUNT,
          cost: AMOUNT,
        }),
      ),
    }),
  ),
  soFar: z
    .strictObject({
      done: list(z.strictObject({ part: z.string(), date: DATE, units: z.number(), cost: AMOUNT })),
      replaced: z.number(),
      onOrder: z.number(),
      stock: z.number(),
      stated: AMOUNT,
      spent: AMOUNT,
      unknown: list(z.string()),
    })
    .nullable(),
  whole: z.strictObject({ expected: z.number(), upper: z.number() }).nullable(),
  bridge: list(z.strictObject({ step: z.string(), amount: z.number(), about: z.string() })),
  unpriced: list(z.string()),
  incomplete: list(z.string()),
  assumptions: list(
    z
      .tuple([
        z.string(),
        z.union([
          z.number(),
          z.string(),
          z.boolean(),
          z.null(),
          z.strictObject({ error: z.string() }),
        ]),
        z.string(),
      ])
      .readonly(),
  ),
  says: list(z.string()),
};

/** What --json prints. */
type Result = z.infer<z.ZodObject<typeof RESULT>>;

const OPTIONS = {
  from: month(
    "first of the twelve months, also of a year that is running; otherwise the fiscal year of Setup that began in the last two months, or the next one",
  ),
  spent: number(
    "1250",
    "what a running year has cost so far by the accounts; otherwise worked out at today's prices",
    [0, 1e12],
  ),
  level: number(
    "0.8",
    "chance that the upper figure is enough; otherwise the one in Setup",
    [0.5, 0.9999],
  ),
  births: flag("calculate the sessions from births on Sites"),
  pool: POOL,
  ...WHAT_IF,
};

/** The fiscal year's parts: expected and upper figure, by part, site and quarter. */
export const budget = command({
  name: "budget",
  moment: "The year",
  brief: "cost of the fiscal year's parts, expected and upper figure",
  about: `The fiscal year's parts by part, site and quarter: expected cost, contingency and the upper figure
that is enough with the chance --level; the steps from last year's cost; every assumption. Of a year that is
running: what it has cost so far, what is left, and the year as both. With -o, also
the sheets Budget, Budget by site, Budget calculation, Budget bridge, Assumptions and Year by device.`,
  words: BOOK,
  writes: "[-o OUT]",
  common: ["json"],
  examples: [
    "budget equipment.xlsx",
    "budget equipment.xlsx --from 2027-07 --level 0.9 -o with-budget.xlsx",
  ],
  options: OPTIONS,
  result: jobResult(RESULT),
  run: (asked) => runJob(asked.words, asked, (book) => outcome(book, asked.given)),
});

function outcome(book: OpenBook, given: Given<typeof OPTIONS>): Outcome<Result> {
  const { workbook, reading } = book;
  const { from, level, spent } = given;
  needDevices(book);
  if (from !== null && !mayBegin(from, reading.ours.settings.reportDate)) {
    throw new UsageError(
      `--from must be a month within four years whose twelve months are not over by the report date, got "${isoText(from).slice(0, 7)}"`,
    );
  }
  const found = budgetOf(workbook.snapshot, reading, {
    from,
    level,
    spent,
    pooled: given.pool,
    births: given.births,
    whatIf: whatIfOf(given),
  });
  if (spent !== null && found.soFar === null) {
    throw new UsageError(
      `--spent goes with a year that is running; ${found.fiscal.name} begins on ${isoText(found.fiscal.from)}`,
    );
  }
  return { lines: budgetTexts(found), json: budgetJson(found), change: budgetChange(found) };
}

function budgetJson(found: Budget): Result {
  return {
    reportDate: isoText(found.year.horizon.reportDate),
    fiscalYear: found.fiscal.name,
    from: isoText(found.fiscal.from),
    end: isoText(found.fiscal.end),
    currency: found.year.reading.ours.settings.currency,
    expected: found.expected,
    contingency: found.incomplete.length === 0 ? found.contingency : null,
    upper: found.incomplete.length === 0 ? found.upper : null,
    holds: found.incomplete.length === 0 ? found.holds : null,
    incomplete: found.incomplete,
    level: found.level,
    freight: found.freight,
    places: found.places.map(({ part, quarters, ...place }) => ({
      part: part.code,
      ...place,
      quarters: quarters.map(({ quarter, ...need }) => ({ quarter: quarter.name, ...need })),
    })),
    soFar: soFarJson(found.soFar),
    whole: found.whole,
    bridge: found.bridge,
    unpriced: found.unpriced,
    assumptions: assumptionsOf(found),
    says: budgetSays(found),
  };
}

function soFarJson(soFar: SoFar | null): Result["soFar"] {
  if (soFar === null) return null;
  const done = soFar.done.map(({ part, date, ...one }) => ({
    part: part.code,
    date: isoText(date),
    ...one,
  }));
  return { ...soFar, done };
}
