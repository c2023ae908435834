import { fiscalYear } from "../../src/book/budget/fiscal.ts";
import { costAhead } from "../../src/book/budget/level.ts";
import { sumOf } from "../../src/book/budget/money.ts";
import { type PlaceBudget, placeBudgets } from "../../src/book/budget/need.ts";
import { placesOf } from "../../src/book/orders/place.ts";
import { dueBy } from "../../src/book/orders/place-stock.ts";
import { NO_WHAT_IF, type WhatIf } from "../../src/book/year/what-if.ts";
import { USUAL_YEAR, type Year, yearAhead } from "../../src/book/year/year.ts";
import { addMonths } from "../../src/core/day.ts";
import { type Happened, type Lived, livedOnce, RISE, SIMULATED_ON, type World } from "./world.ts";

/**
 * Whether figures with a chance beside them hold with that chance: programmes live on in the world of
 * world.ts, and what came is compared with what the year ahead, the budget and the orders had said.
 *
 *     npm run simulate            200 years a programme, seeded; takes hours
 *     npm run simulate -- 50 34   so many years, and fleets of this size only
 *     npm run simulate -- 50 34 2 the second row of these alone
 *
 * What holds is in docs/simulation.md.
 *
 * A share of 0.9 in 200 years has a standard error of 0.02. Devices of a programme share its births, so
 * whole parts and places of a year are counted one by one but do not come true independently.
 */
const LIMITS = [0.8, 0.9, 0.95];
const ENOUGH = [0.5, 0.8, 0.95];
const END = addMonths(SIMULATED_ON, 12);

interface Tally {
  readonly limits: number[];
  readonly budgets: number[];
  /** Chances with which they say themselves that they hold. */
  readonly limitsSay: number[];
  readonly budgetsSay: number[];
  parts: number;
  years: number;
  expected: number;
  came: number;
  said: number;
  spent: number;
  upper: number;
  /** Places, those whose reorder point lasted, units called for and units short. */
  places: number;
  lasted: number;
  called: number;
  short: number;
  stock: number;
}

function emptyTally(): Tally {
  return {
    limits: LIMITS.map(() => 0),
    budgets: ENOUGH.map(() => 0),
    limitsSay: LIMITS.map(() => 0),
    budgetsSay: ENOUGH.map(() => 0),
    ...{ parts: 0, years: 0, expected: 0, came: 0, said: 0, spent: 0, upper: 0 },
    ...{ places: 0, lasted: 0, called: 0, short: 0, stock: 0 },
  };
}

function add(sums: number[], at: number, amount: number): void {
  sums[at] = (sums[at] ?? 0) + amount;
}

/** The fiscal year ends the day before; the year ahead is twelve whole months from the report date. */
function inYear({ on }: Happened): boolean {
  return on > SIMULATED_ON && on < END;
}

function isAhead({ on }: Happened): boolean {
  return on > SIMULATED_ON && on <= END;
}

function judgeLimits(year: Year, came: readonly Happened[], tally: Tally): void {
  for (const { part, totalAt } of year.parts) {
    const count = came.filter((one) => one.part === part.code && isAhead(one)).length;
    LIMITS.forEach((level, at) => {
      const { low, high, holds } = totalAt(level);
      add(tally.limits, at, low <= count && count <= high ? 1 : 0);
      add(tally.limitsSay, at, holds);
    });
    tally.parts += 1;
    tally.expected += totalAt(0.9).expected;
    tally.came += count;
  }
}

/** What the year's packs really cost, with the stocks that the budget begins and ends with. */
function spentOn(places: readonly PlaceBudget[], came: readonly Happened[]): number {
  return places.reduce((sum, { part, site, startStock, endStock, boughtAgain }) => {
    const { perReplacement, pack, packPrice } = part.supply;
    const here = came.filter((one) => one.part === part.code && one.site === site && inYear(one));
    const units = here.length * perReplacement + endStock + boughtAgain - startStock;
    return sum + Math.max(0, Math.ceil(units / pack)) * (packPrice ?? 0);
  }, 0);
}

