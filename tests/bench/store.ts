import { chance } from "../../src/book/demo/chance.ts";
import { countQuantile } from "../../src/core/count-distribution.ts";
import { DAYS_PER_MONTH } from "../../src/core/counts.ts";
import { leadCover } from "../../src/core/order.ts";
import { shareOut } from "../../src/core/two-levels.ts";

/**
 * Whether two rules of the literature would do better than those of the order list, by simulation; run by hand:
 *
 *     node build/tests/bench/store.js          a thousand years a row, seeded
 *
 * Early calls alone are drawn, Poisson at each site: what falls due is known before, and every rule orders for it alike.
 * Orders are looked at every two weeks; lead times are gamma about 30 days with a spread of 8; a unit from the store is
 * at a site two days later. What was found is in docs/simulation.md.
 */
const [LEAD, SPREAD, REVIEW, WAY, LEVEL] = [30, 8, 14, 2, 0.95];
const COVER = leadCover(LEAD, SPREAD, LEVEL) + REVIEW;
const YEARS = Number(process.argv[2] ?? 1000);
const DAYS = Math.round(12 * YEARS * DAYS_PER_MONTH);
const SHAPE = Math.round((LEAD / SPREAD) ** 2);

const random = chance(20260517);
const leadTime = (): number => Math.round((random.gamma(SHAPE) * LEAD) / SHAPE);
const sum = (numbers: readonly number[]): number => numbers.reduce((all, one) => all + one, 0);

/** Spares enough for the calls until an order of the next look has come, at the service level: the rule of the list. */
function sparesFor(aMonth: number): number {
  return Math.max(1, countQuantile(LEVEL, { mean: (aMonth * COVER) / DAYS_PER_MONTH }));
}

/** Calls of each day, drawn before: how many, by site. */
function callsOf(rates: readonly number[]): Int32Array[] {
  return rates.map((rate) => {
    const days = new Int32Array(DAYS);
    for (let at = 0; ;) {
      at -= (Math.log(1 - random.share()) * DAYS_PER_MONTH) / rate;
      if (at >= DAYS) return days;
      days[Math.floor(at)] = (days[Math.floor(at)] ?? 0) + 1;
    }
  });
}

/** A stock that is filled up to its level, and the calls that wait for it. */
class Stock {
  onHand: number;
  coming = 0;
  readonly waiting: { readonly since: number; readonly give: (day: number) => void }[] = [];
  readonly level: number;

  constructor(level: number) {
    this.level = level;
    this.onHand = level;
  }

  /** A unit is wanted: given at once, or when one has come. */
  want(day: number, give: (day: number) => void): void {
    if (this.onHand > 0) {
      this.onHand -= 1;
      give(day);
    } else this.waiting.push({ since: day, give });
  }

  receive(day: number, units: number): void {
    this.coming -= units;
    for (let unit = 0; unit < units; unit += 1) {
      const first = this.waiting.shift();
      if (first === undefined) this.onHand += 1;
      else first.give(day);
    }
  }

  missing(): number {
    return this.level - (this.onHand + this.coming - this.waiting.length);
  }
}

/** Things that happen on days to come. */
class Agenda {
  readonly #days = new Map<number, (() => void)[]>();

  on(day: number, happens: () => void): void {
    const there = this.#days.get(day);
    if (there === undefined) this.#days.set(day, [happens]);
    else there.push(happens);
  }

