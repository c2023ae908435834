import { chance } from "../../../src/book/demo/chance.ts";
import { type Day, toSerial } from "../../../src/core/day.ts";
import type { Snapshot } from "../../../src/book/workbook/snapshot.ts";
import { trueProgramme } from "../../scenes/true-programme.ts";
import { type Answered, answersTo, type KeyedBy } from "./answers.ts";
import { isTold, type Less, lessCareful, type Promised } from "./careful.ts";
import { inputsOf } from "./inputs.ts";
import { isLegal } from "./legal.ts";
import { PERTURBATIONS } from "./perturb.ts";

/** What came of one input gone wrong. */
interface Outcome {
  readonly input: string;
  readonly kind: string;
  /** What became less careful. */
  readonly less: readonly Less[];
  readonly told: boolean;
  /** The cell could hold this and be true. */
  readonly legal: boolean;
}

/** The study: what one input gone wrong does to true programmes. */
export interface Study {
  readonly cases: number;
  /** What breaks the promise, a sentence each. */
  readonly broken: readonly string[];
  /** By input, the kinds that cannot be told from a true value and do make an answer less careful. */
  readonly notTold: Readonly<Record<string, readonly string[]>>;
}

/** Looks at programmes of these seeds, with so many inputs gone wrong in each, one at a time. */
export function studyOf(seeds: readonly number[], inputs: number): Study {
  let cases = 0;
  const broken: string[] = [];
  const notTold = new Map<string, Set<string>>();
  for (const seed of seeds) {
    for (const outcome of outcomesOf(seed, inputs)) {
      cases += 1;
      const fault = brokenBy(outcome);
      if (fault !== null) broken.push(`${outcome.input}, ${outcome.kind} (${seed}): ${fault}`);
      else if (outcome.less.length > 0 && !outcome.told) {
        const kinds = notTold.get(outcome.input) ?? new Set();
        notTold.set(outcome.input, kinds.add(outcome.kind));
      }
    }
  }
  return { cases, broken, notTold: sorted(notTold) };
}

/** What is told and yet less careful, with the reason. */
interface Excused {
  readonly of: readonly Promised[];
  readonly why: string;
}

const STOCK: readonly Promised[] = ["place", "need", "budget"];
const UNKNOWABLE: Excused = {
  of: STOCK,
  why: "the usual value and those of the other rows stand in; the true one may be more careful still",
};
const FEWER_COUNTS: Excused = {
  of: ["place", "need", "budget"],
  why: "the site's forecast rests on fewer counts; running intervals do not",
};
const NO_UNIT: Excused = {
  of: STOCK,
  why: "wear that belongs to no known unit is not in the fit of its life",
};

/** By input: what is told, and what no rule can make as careful as the truth. */
export const EXCUSED: Readonly<Record<string, Excused>> = {
  "Parts: Lead time (days)": UNKNOWABLE,
  // Orders go out by the lead time at the service level, which the spread decides.
  "Parts: Lead time spread (days)": UNKNOWABLE,
  "Parts: Shortest (months)": UNKNOWABLE,
  "Parts: Units a replacement": UNKNOWABLE,
  "Setup: Days between orders": UNKNOWABLE,
  "Equipment: Site": FEWER_COUNTS,
  "Equipment: Device": FEWER_COUNTS,
  "Monthly sessions: Device": FEWER_COUNTS,
  "Job log: Device": NO_UNIT,
  "Job log: Part": NO_UNIT,
  "Job log: Job": NO_UNIT,
  "Job log: Complete set": NO_UNIT,
  "Job log: Date": NO_UNIT,
  "Parts: Code": NO_UNIT,
  "Monthly sessions: Month": FEWER_COUNTS,
  "Job log: Finding": {
    // Spares follow from the fit of the coming weeks too.
    of: ["budget", "place"],
    why: "an end of life more changes the fit of lives, upwards or downwards",
  },
  "Setup: Service level": {
    of: ["need"],
    why: "what more use may bring forward counts on the last day covered, later at a higher level; orders go out as soon",
  },
  "Setup: Report date": { of: ["row", ...STOCK], why: "every figure is as of that day" },
};

/** How an outcome breaks the promise; null where it does not, or where nobody could have told. */
function brokenBy({ input, less, told, legal }: Outcome): string | null {
  if (!told && !legal) return "not told";
  const excused = EXCUSED[input]?.of ?? [];
  const broken = less.filter(({ of }) => !excused.includes(of)).map(({ what }) => what);
  return broken.length > 0 && (told || !legal) ? broken.join("; ") : null;
}

function* outcomesOf(seed: number, count: number): Generator<Outcome> {
  const random = chance(seed);
  const { snapshot, reportDate } = trueProgramme(seed);
  const truth = truthOf(seed, snapshot, reportDate);
  const today = toSerial(reportDate, snapshot.dateSystem);
  const inputs = [...inputsOf(snapshot)];
  const kinds = Object.entries(PERTURBATIONS);
  for (let at = 0; at < count;) {
    const [name, cells] = random.pick(inputs);
    const [kind, change] = random.pick(kinds);
    const input = random.pick(cells);
    const wrong = change(snapshot, input);
    if (wrong === null) continue;
    at += 1;
    // A code that has changed still stands beside its name.
    const by = name === "Parts: Code" ? "name" : "code";
    const answered = answersTo(wrong.snapshot, reportDate, by);
    yield {
      ...{ input: name, kind },
      less: lessCareful(truth[by], answered),
      told: isTold(truth.code, answered),
      legal: wrong.value === undefined || isLegal(input, wrong.value, today),
    };
  }
}

function truthOf(seed: number, snapshot: Snapshot, reportDate: Day): Record<KeyedBy, Answered> {
  const truth = (by: KeyedBy): Answered => {
    const found = answersTo(snapshot, reportDate, by);
    if (!("problems" in found)) throw new Error(`programme ${seed}: ${JSON.stringify(found)}`);
    const [first] = found.problems;
    if (first !== undefined) throw new Error(`programme ${seed} is not true: ${first.cause}`);
    return found;
  };
  return { code: truth("code"), name: truth("name") };
}

function sorted(found: ReadonlyMap<string, ReadonlySet<string>>): Record<string, string[]> {
  return Object.fromEntries(
    [...found]
      .sort(([one], [other]) => one.localeCompare(other, "en"))
      .map(([input, kinds]) => [input, [...kinds].sort()]),
  );
}
