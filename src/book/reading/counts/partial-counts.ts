import { phraseOf } from "../../languages/words-of.ts";
import { knownWords, wordsOf } from "../../headings/words.ts";
import { isBlank, textOf } from "../../workbook/cells.ts";
import type { CountSheet } from "./count-sheets.ts";

const KNOWN = new Set(knownWords());
const words = (...phrases: readonly string[]): RegExp =>
  new RegExp(`(?:^| )(?:${phrases.join("|")})(?= |$)`, "u");

/** What a number is of, where it is not of a month, in folded phrases of eight languages. */
const PER = [
  "(?:per|each|a) (?:week|day|shift|baby|child|infant|newborn|test|screen|ear|quarter|year)",
  "weekly|daily|yearly|(?:pro|je) (?:woche|tag|schicht|kind|baby|test|ohr|quartal|jahr)|wochentlich|taglich|jahrlich",
  "par (?:semaine|jour|enfant|bebe|test|oreille|trimestre|an)|hebdomadaire|quotidien|annuel",
  "(?:por|a la|al) (?:semana|dia|nino|bebe|prueba|oido|trimestre|ano|crianca|teste|ouvido)|semanal|diari[oa]|anual",
  "(?:per|alla|al) (?:settimana|giorno|bambino|neonato|test|orecchio|trimestre|anno)|settimanale|giornalier[oa]",
  "per (?:dag|kind|oor|kwartaal|jaar)|wekelijks|dagelijks|jaarlijks",
  "na (?:tydzien|dzien|dziecko|noworodka|test|ucho|kwartal|rok)|tygodniowo|dziennie|rocznie",
];
const OF_TIME = words(...PER);
/** Of which part of the uses: the first of each baby, those that passed, one ear; or that it is no count at all. */
const PARTIAL = words(
  ...PER,
  "1st|first|initial|2nd|second|repeats?|rescreens?|retests?|pass(?:ed|es)?|refer(?:red|rals?|s)?|fail(?:ed|s)?|right|left|average|mean|estimated?|sample|x \\d+|\\d+ x",
  "erst\\w*|wiederhol\\w*|bestanden|unauffallig\\w*|auffallig\\w*|rechts?|links?|durchschnitt|mittelwert|geschatzt",
  "premiers?|premieres?|reussi\\w*|droite?|gauche|moyenne|estime\\w*",
  "primer[oa]?s?|superad[oa]s?|pasa|derech[oa]|izquierd[oa]|promedio|media|estimad[oa]s?",
  "prim[oaie]|superat[oaie]|destr[oa]|sinistr[oa]|stimat[oaie]",
  "primeir[oa]s?|aprovad[oa]s?|passou|direit[oa]|esquerd[oa]",
  "eerste|geslaagd|rechter|linker|gemiddeld\\w*|geschat",
  "pierwsz\\w+|zaliczon\\w+|praw[eay]\\w*|lew[eay]\\w*|srednia|szacunkow\\w+",
);
/** Columns of numbers by which counts are to be multiplied. */
const FACTOR = words(
  ...PER,
  "factors?|faktor|facteur|fator|fattore|wspolczynnik|mnoznik|multiplier|multiplikator|multiplicador|moltiplicatore",
);
/** Columns of the days that were counted. */
const DAYS = words("days?|tage?|jours?|dias?|giorn[oi]|dagen|dag|dni|dzien");
const WHOLE_MONTH = 28;
/** Columns that say which device it is, and where. */
const OF_DEVICE = new Set([
  "device",
  "site",
  "ward",
  "model",
  "make",
  "serial",
  "id",
  "name",
  "note",
]);
const PLACE = words(
  "room|floor|wing|building|raum|etage|gebaude|salle|piso|planta|sala|piano|kamer|verdieping|pietro",
);
/** "First half 2026" is the name of months. */
const OF_YEAR = /\d|half|quarter|halb|quartal|semest|trimest|kwarta|polroc/u;
const LONGEST = 4;
const FEWEST = 3;
const NEARLY_ALL = 0.8;

/** What a column beside the counts says of all of them: one text in every row, or numbers that change what they are. */
export function saidOfCounts(
  { page, heading, device }: CountSheet,
  { rows, taken }: { readonly rows: readonly number[]; readonly taken: readonly number[] },
): string[] {
  const { values, name } = page.sheet;
  const named = isPartial(name) && !OF_YEAR.test(phraseOf(name)) ? [name] : [];
  const said = heading.texts.flatMap((text, column): string[] => {
    if (text === "" || column === device || taken.includes(column)) return [];
    const cells = rows.map((row) => values[row]?.[column] ?? null).filter((one) => !isBlank(one));
    if (cells.length < Math.max(FEWEST, rows.length * NEARLY_ALL)) return [];
    const numbers = cells.filter((one) => typeof one === "number");
    if (numbers.length === cells.length) return changes(text, numbers) ? [text] : [];
    const texts = new Set(cells.map(textOf));
    const [one = ""] = texts;
    if (texts.size !== 1 || !isPartial(one)) return [];
    // "First floor" and "Right wing" say where a device is.
    return isOfDevice(text) && !OF_TIME.test(phraseOf(one)) ? [] : [one];
  });
  return [...named, ...said];
}

/** Whether a label says that a count is of a part of the uses of a month, or of another time. */
function isPartial(label: string): boolean {
  const phrase = phraseOf(label.replaceAll(/[×*]/gu, " x "));
  return phrase.split(" ").length <= LONGEST && PARTIAL.test(phrase);
}

function changes(heading: string, numbers: readonly number[]): boolean {
  const phrase = phraseOf(heading);
  if (FACTOR.test(phrase)) return numbers.some((one) => one !== 1);
  return DAYS.test(phrase) && numbers.some((one) => one < WHOLE_MONTH);
}

function isOfDevice(heading: string): boolean {
  return (
    PLACE.test(phraseOf(heading)) || wordsOf(heading, KNOWN).some(({ text }) => OF_DEVICE.has(text))
  );
}
