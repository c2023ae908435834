import { NoAnswerError } from "../../core/errors.ts";
import { type ExposedFit, type ExposedLife, likelihoodOf } from "../../core/exposed.ts";
import { exposedFit } from "../../core/exposed-fit.ts";
import type { Part, Reading } from "../records/records.ts";
import { siteOf } from "../records/site-names.ts";
import { usesBetween } from "./total.ts";
import type { LogLife, WearFound } from "./wear.ts";

/** What the life of a part may go by: its months, its uses, or its months at a use that speeds wear up. */
export type LifeBy = "months" | "uses" | "months and use";

/** A kind of life: what it goes by, and whether wipes with alcohol count. */
export interface LifeKind {
  readonly by: LifeBy;
  readonly wipes: boolean;
}

/** The kind of life that foretells best what a log holds, and how it was chosen. */
export interface LifeChoice extends LifeKind {
  readonly fit: ExposedFit;
  /** How much better than months alone it foretells lives held out: the logarithm of the likelihood; 0 for months. */
  readonly better: number;
  /** Lives of which the uses are known, and how many of those ended by wear. */
  readonly lives: number;
  readonly failures: number;
}

/** Worn ends for each number that exposure adds: ten events a variable, Peduzzi and others 1995, from memory. */
const ENDS_EACH = 10;
/** Each tenth of the devices is held out once. */
const FOLDS = 10;
/** Less than one use a month is as good as one: no life is endless for want of use. */
const LEAST_USES = 1;

const KINDS: readonly LifeKind[] = (["months", "uses", "months and use"] as const).flatMap((by) => [
  { by, wipes: false },
  { by, wipes: true },
]);

/** A life of the log with what it was exposed to, in the kind it is looked at. */
interface Exposed {
  readonly life: LogLife;
  /** Uses a month. */
  readonly uses: number;
  readonly alcohol: boolean;
}

/**
 * What the life of a part goes by, chosen by how well each kind foretells lives of devices it was not fitted to;
 * another kind than months only where it is better by more than the tenths differ. Null where the log has too few
 * worn ends on devices with counts.
 *
 * @see Hastie, Tibshirani and Friedman, The Elements of Statistical Learning, section 7.10, on held-out tenths and
 *   one standard error.
 */
export function lifeChoice(reading: Reading, part: Part, wear: WearFound): LifeChoice | null {
  if (part.task || wear.failures < ENDS_EACH) return null;
  const lives = exposedLives(reading, wear);
  const failures = lives.filter(({ life }) => life.failed).length;
  if (failures < ENDS_EACH) return null;
  const isMixed = new Set(lives.map(({ alcohol }) => alcohol)).size > 1;
  const judged = KINDS.flatMap((kind) => {
    const added = (kind.by === "months and use" ? 1 : 0) + (kind.wipes ? 1 : 0);
    if (failures < ENDS_EACH * (1 + added) || (kind.wipes && !(isMixed && part.vinyl))) return [];
    const tenths = heldOut(kind, lives);
    const fit = fitOf(lives.map((one) => inKind(kind, one)));
    return tenths === null || fit === null ? [] : [{ kind, tenths, fit }];
  });
  const [months] = judged;
  if (months === undefined || months.kind.by !== "months" || months.kind.wipes) return null;
  const told = judged.map(({ kind, tenths, fit }) => {
    const gains = tenths.map((one, at) => one - (months.tenths[at] ?? 0));
    return { kind, fit, ...gainOf(gains) };
  });
  const best = told.reduce((one, other) => (other.better > one.better ? other : one));
  const [plain] = told;
  const chosen = best.better > best.spread ? best : (plain ?? best);
  return { ...chosen.kind, fit: chosen.fit, better: chosen.better, lives: lives.length, failures };
}

/** The exposure of a part in a kind of life. */
export function exposureIn(
  { by, wipes }: LifeKind,
  { uses, alcohol }: { readonly uses: number; readonly alcohol: boolean },
): { readonly pace: number; readonly factors: number[] } {
  const known = Math.max(LEAST_USES, uses);
  return {
    pace: by === "uses" ? known : 1,
    factors: [
      ...(by === "months and use" ? [Math.log(known)] : []),
      ...(wipes ? [alcohol ? 1 : 0] : []),
    ],
  };
}

/** Whether wipes may hold alcohol: where nothing is stated they may. */
export function mayHoldAlcohol(wipes: string): boolean {
  return wipes !== "alcohol-free";
}

function exposedLives(reading: Reading, { lifetimes }: WearFound): Exposed[] {
  const usesOf = usesBetween(reading);
  const { sites } = reading.ours;
  const wipesAt = new Map(sites.map(({ code, wipes }) => [code.trim(), wipes]));
  const siteBy = new Map(reading.devices.map(({ key, site }) => [key, siteOf(sites, site)]));
  return lifetimes.flatMap((life) => {
    const uses = usesOf(life.deviceKey, life.from, life.to);
    const wipes = wipesAt.get(siteBy.get(life.deviceKey) ?? "") ?? "";
    return uses === null ? [] : [{ life, uses, alcohol: mayHoldAlcohol(wipes) }];
  });
}

function inKind(kind: LifeKind, { life, ...exposed }: Exposed): ExposedLife {
  return { months: life.months, failed: life.failed, ...exposureIn(kind, exposed) };
}

/** How likely each tenth of the devices is under what the others show; null where one of those shows nothing. */
function heldOut(kind: LifeKind, lives: readonly Exposed[]): readonly number[] | null {
  const keys = [...new Set(lives.map(({ life }) => life.deviceKey))].sort();
  const tenthOf = new Map(keys.map((key, at) => [key, at % FOLDS]));
  const tenths: number[] = [];
  for (let tenth = 0; tenth < Math.min(FOLDS, keys.length); tenth += 1) {
    const isOut = ({ life }: Exposed): boolean => tenthOf.get(life.deviceKey) === tenth;
    const fit = fitOf(lives.filter((one) => !isOut(one)).map((one) => inKind(kind, one)));
    if (fit === null) return null;
    tenths.push(
      likelihoodOf(
        fit,
        lives.filter(isOut).map((one) => inKind(kind, one)),
      ),
    );
  }
  return tenths;
}

function fitOf(lives: readonly ExposedLife[]): ExposedFit | null {
  try {
    return exposedFit(lives);
  } catch (error) {
    if (error instanceof NoAnswerError) return null;
    throw error;
  }
}

/** The sum of gains, and the standard error of it. */
function gainOf(gains: readonly number[]): { readonly better: number; readonly spread: number } {
  const better = gains.reduce((sum, gain) => sum + gain, 0);
  const mean = better / gains.length;
  const squares = gains.reduce((sum, gain) => sum + (gain - mean) ** 2, 0);
  return { better, spread: Math.sqrt((squares * gains.length) / Math.max(1, gains.length - 1)) };
}
