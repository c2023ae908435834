import { percentText } from "../records/percent.ts";
import { counted } from "../records/problems.ts";
import { lifeChoice, type LifeBy, type LifeChoice } from "./life-choice.ts";
import type { PartYear } from "./need.ts";
import { type KindFit, kindFits } from "./site-kinds.ts";
import { noWearWhy } from "./wear.ts";
import { adviceOf, type Fit, fitsOf, type Year } from "./year.ts";

/**
 * What the log says about wear, whether the interval fits it, also by kind of site, and what costs least; `limit`
 * is the share in per cent that may wear out before its time.
 */
export function wearLines(year: Year, part: PartYear, limit: number): string[] {
  const { name, task } = part.part;
  if (task) return [];
  const { failures, months, wear } = part.wear;
  if (wear === null) {
    return [`${name}: ${noWearWhy(year.whatIf.wear)}; early replacements are not counted.`];
  }
  const seen = `${name}: ${failures} worn before their due date in ${counted(Math.round(months), "month")} in use (Job log)`;
  const fits = fitsOf(part);
  if (fits === null)
    return [`${seen}; early replacements at a steady rate, as there are too few to fit more.`];
  const shares = fits.map(shareText);
  const most = Math.max(...fits.map(({ share }) => share));
  const advice = adviceOf(part);
  return [
    `${seen}.`,
    `  Worn: ${shares.join(", ")}: ${verdict(most, limit)}.`,
    ...(advice === null
      ? []
      : [
          `  Lowest cost per month at ${advice.months.toFixed(1)} months (${advice.cost.toFixed(2)}; shortest ${advice.atShortest.toFixed(2)}, longest ${advice.atLongest.toFixed(2)}): ${ADVICE}.`,
        ]),
    ...lifeLines(lifeOf(year, part), limit),
  ];
}

/** Per cent that may wear out before their time, where nobody says another share: common practice, no source. */
export const USUAL_WORN = 5;

const ADVICE = "advice only, never longer than Parts says";

/** What the life of a part goes by, and how its interval fits the kinds of sites. */
export interface PartLife extends Omit<LifeChoice, "fit"> {
  readonly kinds: readonly KindFit[];
}

/** The life of a part by its log and counts; null where they tell too little. */
export function lifeOf({ actual }: Year, { part, units, wear }: PartYear): PartLife | null {
  const choice = wear.wear === null ? null : lifeChoice(actual, part, wear);
  if (choice === null) return null;
  const { by, wipes, better, lives, failures } = choice;
  return { by, wipes, better, lives, failures, kinds: kindFits(part, units, choice) };
}

function lifeLines(life: PartLife | null, limit: number): string[] {
  if (life === null) return [];
  const { by, wipes, better, lives, failures } = life;
  const seen = `${counted(failures, "worn end")} among ${counted(lives, "life", "lives")} with counts`;
  if (by === "months" && !wipes) {
    return [`  Its life goes by months: uses foretell it no better (${seen}).`];
  }
  const goesBy = [GOES_BY[by], ...(wipes ? ["by the wipes of its site"] : [])].join(" and ");
  return [
    `  Its life goes ${goesBy}: that foretells lives held out better than months alone (log likelihood ${better.toFixed(1)} higher; ${seen}).`,
    ...life.kinds.map((kind) => kindLine(kind, limit)),
  ];
}

const GOES_BY: Readonly<Record<LifeBy, string>> = {
  months: "by months",
  uses: "by uses",
  "months and use": "by months, faster at more use,",
};

function kindLine(kind: KindFit, limit: number): string {
  const { interval, alcohol, devices, uses, leastCost } = kind;
  const wipes =
    alcohol === null ? "" : `, ${alcohol ? "wipes that may hold" : "wipes without"} alcohol`;
  const which = `${counted(devices, "device")}, up to ${uses.toFixed(0)} uses a month${wipes}`;
  const cost =
    leastCost === null
      ? ""
      : `; lowest cost per month at ${leastCost.toFixed(1)} months, ${ADVICE}`;
  return `  ${INTERVALS[interval]} (${which}) worn: ${shareText(kind)}: ${verdict(kind.share, limit)}${cost}.`;
}

const INTERVALS: Readonly<Record<KindFit["interval"], string>> = {
  longest: "At the longest interval",
  between: "Between the two",
  shortest: "At the shortest interval",
};

function shareText({ months, share, low, high }: Fit): string {
  return `${percentText(share, 1)} before ${months} months (${percentText(low, 1)} to ${percentText(high, 1)})`;
}

function verdict(share: number, limit: number): string {
  return share * 100 > limit ? `more than the ${limit}% target` : `within the ${limit}% target`;
}
