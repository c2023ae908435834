import { spawnSync } from "node:child_process";
import { functions } from "../../functions/index.ts";
import { countQuantile } from "../../src/core/count-distribution.ts";
import { day, type Day } from "../../src/core/day.ts";
import { needLimits } from "../../src/core/need.ts";
import { workCalendar } from "../../src/core/workday.ts";
import { chance } from "../../src/book/demo/chance.ts";
import { intervalAt } from "../../src/book/answers/answers.ts";
import { DEFAULT_PARTS } from "../../src/book/records/parts.ts";
import type { YearUnit } from "../../src/book/year/fleet.ts";
import type { Horizon } from "../../src/book/year/horizon.ts";
import { partYear } from "../../src/book/year/need.ts";

/** Columns of this many rows, one call each. */
const ROWS = 100_000;
const FLEETS = [34, 500, 10_000];

type Say = (text: string) => void;

/** Worksheet functions on columns, the year of fleets, quantiles beside R, and the stream of calc. */
export function benchFunctions(say: Say): void {
  benchColumns(say);
  benchFleets(say);
  benchOpen(say);
  benchQuantiles(say);
  benchStream(say);
}

/** Median seconds of some runs after two to warm up. */
function median(work: () => unknown, runs = 7): number {
  const times = Array.from({ length: runs + 2 }, () => {
    const begun = performance.now();
    work();
    return (performance.now() - begun) / 1000;
  });
  return times.slice(2).sort((one, other) => one - other)[Math.floor(runs / 2)] ?? NaN;
}

function benchColumns(say: Say): void {
  const random = chance(3);
  const column = (draw: () => number): number[][] => Array.from({ length: ROWS }, () => [draw()]);
  const last = day("2025-07-01");
  const calls: readonly (readonly [string, readonly unknown[]])[] = [
    ["SPAN", [column(() => random.share() * 90), 3, 6, null, 20, 60]],
    ["NEXTDUE", [column(() => last + random.below(400)), column(() => 3 + random.below(4))]],
    ["DUESTATE", [column(() => last + random.below(500)), day("2026-07-06")]],
    ["REORDERPOINT", [column(() => random.share() * 3), 1.5, 0.95]],
  ];
  let sum = 0;
  for (const [id, cells] of calls) {
    const call = functions.find((one) => one.id === id)?.call;
    const seconds = median(() => call?.(cells));
    sum += seconds;
    say(`${id}, a column of ${ROWS} rows in one call: ${seconds.toFixed(3)} s`);
  }
  say(`the four of them together: ${sum.toFixed(3)} s`);
}

function benchFleets(say: Say): void {
  const from = day("2026-07-06");
  for (const size of FLEETS) {
    const random = chance(size);
    const units = Array.from({ length: size }, () => ({
      lastDone: (from - random.below(180)) as Day,
      months: 3 + random.below(4),
    }));
    const life = { shape: 2.5, scale: 9 };
    const uncertain = { ...life, covariance: { scale: 0.01, shape: 0.04, both: 0.001 } };
    const year = median(() => needLimits(units, { from, horizon: 12 }, life, {}));
    const mixed = median(() => needLimits(units, { from, horizon: 12 }, uncertain, {}));
    say(
      `year of ${size} devices, exact limits: ${(year * 1000).toFixed(1)} ms; over the fit's uncertainty ${(mixed * 1000).toFixed(1)} ms`,
    );
  }
}

/** A part's year as `ahead` works it out: needs, and limits over all that wear and usage leave open. */
export function benchOpen(say: Say, fleets: readonly number[] = FLEETS): void {
  const part = DEFAULT_PARTS.find(({ code }) => code === "SET");
  if (part === undefined) return;
  const curved = { ...part, lightUse: 20, heavyUse: 60 };
  const reportDate = day("2026-07-06");
  const covariance = { scale: 0.01, shape: 0.04, both: 0.001 };
  const wear = {
    lifetimes: [],
    failures: 20,
    months: 900,
    wear: { shape: 2.5, scale: 9, used: 100, failures: 20, covariance },
  };
  const steps = Array.from({ length: 12 }, () => 0.05);
  const horizon: Horizon = {
    ...{ reportDate, months: 12, level: 0.9, calendar: workCalendar(null, []) },
    spread: { common: steps, own: steps.map(() => 0.1), isStated: true },
  };
  const times = fleets.map((size) => {
    const random = chance(size);
    const units = Array.from({ length: size }, (_, at): YearUnit => {
      const uses = 10 + random.share() * 60;
      const months = intervalAt(curved, uses, "alcohol-free");
      return {
        ...{ device: `D-${at}`, part: curved, name: curved.name, months, then: months },
        ...{ site: `S${at % Math.ceil(size / 10)}`, done: null, until: null, dueAtOnce: false },
        lastDone: (reportDate - random.below(30 * months)) as Day,
        goesBy: { now: uses, then: uses, wipes: "alcohol-free", most: null },
        doubt: "",
      };
    });
    return median(() => partYear(curved, units, wear, horizon).months, size > 1000 ? 3 : 7);
  });
  const told = fleets.map(
    (size, at) => `${size} devices ${((times[at] ?? 0) * 1000).toFixed(1)} ms`,
  );
  say(`a part's needs and limits, all that is open mixed: ${told.join(", ")}`);
}

function benchQuantiles(say: Say): void {
  const means = Array.from({ length: ROWS }, (_, at) => 0.001 + (at % 5000) / 100);
  const ours = median(() => means.map((mean) => countQuantile(0.95, { mean })));
  const script = `m <- 0.001 + (0:${ROWS - 1} %% 5000) / 100; cat(median(replicate(7, system.time(qpois(0.95, m))[["elapsed"]])), sum(qpois(0.95, m)))`;
  const done = spawnSync("Rscript", ["-e", script], { encoding: "utf8" });
  if (done.status !== 0) {
    say(`${ROWS} Poisson quantiles: ${ours.toFixed(3)} s; R is not there to be measured`);
    return;
  }
  const [seconds = NaN, total = NaN] = done.stdout.split(" ").map(Number);
  const own = means.reduce((sum, mean) => sum + countQuantile(0.95, { mean }), 0);
  say(
    `${ROWS} Poisson quantiles: ${ours.toFixed(3)} s; R ${seconds.toFixed(3)} s (${(seconds / ours).toFixed(1)} times ours); ${own === total ? "all alike" : "NOT ALIKE"}`,
  );
}

function benchStream(say: Say): void {
  const lines = Array.from(
    { length: ROWS },
    (_, at) => `["REORDERPOINT",${(at % 300) / 100},1.5]\n`,
  );
  const begun = performance.now();
  const done = spawnSync(process.execPath, ["build/command/sparespan.js", "calc", "-"], {
    input: lines.join(""),
    encoding: "utf8",
    maxBuffer: 1 << 28,
  });
  const seconds = (performance.now() - begun) / 1000;
  const answers = done.stdout.trim().split("\n").length;
  say(
    `calc -: ${answers} answers in ${seconds.toFixed(2)} s, ${Math.round(answers / seconds)} a second, start included`,
  );
}
