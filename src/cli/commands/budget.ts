import { z } from "zod";
import { isoText } from "../../core/day.ts";
import { type Budget, budgetOf, sumOf } from "../../book/budget/budget.ts";
import { mayBegin } from "../../book/budget/fiscal.ts";
import { budgetSays, incompleteSays } from "../../book/budget/says.ts";
import { CAUTIONS } from "../../book/records/cautions.ts";
import { assumptionsOf } from "../../book/budget/assumptions.ts";
import { budgetChange } from "../../book/budget/budget-change.ts";
import { BOOK, command } from "../command.ts";
import { UsageError } from "../io.ts";
import { type Outcome, runJob } from "../job.ts";
import { needDevices, type OpenBook } from "../open.ts";
import { flag, type Given, month, number } from "../option.ts";
import { POOL } from "../orders.ts";
import { AMOUNT, DATE, jobResult, list } from "../result.ts";
import { aligned } from "../report.ts";
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
  level: z.number(),
  freight: list(z.number()),
  places: list(
    z.strictObject({
      part: z.string(),
      site: z.string(),
      units: z.number(),
      startStock: z.number(),
      endStock: z.number(),
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
  from: month("its first month; otherwise the next fiscal year, as set in Setup"),
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
that is enough with the chance --level; the steps from last year's cost; every assumption. With -o, also
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
  const { from, level } = given;
  needDevices(book);
  if (from !== null && !mayBegin(from, reading.ours.settings.reportDate)) {
    throw new UsageError(
      `--from must be a month from the report date's on, within four years, got "${isoText(from).slice(0, 7)}"`,
    );
  }
  const found = budgetOf(workbook.snapshot, reading, {
    from,
    level,
    pooled: given.pool,
    births: given.births,
    whatIf: whatIfOf(given),
  });
  return { lines: budgetTexts(found), json: budgetJson(found), change: budgetChange(found) };
}

function budgetTexts(found: Budget): string[] {
  const { fiscal, places, year, level } = found;
  const parts = [...new Set(places.map(({ part }) => part))];
  const rows = parts.map((part) => {
    const here = places.filter((place) => place.part === part);
    const byQuarter = fiscal.quarters.map((quarter) =>
      sumOf(
        here.map(({ quarters }) => quarters.find((one) => one.quarter === quarter)?.cost ?? null),
      ),
    );
    const units = here.reduce((sum, one) => sum + one.units, 0);
    const packs = here.reduce((sum, one) => sum + one.packs, 0);
    // An amount nobody can work out is shown in units.
    const isPriced = part.supply.packPrice !== null;
    const unitsOf = (at: number): number =>
      here.reduce((sum, { quarters }) => sum + (quarters[at]?.units ?? 0), 0);
    const inUnits = (amount: number): string => `${amount.toFixed(1)} ${part.supply.unit}`;
    return [
      part.name,
      units.toFixed(1),
      packs.toFixed(1),
      ...byQuarter.map((amount, at) => (isPriced ? money(amount) : inUnits(unitsOf(at)))),
      isPriced ? money(sumOf(byQuarter)) : inUnits(units),
    ];
  });
  const freight = ["Freight", "", "", ...found.freight.map(money), money(sumOf(found.freight))];
  const head = ["Item", "Units", "Packs", ...fiscal.quarters.map(({ name }) => name), "Year"];
  return [
    ...incompleteSays(found),
    `Budget of parts, fiscal year ${fiscal.name}, as of ${isoText(year.horizon.reportDate)}, in ${year.reading.ours.settings.currency}.`,
    "",
    ...aligned([head, ...rows, freight]),
    "",
    found.incomplete.length === 0
      ? `Expected ${money(found.expected)}; contingency ${money(found.contingency)}; upper figure ${money(found.upper)}, enough with a chance of ${Math.round(level * 100)} %.`
      : `So far expected ${money(found.expected)}; no upper figure is given.`,
    ...budgetSays(found),
    "",
    ...aligned(found.bridge.map(({ step, amount, about }) => [step, money(amount), about])),
    "",
    ...assumptionsOf(found).map(
      ([what, value, where]) =>
        `${what}: ${typeof value === "object" ? "" : String(value)} (${where})`,
    ),
    "",
    CAUTIONS.planningAid,
  ];
}

function money(amount: number): string {
  return amount.toFixed(2);
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
    incomplete: found.incomplete,
    level: found.level,
    freight: found.freight,
    places: found.places.map(({ part, quarters, ...place }) => ({
      part: part.code,
      ...place,
      quarters: quarters.map(({ quarter, ...need }) => ({ quarter: quarter.name, ...need })),
    })),
    bridge: found.bridge,
    unpriced: found.unpriced,
    assumptions: assumptionsOf(found),
    says: budgetSays(found),
  };
}
