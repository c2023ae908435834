import { LANGUAGES } from "../../languages/index.ts";
import { wordsIn } from "../../languages/words-of.ts";
import { isBlank, textOf } from "../../workbook/cells.ts";
import type { CellValue, Sheet } from "../../workbook/snapshot.ts";

/** Words for how many or how much there is of a group, beside those of each language; common practice, no source. */
const COUNTS =
  "count total subtotal grand sum ergebnis teilergebnis gesamtanzahl gesamtergebnis nombre effectif cuenta recuento conteo conteggio numero contagem resultaat wynik licznik czesciowa ogolem sous";
const TOTALS = new Set([
  ...COUNTS.split(" "),
  ...LANGUAGES.flatMap(({ totals }) => totals.flatMap((one) => wordsIn(one))),
]);
/** Words that are of neither. */
const OTHERS = new Set(
  "for of in at the site haus standort von der de del la le di da do dla na w van het elements elementos elementi".split(
    " ",
  ),
);
const DEVICES =
  /^(?:devices?|units?|screeners?|items?|gerate?|appareils?|equipos?|apparecchi|equipamentos?|apparaten|aparat\w*|urzadzen\w*)$/u;
const LONGEST = 40;
/** "Oak (2)": a group and how many are in it. */
const COUNTED = /[([]\s*(\d+)[^)\]]*[)\]]\s*$/u;

/** Where the devices and their sites stand. */
interface Columns {
  readonly sheet: Sheet;
  readonly device: number;
  readonly site: number;
}

/**
 * Whether a row is the head or the foot of a group of devices, as "Oak Count", "Summe Haus Oak" and "Oak: 2 devices" are: beside
 * words for a total it names a site of the list at most, and nothing stands with it but counts.
 */
export function isGroupRow({ sheet, device, site }: Columns, cells: readonly CellValue[]): boolean {
  const id = cells[device] ?? null;
  if (typeof id !== "string" || id.length > LONGEST) return false;
  const beside = cells.filter((value, column) => column !== device && !isBlank(value));
  if (!beside.every((value) => typeof value === "number" && value < MOST)) return false;
  const words = wordsIn(id).filter((word) => !/^\d+$/u.test(word));
  const counted = COUNTED.exec(id)?.[1];
  const named = words.filter(
    (word) => !TOTALS.has(word) && !OTHERS.has(word) && !DEVICES.test(word),
  );
  const saysCount = words.some((word) => TOTALS.has(word)) || isOfDevices(id, words);
  if (!saysCount && (counted === undefined || beside.length > 0)) return false;
  if (named.length === 0) return saysCount;
  const group = named.join(" ");
  const isMember = (line: readonly CellValue[]): boolean =>
    wordsIn(textOf(line[site] ?? null))
      .filter((word) => !OTHERS.has(word))
      .join(" ") === group;
  const members = sheet.values.filter(isMember);
  return device !== site && members.length > 0 && (saysCount || members.length === Number(counted));
}

/** "2 devices": a word for devices and a number. */
function isOfDevices(id: string, words: readonly string[]): boolean {
  return /\d/u.test(id) && words.some((word) => DEVICES.test(word)) && id.includes(":");
}

/** More devices than any group has; dates are beyond it. */
const MOST = 10_000;

/** Whether a text is a title above the headings once more, as at the head of each printed page. */
export function isTitleAgain({ values }: Sheet, first: number, text: string): boolean {
  return values.slice(0, first).some((line) => {
    const [title, ...more] = line.filter((value) => !isBlank(value));
    return more.length === 0 && textOf(title ?? null) === text;
  });
}
