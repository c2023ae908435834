import { list } from "../languages/language.ts";
import { folded, wordsIn } from "../languages/words-of.ts";
import { monthNamed } from "./dates.ts";
import { knownWords, wordsOf } from "./words.ts";

/**
 * Beginnings of words that say, even beside "sessions", that numbers by month are not all uses of a device in a month:
 * of something else, of another period, a mean, a plan, a part of them, or in other units. English first, then the
 * other languages registers are read in; common practice, no source.
 */
const ELSE =
  list(`referr, refer(?!enc), fail, pass(?:es|ed)?(?!\\p{L}), fault, miss, positive, ele\\p{L}+rod, cushion,
  train, audit, clean, inspec, auffallig, fehl, echec, echou, refus, fall[io], falh, fout, bled,
  consum, consomm, verbrauch, verbruik, zuzy,
  geburt, naiss, nes?(?!\\p{L}), nacim, nascim, nascit, geboort, urodz,
  week, woch, sema[in], settiman, tydz, tygod, wekel,
  cumul, kumul, ytd, counters?(?!\\p{L}), reading, teller, zahler, compteur, lectur, lettur, leitur, contador, contator, licznik,
  estim, forecast, goal, provis, prognos, previs, prevu, geschat, [^%]*[%‰]`);
/** The same of what may be a part of the uses, so that the others alone are too few. */
const PARTS =
  list(`repe[at], wiederhol, repris, ripet, powt, herhal, re-?screen, re-?test, follow, daily, shift, days?(?!\\p{L}), tag(?:lich)?(?!\\p{L}),
  jour(?!\\p{L}), giorn, dias?(?!\\p{L}), dzien, dag(?!\\p{L}), dagel, nights?(?!\\p{L}),
  only, sample, without, excl, nicu, home(?!\\p{L}), second(?!\\p{L}| half), zweit, segund, nur(?!\\p{L}), ohne,
  seulement, sans, solo(?!\\p{L}), sin(?!\\p{L}), apenas, sem(?!\\p{L}), senza, alleen, zonder, tylko, bez(?!\\p{L}),
  tens, hundred, thousand, x \\d`);
/** The same of a mean: of a month it is uses a month, of a table nobody knows of what. */
const MEANS =
  list(`average, avg, mean(?!\\p{L}), ø, mittel, durchschn, moyen, promedi, medi[ao](?!\\p{L}), gemiddel,
  sredni`);
const beginning = (words: readonly string[]): RegExp =>
  new RegExp(`(?<!\\p{L})(?:${words.join("|")})`, "u");
const IS_ELSE = beginning(ELSE);
const OTHER = beginning([...ELSE, ...PARTS]);
const MEAN = beginning(MEANS);

/** Words of uses that say them of the programme, or that say what was used up. */
const WEAK = /(?<!\p{L})(?:\p{L}*screening|depistage|tamizaje|cribado|triagem|used)(?!\p{L})/gu;
const BIRTHS = /(?<!\p{L})births?(?!\p{L})/u;
const KNOWN = new Set(knownWords());

/** Words that say nothing of what is counted. */
const NEUTRAL = new Set(
  list(`count, counts, number, quantity, total, month, year, years, device, site, ward, date, name, value, by,
  hearing, newborn, neonatal, programme, summary, overview, data, figures, stats`),
);
/** The same, by its beginning, in other languages, and the names programs give to sheets. */
const SAYS_NOTHING =
  /^(?:zahl|daten|statist|chiffre|donnee|compta|datos|cifra|recuento|conte[og]|dati|dados|contage|gegevens|telling|cijfer|dane|liczb|(?:sheet|tab\p{L}*|feuil|hoja|foglio|blad|arkusz|plan(?:ilha)?|folha|\p{L}{0,2})\d*$)/u;

/** Whether a text is a word of people for uses, for nothing at all, or for something else. */
export type SaysOf = "uses" | "nothing" | "unknown" | "other";

/**
 * What a title, the name of a sheet or a heading says of the numbers below; `isSite` knows words of the sites' names.
 *
 * @example
 * saysOf("Sessions 2026", () => false) // => "uses"
 * saysOf("Consumption", () => false) // => "unknown"
 * saysOf("Sessions per week", () => false) // => "other"
 */
export function saysOf(title: string, isSite: (word: string) => boolean): SaysOf {
  const text = folded(title);
  if (saysOther(title) || MEAN.test(text)) return "other";
  const left = text.replaceAll(WEAK, " ");
  const words = wordsOf(left, KNOWN).map((word) => word.text);
  if (words.includes("uses") || BIRTHS.test(text)) return "uses";
  const isNothing = (word: string): boolean =>
    NEUTRAL.has(word) || SAYS_NOTHING.test(word) || monthNamed(word) !== undefined;
  const unknown = wordsIn(left).filter((word) => !isSite(word) && !isNothing(word));
  return unknown.length === 0 || words.every((word) => isSite(word) || isNothing(word))
    ? "nothing"
    : "unknown";
}

/** Whether the heading of a column of the register says uses in a month: without a month they may be all there ever were. */
export function saysUsesAMonth(heading: string): boolean {
  const text = folded(heading).replaceAll(/[()[\]]/g, " ");
  const words = wordsOf(text, KNOWN).map((word) => word.text);
  return !saysOther(text) && words.includes("uses") && words.includes("month");
}

/** Whether a heading says that its numbers are of something else, of another time than a month, or a part of them. */
export function saysOther(heading: string): boolean {
  return isTurned(heading) || OTHER.test(folded(heading));
}

/** Whether numbers may be uses or a part of them, going by the words that say what else they would be. */
export function mayBePart(text: string): boolean {
  const said = folded(text);
  return !isTurned(text) && !IS_ELSE.test(said) && !MEAN.test(said);
}

function isTurned(heading: string): boolean {
  return wordsOf(heading, KNOWN).some(
    ({ text, turning, slip }) => turning && !slip && !NEUTRAL.has(text),
  );
}
