import { folded } from "../languages/words-of.ts";
import { wordsOf } from "./words.ts";

/** "Change electrodes on": what somebody is to do, where "Electrode change" is what was done. */
const ORDERED = /^(?:change|replace|renew|swap|exchange)\s+(?!(?:of|date|dates|log)\b)\p{L}/u;
/** "To be changed", "à changer", "zu wechseln": what is still to come. */
const TO_COME =
  /\bto\s+(?:be\b|ch(?:an)?g|repl|renew)|\b(?:required|needed|reminder|requested|(?:change|replace|renew|swap|exchange)\s+on$)|(?<!\p{L})(?:a\s+(?:chang|rempl|fa(?:ire|zer)(?!\p{L}))|zu\s+(?:wechs|tausch|ersetz|erledig)|te\s+(?:verv|doen(?!\p{L}))|por\s+(?:camb|hacer(?!\p{L}))|a\s+troc|da\s+(?:camb|sost)|do\s+(?:wym|zrob))/u;
/** "Date for electrodes change", "change month": a plan as well as what was done, unless it says so. */
const OPEN =
  /^(?:dates?|days?|datum|fecha|data|termin)\s+(?:for|fur|pour|para|per|voor)\s|(?<!\p{L})(?:month|monat|mois|mes|mese|maand|miesiac)$/u;
/** What says that it was done; Portuguese cushions only end so. */
const SAYS_PAST =
  /(?<!\p{L})(?!almofada)(?:last|latest|letzt|dernier|ultim|laatst|ostatni|(?:\p{L}{4,}ed|ge\p{L}{4,}t|\p{L}{3,}(?:ad[oa]s?|at[oiae]))(?!\p{L}))/u;
/** What is done to parts, as a noun: "electrodes replacement". */
const WORK =
  /(?<!\p{L})(?:replacement|change|renewal|exchange|swap|remplacement|changement|cambio|recambio|sostituzione|troca|wymiana|vervanging|wisseling)(?!\p{L})|(?:wechsel|tausch)(?!\p{L})/u;
/** A heading that ends so gives the last day: "replace by", "vervangen voor", "wymiana do". */
const UNTIL =
  /(?<!\p{L})(?:by|until|till|before|bis|vor|avant|antes|hasta|ate|entro|voor|do)[\s:.]*$/u;

/** "Previous", "vorletzter", "précédent": what was before the last time. */
const EARLIER =
  /\b(?:previous|prior|earlier|former|old|penult|vorherig|vorig|vorletzt|fruher|preced|avant-dern|ancien|anterior|previo|eerder|poprzedn|wczesniej)/u;

/** Whether a heading speaks of the time before the last. */
export function saysEarlier(heading: string): boolean {
  return EARLIER.test(folded(heading));
}

/** Whether a heading says when something is to be done, by the order of its words, which the matcher does not see. */
export function saysPlanned(heading: string): boolean {
  const text = outOfBrackets(heading);
  if (OPEN.test(text) && !SAYS_PAST.test(text)) return true;
  return ORDERED.test(text) || TO_COME.test(text) || UNTIL.test(text);
}

function outOfBrackets(heading: string): string {
  return folded(heading.replace(/[([].*?[)\]]/g, " ")).trim();
}

/** Whether a heading says that something was done. */
export function saysPast(heading: string): boolean {
  return SAYS_PAST.test(outOfBrackets(heading));
}

/** Whether a heading names work on a part without saying that it was done. */
export function namesWork(heading: string): boolean {
  const text = outOfBrackets(heading);
  return WORK.test(text) && !SAYS_PAST.test(text);
}

/** Words of what is bought, comes or is looked at, and of none that is replaced; common practice, no source. */
const OF_OTHER =
  /(?<!\p{L})(?:check|i[ns]s?pe[ckz]|clean|d[ie]sinf|purchas|deliver|kontroll|reinig|nettoy|limpi?ez|puliz|consegn|entreg|czyszcz|schoonm)/u;

/** Whether a heading is of more than its field, as "checked/replaced" is: nobody knows which it was. */
export function saysOtherToo(heading: string, phrases: readonly string[]): boolean {
  return OF_OTHER.test(outOfBrackets(heading)) && !phrases.some(isOfOther);
}

/** Whether a text is of something else done to parts than replacing them, such as inspections. */
export function isOfOther(text: string): boolean {
  return OF_OTHER.test(folded(text));
}

/** That something was done last, whatever it was. */
const LAST = /(?<!\p{L})(?:last|latest|(?:zu)?letzt|dernier|ultim(?!at)|laatst|ostatni)/u;
/** What is done to parts and replaces none, beside what `isOfOther` knows. */
const OTHER_WORK =
  /(?<!\p{L})(?:seen|counted|tested|(?:ge)?pruf(?!mi|ger)|verif|comprob|revisad|kontrol|sprawdz)/u;
/** Words of a title that is of the sheet: a list, its version, the day it was brought up to date. */
const OF_SHEET =
  /list|version|stand|a[ck]?tual|updat|bijgew|aggiorn|a jour|(?<!\d)(?!(?:19|20)\d\d(?!\d))\d/u;
/** Words of what there is, without anything that was done to it. */
const THINGS =
  /part|item|teil|zubeh|verbr|pie[cz]|pezz|peca|a[ck]?ces|onderd|czesc|cons[uo]m|materia|\d/u;
const NAMED = /^(?:device|site|ward|set|electrode|sensor|ear|cushion|done)$/;
/** Words of a heading of one kind of work at most: more are the name of a programme. */
const LONG = 3;

/** Whether a title above names of parts says of their dates that they are of no replacement. */
export function isOfOtherWork(text: string, known: ReadonlySet<string>): boolean {
  const title = folded(text);
  const saysWork = LAST.test(title) || OTHER_WORK.test(title);
  return isOfOther(text) || (saysWork && saysNoReplacing(text, known));
}

/** Whether a text over names of parts neither says that they were replaced nor only names what there is. */
export function isOpenHeading(text: string, known: ReadonlySet<string>): boolean {
  const isShort = wordsOf(text, known).length <= LONG;
  return isShort && !THINGS.test(folded(text)) && saysNoReplacing(text, known);
}

function saysNoReplacing(text: string, known: ReadonlySet<string>): boolean {
  const words = wordsOf(text, known);
  return (
    !words.every((word) => word.weight < 1 || NAMED.test(word.text)) &&
    !words.some((word) => /^(?:replaced|installed|new)$/.test(word.text)) &&
    !OF_SHEET.test(folded(text)) &&
    !namesWork(text)
  );
}
