import type { WorkSense } from "../../languages/language.ts";
import { folded } from "../../languages/words-of.ts";
import { namesPart, partWords } from "../../headings/part-words.ts";
import { listed, notice, wholeSheet } from "../../records/problems.ts";
import type { Device, Part, Problem } from "../../records/records.ts";
import { keyOf, type Page, quoted, textOf } from "../../workbook/cells.ts";
import { firstWords } from "../told/first-words.ts";
import { takenOver } from "../register/taken-over.ts";
import type { Named } from "../devices/devices.ts";
import { devicesIn } from "../devices/devices-in-text.ts";

/** As much of a sheet as is looked at, and of a cell. */
const ROWS = 2000;
const COLUMNS = 40;
const LONGEST = 200;
/** Devices named in the sentence; the rest are counted. */
const NAMED = 6;

/** Where a title stands. */
const TITLE_ROWS = 5;
/**
 * Beginnings of words in a title that say of the devices below that they left, or are elsewhere than the register says;
 * common practice, no source.
 */
const AWAY = new RegExp(
  `(?<!\\p{L})(?:${[
    "quar[ae]nt|cuarent|kwarantann|retire|dispos|scrap|condemn|decommission|withdr|mov(?:e|ing)|transfer|repair|loan|lent|borrow|(?:in )?storage|stored|sent|return|swap|lost|broken|not (?:in use|working)|(?:out of|no longer in) (?:use|order|service)",
    "ausser (?:betrieb|dienst)|ausgemuster|verlieh|ausgelieh|reparatur|verleg|umgezog|verschrott|defekt|hors (?:service|usage)|reparation|pret(?:e|s|$)|deplac|reform|rebut",
    "fuera de (?:servicio|uso)|reparac|prestam|traslad|(?:dado|dados) de baja|fora de (?:servico|uso)|emprest|transferid|abatid|fuori (?:servizio|uso)|riparaz|prestit|spostat|dismess",
    "buiten (?:gebruik|dienst)|reparatie|uitgeleend|verplaatst|afgevoerd|wycofan|napraw|wypozycz|przenies|zlomowan",
  ].join("|")})`,
  "u",
);

/** What a sheet says of parts that nobody may miss. */
const OF_PARTS: ReadonlySet<WorkSense> = new Set<WorkSense>(["damaged", "withdrawn"]);

/**
 * Sheets that are not read, but name devices of the register and speak of their parts or of damage, such as a list of
 * faults or of things to do: nothing of it is in any figure, so it is said.
 */
export function sheetsBeside(
  pages: readonly Page[],
  devices: ReadonlyMap<string, Named>,
  { parts, read }: { readonly parts: readonly Part[]; readonly read: readonly Device[] },
): Problem[] {
  if (devices.size === 0) return [];
  const { tokensOf } = partWords(parts);
  const isTaken = takenOver(read, parts);
  const condemns = (text: string): boolean =>
    tokensOf(text).some(({ senses }) => senses.some((one) => OF_PARTS.has(one)));
  const namesOne = (text: string): boolean => namesPart(tokensOf(text));
  const speaks = (text: string): boolean => namesPart(tokensOf(text)) || condemns(text);
  return pages.flatMap((page) => {
    const texts = textsOn(page);
    const { name } = page.sheet;
    const found = [...new Set([name, ...texts].flatMap((text) => devicesIn(text, devices)))];
    if (found.length === 0) return ofNone(page, texts.filter(namesOne), { condemns, read });
    const isOfParts = texts.some((text) => namesPart(tokensOf(text)));
    const away = isOfParts ? [] : elsewhere(page, found);
    if (away.length > 0 || !texts.some(speaks)) return away;
    if (!texts.some(condemns) && isTaken(page)) return [];
    return [
      notice(
        "sheet not read",
        wholeSheet(name),
        `${name} speaks of parts and names ${listed(
          found.map(({ id }) => id),
          NAMED,
        )}; it is not read, so nothing of it is in any list.`,
        "See whether it ends the life of a part or changes a date; if so, put that into the Job log or the register.",
      ),
    ];
  });
}

/** Parts that are called back, in folded words of eight languages. */
const RECALL =
  /(?<!\p{L})(?:recall|ruckruf|zuruckgeruf|rappel(?:e|s)? de lot|rappel|retirada|retirar del|richiam|recolh|terugroep|wycofan)|out of use at once/u;

/** A sheet that names no device, but speaks of parts: a site's whose name it has, or all of a lot that is called back. */
function ofNone(
  { sheet: { name } }: Page,
  ofParts: readonly string[],
  {
    condemns,
    read,
  }: { readonly condemns: (text: string) => boolean; readonly read: readonly Device[] },
): Problem[] {
  const site = read.find(
    (device) => device.site !== "" && keyOf(device.site) === keyOf(name),
  )?.site;
  const text =
    ofParts.find((one) => RECALL.test(folded(one))) ??
    (site === undefined ? undefined : ofParts.find(condemns));
  if (text === undefined) return [];
  return [
    notice(
      "sheet not read",
      wholeSheet(name),
      `${name} says ${firstWords(text)} and names no device; it is not read, so nothing of it is in any list.`,
      "See which parts it takes out of use; put them into the Job log, with a finding.",
    ),
  ];
}

/** A sheet whose name or title says that its devices left or are elsewhere. */
function elsewhere({ sheet }: Page, found: readonly Named[]): Problem[] {
  const alone = sheet.values.slice(0, TITLE_ROWS).flatMap((cells) => {
    const filled = cells.map(textOf).filter((text) => text !== "");
    return filled.length === 1 ? filled : [];
  });
  const titles = [sheet.name, ...alone];
  const title = titles.find((text) => text.length <= LONGEST && AWAY.test(folded(text)));
  const inUse = found.filter(({ retired }) => !retired);
  if (title === undefined || inUse.length === 0) return [];
  const ids = listed(
    inUse.map(({ id }) => id),
    NAMED,
  );
  const [is, stands] = inUse.length === 1 ? ["is", "stands"] : ["are", "stand"];
  return [
    notice(
      "sheet not read",
      wholeSheet(sheet.name),
      `${title === sheet.name ? `The sheet ${quoted(title)}` : `${sheet.name} says ${quoted(title)} and`} names ${ids}; it is not read, so ${ids} ${is} in service, at the site where the register has ${inUse.length === 1 ? "it" : "them"}.`,
      `If that no longer holds, say so where ${ids} ${stands} in the register: the site, or Retired under Status and the day under Retired on.`,
    ),
  ];
}

/** What is written on a sheet, each text once. */
function textsOn({ sheet }: Page): string[] {
  const texts = new Set<string>();
  for (const cells of sheet.values.slice(0, ROWS)) {
    for (const value of cells.slice(0, COLUMNS)) {
      if (typeof value === "string" && value.length <= LONGEST) texts.add(textOf(value));
    }
  }
  return [...texts];
}
