import type { WorkSense } from "../languages/language.ts";
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
/** As often as a part may be used, in the languages registers are read in. */
const USES =
  "tests?|uses?|screen(?:s|ing|ings)?|sessions?|babies|messungen|untersuchungen|anwendungen|depistages|pruebas|cribados|usos|testes|rastreios|utilizacoes|esami|utilizzi|metingen|gebruiken|badan(?:ia|iach)?|uzyc(?:ia|iach)?";
/** "Electrodes: 8 weeks", "Electrodes max. 60 days", "Change electrodes after 200 tests": what, then the time, and no more. */
const OF_PART = new RegExp(
  `^(?<what>.*?\\p{L})[\\s:=(\u2013-]+(?:${[
    "(?:max\\.?|maximum|maximal|hochstens|maximo|massimo|maximaal|najwyzej|maks\\.?|up to|not? (?:longer|more) than)",
    "(?:after|for|nach|apres|despues de|tras|apos|depois de|dopo|na|po|bis|jusqu a|hasta|ate|fino a|tot|do|life|interval\\p{L}*)",
  ].join("\\s+|")}\\s+|:\\s*)*(?<times>\\d+)\\s*(?:${UNIT}|${USES})\\W*$`,
  "u",
);
/** What else is said of a part that is replaced. */
const RENEWING: ReadonlySet<WorkSense> = new Set<WorkSense>([
  ...(["replaced", "maybe", "whole", "lead", "filler"] as const),
]);
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
  // Deliveries and orders take a time, too: nothing is said but the part, or that it is replaced.
  const isOfPart = (said: string): boolean => {
    const tokens = tokensOf(OF_PART.exec(said)?.groups?.["what"] ?? "");
    const isWork = ({ names, senses }: (typeof tokens)[number]): boolean =>
      names.length > 0 || senses.some((one) => RENEWING.has(one));
    return namesPart(tokens) && tokens.every(isWork);
  };
  const longest = Math.max(...parts.map((part) => part.longest ?? Infinity));
  return {
    states: (text) =>
      /\p{L}/u.test(text) &&
      text.split(/(?<!\bma(?:x|ks))[.;\n](?!\d)/iu).some((clause) => {
        const said = folded(clause).trim();
        const isRule = saysTime(said) && !OTHER_WORK.test(said) && namesPart(tokensOf(clause));
        return isRule || isOfPart(said);
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
  const found = EVERY.exec(said) ?? MONTHLY.exec(said) ?? TIME.exec(said) ?? OF_PART.exec(said);
  const { times, unit = "" } = found?.groups ?? {};
  const number = Number(times);
  return Number.isFinite(number) && /^m/u.test(unit) ? number : null;
}
