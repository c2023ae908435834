import { deviceKey } from "../../records/device-key.ts";
import { phraseOf } from "../../languages/words-of.ts";
import { remembering } from "../../records/remembering.ts";
import { identifierAt, isBlank, isBlankRow, textOf, trueDate } from "../../workbook/cells.ts";
import { cellAt, type CellValue } from "../../workbook/snapshot.ts";
import type { CountSheet } from "./count-sheets.ts";
import { wordsSaid } from "../told/first-words.ts";
import { saidOfCounts } from "./partial-counts.ts";
import { saysTotal } from "../rows/rows.ts";

/** What says that counts are missing: in words, or by a sum above what is there. */
export interface Lacking {
  readonly said: string;
  /** Keys of the devices whose counts they are; null for all of the sheet. */
  readonly keys: readonly string[] | null;
}

const words = (...phrases: readonly string[]): RegExp =>
  new RegExp(`(?:^| )(?:${phrases.join("|")})(?= |$)`, "u");

/** Words for what is left out of counts, or in them only in part, in folded phrases of eight languages. */
const LACKS = words(
  "not (?:yet |all |been |fully )*(?:included|counted|entered|in (?:here|this)|complete|recorded|reported|assigned|listed|available|added|known)|(?:are|is) not in",
  "exclud\\w+|without|except|missing|incomplete|provisional|preliminary|unassigned|separately|counted elsewhere|only|part(?:ly|ial|ially)|to follow|pending|still to come|(?:more|others?) (?:at|in|on) \\w+|not final",
  "nicht (?:\\w+ )?(?:enthalten|gezahlt|erfasst|dabei|vollstandig|eingetragen|mitgezahlt|zugeordnet|drin)|ohne|fehl(?:t|en|end\\w*)|unvollstandig|vorlaufig|nur|separat|getrennt|ausser|teilweise|folgt|unbekannt",
  "(?:pas|non) (?:encore )?(?:compt|inclus?e?s?|compris|saisi|attribue)\\w*|sans|manqu\\w+|incomplet\\w*|provisoires?|seulement|uniquement|a part|separement|sauf|hors",
  "no (?:estan )?(?:incluid\\w+|incluye\\w*|contad\\w+|asignad\\w+)|sin|faltan?|incomplet[oa]s?|provisional(?:es)?|solo|solamente|aparte|por separado|excepto|salvo",
  "non (?:inclus|contat|compres|assegnat)\\w+|senza|manca\\w*|provvisori\\w*|soltanto|solo|separatamente|esclus\\w+|tranne",
  "nao (?:incluid|contad|atribuid)\\w+|sem|provisori\\w+|somente|apenas|separadamente|exceto|excluid\\w+",
  "niet (?:\\w+ )?(?:meegeteld|geteld|inbegrepen|ingevuld|compleet|meegenomen|toegewezen)|zonder|ontbre\\w+|onvolledig|voorlopig|alleen|slechts|apart|behalve",
  "nie (?:\\w+ )?(?:wliczon|policzon|uwzglednion|ujet|przypisan)\\w*|bez|brak\\w*|niepeln\\w*|niekompletn\\w*|wstepn\\w*|tylko|osobno|oddzielnie|oprocz",
);
/** Nothing is left out. */
const NONE_LACKS =
  /(?:^| )(?:(?:no|none|nothing|never)(?: \w+)? (?:is |are )?missing|nichts fehlt|es fehlt nichts|rien ne manque|no falta nada|no missing)(?: |$)/u;
/** A row of nobody in particular. */
const NOBODY =
  /^[?\s]+$|^(?:others?|unknown|various|andere|autres?|otros|altri|outros|overige|inne)$/iu;

/** Whether a text beside counts says that some are missing. */
export function lacks(text: string): boolean {
  const phrase = phraseOf(text);
  return LACKS.test(phrase) && !NONE_LACKS.test(phrase);
}