  reach(day: number): void {
    for (const happens of this.#days.get(day) ?? []) happens();
    this.#days.delete(day);
  }
}

/** Spares in the store and at each site; a store of null: every site orders for itself. */
interface Spares {
  readonly store: number | null;
  readonly sites: readonly number[];
}

/** Share of calls met from the site's own spares, and days that a call waits on average. */
interface Came {
  readonly met: number;
  readonly days: number;
}

function lived(calls: readonly Int32Array[], { store, sites }: Spares): Came {
  const agenda = new Agenda();
  const centre = store === null ? null : new Stock(store);
  const shelves = sites.map((level) => new Stock(level));
  const ordering = centre === null ? shelves : [centre];
  let [called, met, waited] = [0, 0, 0];
  for (let day = 0; day < DAYS; day += 1) {
    agenda.reach(day);
    shelves.forEach((shelf, at) => {
      for (let call = 0; call < (calls[at]?.[day] ?? 0); call += 1) {
        called += 1;
        shelf.want(day, (given) => {
          waited += given - day;
          met += given === day ? 1 : 0;
        });
        if (centre === null) continue;
        shelf.coming += 1;
        centre.want(day, (sent) => {
          agenda.on(sent + WAY, () => {
            shelf.receive(sent + WAY, 1);
          });
        });
      }
    });
    if (day % REVIEW !== 0) continue;
    for (const stock of ordering) {
      const units = stock.missing();
      if (units <= 0) continue;
      const comes = day + Math.max(1, leadTime());
      stock.coming += units;
      agenda.on(comes, () => {
        stock.receive(comes, units);
      });
    }
  }
  return { met: met / called, days: waited / called };
}

/** So many spares where the two-level recursion expects the least to be short. */
function placed(rates: readonly number[], units: number): Spares {
  return shareOut(
    units,
    (LEAD + REVIEW / 2) / DAYS_PER_MONTH,
    rates.map((perMonth) => ({ perMonth, leadMonths: WAY / DAYS_PER_MONTH })),
  );
}

/** A rule of joint orders: above its reorder point an item is filled up, and joins an order that goes out anyway. */
interface Joint {
  readonly fill: number;
  readonly can: number;
}

/** Share of calls met, orders a year and units on hand on average. */
interface Joined {
  readonly met: number;
  readonly orders: number;
  readonly stock: number;
}

function joined(
  calls: readonly Int32Array[],
  points: readonly number[],
  rule: Joint & { readonly pack: number },
): Joined {
  const agenda = new Agenda();
  const items = points.map((point) => new Stock(point + rule.fill));
  let [called, met, orders, held] = [0, 0, 0, 0];
  for (let day = 0; day < DAYS; day += 1) {
    agenda.reach(day);
    items.forEach((item, at) => {
      for (let call = 0; call < (calls[at]?.[day] ?? 0); call += 1) {
        called += 1;
        item.want(day, (given) => {
          met += given === day ? 1 : 0;
        });
      }
      held += item.onHand;
    });
    // A place is short as soon as one call is not covered.
    if (day % REVIEW !== 0 || !items.some((item) => item.missing() > rule.fill)) continue;
    orders += 1;
    const comes = day + Math.max(1, leadTime());
    for (const item of items) {
      const missing = item.missing();
      if (missing <= Math.max(0, rule.fill - rule.can)) continue;
      const units = Math.ceil(missing / rule.pack) * rule.pack;
      item.coming += units;
      agenda.on(comes, () => {
        item.receive(comes, units);
      });
    }
  }
  return { met: met / called, orders: orders / YEARS, stock: held / DAYS };
}

const percent = (share: number): string => (100 * share).toFixed(1);
const say = (cells: readonly (string | number)[]): void => {
  process.stdout.write(`| ${cells.join(" | ")} |\n`);
};

say([
  "early calls a month",
  "rule",
  "spares",
  "of them in the store",
  "met at once %",
  "days waited",
]);
for (const rates of [0.05, 0.2, 0.5, 1]
  .map((rate) => Array.from({ length: 8 }, () => rate))
  .concat([[0.02, 0.05, 0.1, 0.1, 0.2, 0.3, 0.5, 1]])) {
  const calls = callsOf(rates);
  const each = { store: null, sites: rates.map(sparesFor) };
  const pooled = { store: sparesFor(sum(rates)), sites: rates.map(() => 0) };
  const rules: readonly (readonly [string, Spares])[] = [
    ["list, each site", each],
    ["two levels, as many", placed(rates, sum(each.sites))],
    ["list, one store", pooled],
    ["two levels, as many", placed(rates, pooled.store)],
  ];
  const name = rates.every((rate) => rate === rates[0]) ? `8 × ${rates[0] ?? 0}` : rates.join(", ");
  for (const [rule, spares] of rules) {
    const { met, days } = lived(calls, spares);
    const all = (spares.store ?? 0) + sum(spares.sites);
    say([name, rule, all, spares.store ?? "none", percent(met), days.toFixed(2)]);
  }
}

const [FREIGHT, HOLDING] = [12, 20];
say([
  "early calls a month",
  "pack",
  "rule",
  "filled up by",
  "met at once %",
  "orders a year",
  "cost a year",
]);
for (const [rate, pack] of [0.05, 0.2, 0.5, 1].flatMap((one) => [
  [one, 1] as const,
  [one, 4] as const,
])) {
  const rates = [rate, rate, rate / 2, rate / 4];
  const calls = callsOf(rates);
  const points = rates.map(sparesFor);
  const costOf = ({ orders, stock }: Joined): number => FREIGHT * orders + HOLDING * stock;
  const found = [0, 1, 2, 3, 4].flatMap((fill) =>
    Array.from({ length: fill + 1 }, (_, can) => ({ fill, can })).map((rule) => ({
      ...rule,
      ...joined(calls, points, { ...rule, pack }),
    })),
  );
  const best = (of: typeof found): (typeof found)[number] | undefined =>
    [...of].sort((one, other) => costOf(one) - costOf(other))[0];
  for (const [name, one] of [
    ["list", found[0]],
    ["filled up further", best(found.filter(({ can }) => can === 0))],
    ["can-order", best(found.filter(({ can }) => can > 0))],
  ] as const) {
    if (one === undefined) continue;
    const cells = [one.fill, percent(one.met), one.orders.toFixed(1), costOf(one).toFixed(0)];
    say([rates.join(", "), pack, name, ...cells]);
  }
}
