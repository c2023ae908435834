import type { WorkSense } from "../languages/language.ts";
import type { Part } from "../records/records.ts";
import { folded } from "../languages/words-of.ts";
import { namesPart, partWords } from "./part-words.ts";

/** A number of units, as people write a time. */
const UNIT =
  "(?<unit>days?|weeks?|wks?|months?|mths?|tage?n?|wochen?|monat(?:e|en)?|jours?|semaines?|mois|dias?|semanas?|mes(?:es)?|giorn[oi]|settiman[ae]|mes[ei]|dagen|dag|weken|week|maand(?:en)?|dni|tygodni\\p{L}*|miesi\\p{L}*)";
/** "Every 2 months" in the languages registers are read in. */
const EVERY = new RegExp(
  `(?<!\\p{L})(?:every|each|alle|jede[nrs]?|tou(?:te)?s les|chaque|cada|todos os|todos los|ogni|elke|om de|co|a cada|de \\d+ em)\\s+(?:(?<times>\\d+|\\p{L}+)\\s+)?${UNIT}(?!\\p{L})`,
  "u",
);
/** "2-monthly", "quarterly"; common practice, no source. */
const MONTHLY =
  /(?<!\p{L})(?:(?<times>\d+)[\s-]*)?(?<unit>weekly|monthly|wochentlich|monatlich)|(?<!\p{L})(?:quarterly|half-yearly|vierteljahrlich|halbjahrlich|(?:bi|tri)mestr\p{L}+|semestr\p{L}+|mensuel\p{L}*|mensual(?:mente)?|mensal(?:mente)?|mensil(?:[ei]|mente)|miesiecznie|maandelijks|kwartalnie)(?!\p{L})/u;
/** A time alone: "2 months", "8 weeks". */
const TIME = new RegExp(`^\\(?(?:max\\.?\\s*)?(?<times>\\d+)\\s*${UNIT}\\)?$`, "u");
/** "Max 60 days", "interval 1 month": a limit whose part need not be said beside a device. */
const LIMIT = new RegExp(
  `(?<!\\p{L})(?:max|maks|maxim|maxima|hochstens|massim|najwyzej|inter[vw])\\p{L}*[.:=\\s]+\\d+\\s*${UNIT}(?!\\p{L})`,
  "u",
);
/** Sooner than others, without a time. */
const OFTENER =
  /(?<!\p{L})(?:more (?:often|frequently)|haufiger|ofter|plus (?:souvent|frequemment)|(?:mas|com mais|con mas|con piu) (?:a menudo|frequen\p{L}+|frecuen\p{L}+)|mais (?:vezes|frequentemente)|piu spesso|vaker|czesciej)(?!\p{L})/u;
/** What else in a device is changed again and again. */
const OF_ELSE =
  /(?<!\p{L})(?:batter|akku|accu|bateri|pilas?(?!\p{L})|piles?(?!\p{L})|filter|paper|papier|password|calib|kalib|etalon|tarat|ijk|wzorc)/u;
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

/** Words beside a time that say no more than where. */
const FEW = 1;

/** What texts say of the times after which parts must go. */
export interface RuleReader {
  /** Whether a text says after which time a part is replaced. */
  readonly states: (text: string) => boolean;
  /** Whether a text is such a time, of whichever part. */
  readonly isTime: (text: string) => boolean;
  /** Whether a text beside a device says how often its parts are replaced, be they named or not. */
  readonly ofDevice: (text: string) => boolean;
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
  // Beside a device few words need more than the time.
  const isOfDevice = (clause: string): boolean => {
    const said = folded(clause).trim();
    const time = [EVERY, MONTHLY, LIMIT, OFTENER].find((one) => one.test(said));
    if (time === undefined) return isOfPart(said.slice(said.lastIndexOf(":") + 1));
    if (OTHER_WORK.test(said) || OF_ELSE.test(said)) return false;
    const others = said.replace(time, " ").match(/\p{L}{2,}/gu) ?? [];
    const tokens = tokensOf(clause);
    const isWork = tokens.some(
      ({ senses }) => senses.includes("replaced") || senses.includes("maybe"),
    );
    return isWork || namesPart(tokens) || others.length <= FEW;
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
    ofDevice: (text) => text.split(/(?<!\bma(?:x|ks))[.;\n](?!\d)/iu).some(isOfDevice),
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