/** What on a sheet of counts says that some are missing. */
export function lackingIn(
  sheet: CountSheet,
  isDevice: (key: string) => boolean,
  names: () => ReadonlyMap<string, string>,
): Lacking[] {
  const { page, heading, device, lastRow } = sheet;
  const { values, comments } = page.sheet;
  const taken = sheet.shape === "wide" ? sheet.months.map(({ column }) => column) : [sheet.count];
  const keyOf = (row: number): string => deviceKey(identifierAt(page, row, device));
  const ofRow = (row: number): Lacking["keys"] => {
    if (row <= heading.last || row > lastRow) return null;
    return isDevice(keyOf(row)) ? [keyOf(row)] : null;
  };
  const found: Lacking[] = [...(comments ?? [])].flatMap(([key, text]) => {
    const { row, column } = cellAt(key);
    const said = wordsSaid(text);
    return column <= Math.max(...taken, device) && lacks(said) ? { said, keys: ofRow(row) } : [];
  });
  // On a register remarks are of the devices.
  if (isRegister(sheet)) return found;
  const ofDevices = values.flatMap((_, row) => (ofRow(row) === null ? [] : row));
  for (const said of saidOfCounts(sheet, { rows: ofDevices, taken })) {
    found.push({ said, keys: null });
  }
  const saysLack = remembering(lacks);
  // Whose counts stand under a label that is no device's.
  const keysOf = (label: string, row: number): Lacking["keys"] | undefined => {
    if (NOBODY.test(label)) return null;
    // "A-01 (on loan)" is a part of A-01's, and so may be what stands under its old number.
    const key = deviceKey(label.replace(/\s*[([,;].*$/u, ""));
    const own = isDevice(key) ? key : (names().get(key) ?? "");
    return isDevice(own) && own !== keyOf(row) ? [own] : undefined;
  };
  values.forEach((cells, row) => {
    cells.forEach((value, column) => {
      if (typeof value !== "string" || (column === device && isDevice(deviceKey(value)))) return;
      const isLabel = column === device && row > heading.last && hasNumber(cells, taken);
      if (saysLack(value)) found.push({ said: textOf(value), keys: ofRow(row) });
      else if (isLabel) {
        const keys = keysOf(value, row);
        if (keys !== undefined) found.push({ said: textOf(value), keys });
      }
    });
  });
  return sheet.shape === "wide" ? [...found, ...sumsAbove(sheet, taken, ofRow)] : found;
}

/** Sums and means that are above what the cells add up to. */
function sumsAbove(
  { page, heading, device, lastRow }: CountSheet,
  taken: readonly number[],
  ofRow: (row: number) => Lacking["keys"],
): Lacking[] {
  const { values } = page.sheet;
  const found: Lacking[] = [];
  const sums: (number | undefined)[] = taken.map(() => 0);
  for (let row = heading.last + 1; row < values.length; row += 1) {
    const cells = values[row] ?? [];
    if (saysTotal(cells[device] ?? null)) {
      // One sum that does not agree is a slip; a cell that holds no number is told for itself.
      const whole = taken.filter((_, at) => sums[at] !== undefined);
      const above = taken.filter((column, at) => numberIn(cells[column]) > (sums[at] ?? Infinity));
      const [first] = above;
      if (first !== undefined && above.length * 2 > whole.length) {
        const said = `${identifierAt(page, row, device)} ${numberIn(cells[first])}`;
        found.push({ said, keys: null });
      }
      continue;
    }
    if (isBlankRow(cells)) continue;
    taken.forEach((column, at) => {
      const [sum, value] = [sums[at], cells[column]];
      sums[at] = sum === undefined || typeof value !== "number" ? undefined : sum + value;
    });
    if (row > lastRow || ofRow(row) === null) continue;
    const counts = taken.map((column) => cells[column]).filter((one) => typeof one === "number");
    const sum = counts.reduce((all, one) => all + one, 0);
    heading.texts.forEach((text, column) => {
      if (taken.includes(column) || typeof cells[column] !== "number") return;
      const times = MEAN.test(phraseOf(text))
        ? counts.length
        : saysTotal(text) || /\bytd\b/iu.test(text)
          ? 1
          : 0;
      // A mean may be rounded.
      const stated = times * (numberIn(cells[column]) - (times > 1 ? 1 : 0));
      if (stated > sum)
        found.push({ said: `${text} ${numberIn(cells[column])}`, keys: ofRow(row) });
    });
  }
  return found;
}

const MEAN =
  /(?:^| )(?:average|mean|avg|durchschnitt|mittel(?:wert)?|moyenne|promedio|media|gemiddeld\w*|srednia)(?: |$)/u;

/** Whether one of the columns holds days, as those of a register do; the months of a list are none. */
function isRegister(sheet: CountSheet): boolean {
  const { page, heading, lastRow } = sheet;
  const month = sheet.shape === "long" ? sheet.month : null;
  return heading.texts.some((text, column) => {
    if (text === "" || column === month) return false;
    let days = 0;
    for (let row = heading.last + 1; row <= lastRow; row += 1) {
      if (trueDate(page, row, column) !== null) days += 1;
    }
    return days * 2 > lastRow - heading.last;
  });
}

function hasNumber(cells: readonly CellValue[], columns: readonly number[]): boolean {
  return columns.some(
    (column) => !isBlank(cells[column] ?? null) && typeof cells[column] === "number",
  );
}

function numberIn(value: CellValue | undefined): number {
  return typeof value === "number" ? value : 0;
}
