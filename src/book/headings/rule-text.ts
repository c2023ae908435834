import type { Part } from "../records/records.ts";
import { folded } from "../languages/words-of.ts";
import { namesPart, partWords } from "./part-words.ts";

/** A number of units, as people write a time. */
const UNIT =
  "(?<unit>days?|weeks?|wks?|months?|mths?|tage?n?|wochen?|monat(?:e|en)?|jours?|semaines?|mois|dias?|semanas?|mes(?:es)?|giorn[oi]|settiman[ae]|mes[ei]|dagen|dag|weken|week|maand(?:en)?|dni|tygodni\\p{L}*|miesi\\p{L}*)";
/** "Every 2 months" in the languages registers are read in. */
const EVERY = new RegExp(
  `(?<!\\p{L})(?:every|alle|tou(?:te)?s les|cada|ogni|elke|om de|co|a cada|de \\d+ em)\\s+(?<times>\\d+|\\p{L}+)\\s+${UNIT}(?!\\p{L})`,
  "u",
);
/** "2-monthly", "quarterly"; common practice, no source. */
const MONTHLY =
  /(?<!\p{L})(?:(?<times>\d+)[\s-]*)?(?<unit>weekly|monthly|wochentlich|monatlich)|(?<!\p{L})(?:quarterly|half-yearly|vierteljahrlich|halbjahrlich|(?:bi|tri)mestr\p{L}+|semestr\p{L}+|mensuel\p{L}*|mensual|mensal|mensil[ei]|maandelijks|kwartalnie)(?!\p{L})/u;
/** A time alone: "2 months", "8 weeks". */
const TIME = new RegExp(`^\\(?(?:max\\.?\\s*)?(?<times>\\d+)\\s*${UNIT}\\)?$`, "u");
/** What is done at such times and renews nothing: looking and cleaning. */
const OTHER_WORK =
  /(?<!\p{L})(?:inspect|check|clean|wip|disinf|wash|test|count|charg|reinig|pruf|kontroll|desinf|wisch|nettoy|control|verif|essuy|limpi|revis|limp|pul[ie]|schoon|czysc|czyszcz|spraw|dezynf|przegl)/u;

/** What texts say of the times after which parts must go. */
export interface RuleReader {
  /** Whether a text says after which time a part is replaced. */
  readonly states: (text: string) => boolean;
  /** Whether a text is such a time, of whichever part. */
  readonly isTime: (text: string) => boolean;
  /** Whether its time may be shorter than the longest interval of a part. */
  readonly isShorter: (text: string) => boolean;
}

/** A reader of rules for these parts. */
export function ruleReader(parts: readonly Part[]): RuleReader {
  const { tokensOf } = partWords(parts);
  const longest = Math.max(...parts.map((part) => part.longest ?? Infinity));
  return {
    states: (text) =>
      saysTime(folded(text)) &&
      text.split(/[.;\n](?!\d)/u).some((clause) => {
        const said = folded(clause);
        return saysTime(said) && !OTHER_WORK.test(said) && namesPart(tokensOf(clause));
      }),
    isTime: (text) => {
      const said = folded(text.trim());
      return (saysTime(said) || TIME.test(said)) && !OTHER_WORK.test(said);
    },
    isShorter: (text) => (mostMonths(folded(text)) ?? 0) < longest,
  };
}

function saysTime(said: string): boolean {
  return EVERY.test(said) || MONTHLY.test(said);
}

/** The months of a time, as they are at most; null where no number says it. */
function mostMonths(said: string): number | null {
  const found = EVERY.exec(said) ?? MONTHLY.exec(said) ?? TIME.exec(said);
  const { times, unit = "" } = found?.groups ?? {};
  const number = Number(times);
  return Number.isFinite(number) && /^m/u.test(unit) ? number : null;
}