function judgeBudget(year: Year, came: readonly Happened[], tally: Tally): void {
  const { reportDate, fiscalStart } = year.reading.ours.settings;
  const fiscal = fiscalYear(reportDate, fiscalStart, null);
  const kept = { pooled: false, stocks: placesOf(year, false), bought: [] };
  const { places, costs } = placeBudgets(year, fiscal, kept);
  const expected = sumOf(places.map(({ cost }) => cost));
  const spent = spentOn(places, came);
  const ahead = costAhead(costs);
  const upper = ENOUGH.map((level) => Math.max(expected, ahead.at(level)));
  upper.forEach((cost, at) => {
    add(tally.budgets, at, spent <= cost + 1e-9 ? 1 : 0);
    add(tally.budgetsSay, at, ahead.holds(cost));
  });
  tally.years += 1;
  tally.said += expected;
  tally.spent += spent;
  tally.upper += upper[1] ?? 0;
}

/** Whether stock at the reorder point lasts until an order of the next look has really come. */
function judgeOrders(year: Year, { came, leads }: Lived, tally: Tally): void {
  for (const place of placesOf(year, false)) {
    const { part, site, due, safetyStock, protectionInterval, leadCover } = place;
    const review = protectionInterval - leadCover;
    const until = SIMULATED_ON + review + (leads.get(part.code) ?? 0);
    const calls = came.filter(
      (one) => one.part === part.code && one.site === site && one.on <= until,
    );
    const called = calls.length * part.supply.perReplacement;
    const point = safetyStock + dueBy(due, SIMULATED_ON + protectionInterval);
    tally.places += 1;
    tally.lasted += called <= point ? 1 : 0;
    tally.called += called;
    tally.short += Math.max(0, called - point);
    tally.stock += safetyStock;
  }
}

const [years = 200, only, nth] = process.argv.slice(2).map(Number);
const usual: World = {
  ...{ devices: 34, sites: 8, wears: true, births: "steady", perReplacement: 1, leadSpread: 8 },
};
const worlds: World[] = [10, 34, 150, 1000].flatMap((devices): World[] => [
  ...[1, 8].flatMap((sites): World[] =>
    [true, false].map((wears) => ({ ...usual, devices, sites, wears })),
  ),
  { ...usual, devices, births: "seasonal" },
  { ...usual, devices, births: "10 % more" },
  { ...usual, devices, births: "10 % more, foretold" },
  { ...usual, devices, births: "new site" },
  { ...usual, devices, perReplacement: 2, leadSpread: 20 },
]);

function percent(part: number, whole: number): string {
  return whole === 0 ? "–" : ((100 * part) / whole).toFixed(0);
}

function nameOf({ devices, sites, wears, births, perReplacement }: World): string {
  const special = perReplacement === 1 ? births : "two units, lead ± 20 d";
  return `${devices} at ${sites}, ${wears ? "wear" : "no wear"}, ${special}`;
}

function row(world: World): string {
  const tally = emptyTally();
  for (let run = 0; run < years; run += 1) {
    const lived = livedOnce(world, 7919 * run + world.devices * 31 + world.sites);
    const { known, came } = lived;
    const volume = world.births === "10 % more, foretold" ? RISE : 0;
    const whatIf: WhatIf = { ...NO_WHAT_IF, volume, wear: world.wears ? "log" : "none" };
    const year = yearAhead(known.snapshot, known.reading, { ...USUAL_YEAR, whatIf });
    judgeLimits(year, came, tally);
    judgeBudget(year, came, tally);
    judgeOrders(year, lived, tally);
  }
  const cells = [
    nameOf(world),
    tally.limits.map((held) => percent(held, tally.parts)).join(" / "),
    tally.limitsSay.map((said) => percent(said, tally.parts)).join(" / "),
    `${(100 * (tally.expected / tally.came - 1)).toFixed(1)} %`,
    tally.budgets.map((held) => percent(held, tally.years)).join(" / "),
    tally.budgetsSay.map((said) => percent(said, tally.years)).join(" / "),
    `${(100 * (tally.said / tally.spent - 1)).toFixed(1)} %`,
    (tally.upper / tally.years).toFixed(0),
    percent(tally.lasted, tally.places),
    percent(tally.called - tally.short, tally.called),
    (tally.stock / tally.places).toFixed(1),
  ];
  return `| ${cells.join(" | ")} |`;
}

const headings = [
  "programme",
  "limits 80/90/95 hold",
  "they say",
  "need off by",
  "budget 50/80/95 enough",
  "they say",
  "expected off by",
  "upper (80)",
  "cycle 95",
  "fill",
  "spares",
];
process.stdout.write(`| ${headings.join(" | ")} |\n|${headings.map(() => "---|").join("")}\n`);
const asked = worlds.filter(({ devices }) => only === undefined || devices === only);
for (const world of nth === undefined ? asked : asked.slice(nth - 1, nth)) {
  process.stdout.write(`${row(world)}\n`);
}
