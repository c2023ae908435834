import { type Day, isoText } from "../core/day.ts";
import { type Budget, budgetOf, sumOf } from "../book/budget/budget.ts";
import { mayBegin } from "../book/budget/fiscal.ts";
import { budgetSays } from "../book/budget/says.ts";
import { CAUTIONS } from "../book/records/cautions.ts";
import { assumptionsOf } from "../book/budget/assumptions.ts";
import { budgetChange } from "../book/budget/budget-change.ts";
import { dateOf, numberOf, type Wish } from "./arguments.ts";
import { UsageError } from "./io.ts";
import { type Command, type Outcome, runJob } from "./job.ts";
import { needDevices, type OpenBook } from "./open.ts";
import { aligned } from "./report.ts";
import { whatIfOf } from "./what-if.ts";

/** The fiscal year's parts: expected and upper figure, by part, site and quarter. */
export const budget: Command = (wish, io) =>
  runJob(wish, io, { work: (book) => outcome(book, wish) });

function outcome(book: OpenBook, wish: Wish): Outcome {
  const { workbook, reading } = book;
  needDevices(book);
  const found = budgetOf(workbook.snapshot, reading, {
    from: monthOf(wish, reading.ours.settings.reportDate),
    level: numberOf("level", wish.text("level"), [0.5, 0.9999]),
    pooled: wish.flag("pool"),
    births: wish.flag("births"),
    whatIf: whatIfOf(wish),
  });
  return {
    lines: budgetTexts(found),
    json: budgetJson(found),
    change: budgetChange(found),
  };
}

/** The first month said with --from, not before that of the report date and at most four years ahead. */
function monthOf(wish: Wish, reportDate: Day): Day | null {
  const text = wish.text("from");
  if (text !== null && !/^\d{4}-(?:0[1-9]|1[0-2])(?:-01)?$/.test(text)) {
    throw new UsageError(`--from must be a month as yyyy-mm, got "${text}"`);
  }
  const from = dateOf("from", text === null ? null : `${text.slice(0, 7)}-01`);
  if (from !== null && !mayBegin(from, reportDate)) {
    throw new UsageError(
      `--from must be a month from the report date's on, within four years, got "${text ?? ""}"`,
    );
  }
  return from;
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
    return [
      part.name,
      units.toFixed(1),
      String(packs),
      ...byQuarter.map(money),
      money(sumOf(byQuarter)),
    ];
  });
  const freight = ["Freight", "", "", ...found.freight.map(money), money(sumOf(found.freight))];
  const head = ["Item", "Units", "Packs", ...fiscal.quarters.map(({ name }) => name), "Year"];
  return [
    `Budget of parts, fiscal year ${fiscal.name}, as of ${isoText(year.horizon.reportDate)}, in ${year.reading.ours.settings.currency}.`,
    "",
    ...aligned([head, ...rows, freight]),
    "",
    found.unpriced.length === 0
      ? `Expected ${money(found.expected)}; contingency ${money(found.contingency)}; upper figure ${money(found.upper)}, enough with a chance of ${Math.round(level * 100)} %.`
      : `Not complete: the sums lack what has no price. So far expected ${money(found.expected)}.`,
    ...(found.unpriced.length === 0
      ? []
      : [`No price on Parts, so not in the sums: ${found.unpriced.join(", ")}.`]),
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

function budgetJson(found: Budget): object {
  return {
    reportDate: isoText(found.year.horizon.reportDate),
    fiscalYear: found.fiscal.name,
    from: isoText(found.fiscal.from),
    end: isoText(found.fiscal.end),
    currency: found.year.reading.ours.settings.currency,
    expected: found.expected,
    contingency: found.contingency,
    upper: found.upper,
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
