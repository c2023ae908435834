import { namesPart, partWords } from "../../headings/part-words.ts";
import { partsNamed } from "../../headings/parts-named.ts";
import { phraseOf } from "../../languages/words-of.ts";
import { listed, notice, wholeSheet } from "../../records/problems.ts";
import type { Ours, Part, Problem } from "../../records/records.ts";
import { SHELF } from "../../sheets/shelf.ts";
import { isBlank, type Page } from "../../workbook/cells.ts";

/** As much of a sheet as is looked at, and of a cell. */
const ROWS = 200;
const LONGEST = 40;
/** Headings that a list of parts must have besides the name, to be one of stock. */
const ENOUGH = 2;

/** Words of stock, orders and prices, in folded phrases of eight languages. */
const STOCK =
  /(?:^| )(?:stock|spares?|shelf|store|inventory|on hand|qty|quantity|pieces|lager\w*|bestand|vorrat|menge|anzahl|magasin|quantite|existencias|almacen|cantidad|estoque|quantidade|magazzino|scort[ae]|giacenza|quantita|voorraad|aantal|magazyn|zapas\w*|ilosc|sztuk)(?= |$)/u;
const ORDERS =
  /(?:^| )(?:orders?|ordered|received|expected|delivery|bestell\w*|geliefert|erhalten|commandes?|recu|pedidos?|recibido|encomendas?|recebido|ordin[ei]|ricevut[oi]|bestel\w*|ontvangen|zamowien\w*|otrzyman\w*)(?= |$)/u;
const PRICES =
  /(?:^| )(?:prices?|costs?|preise?|kosten|prix|couts?|precios?|precos?|prezz[oi]|costi|prijs|prijzen|cen[ay]|koszt\w*)(?= |$)/u;

/**
 * Sheets that list parts of the programme with numbers of stock, of orders or prices, and are not read: they are in no
 * order and in no budget. Nothing is told of what our own sheets hold already.
 *
 * @param pages Sheets of which nothing is read.
 * @param ours The programme.
 * @returns One problem a sheet.
 */
export function stockBeside(pages: readonly Page[], ours: Ours): Problem[] {
  const { named, tokensOf } = partWords(ours.parts);
  const partsIn = (text: string): readonly Part[] => {
    if (text.length > LONGEST) return [];
    const tokens = tokensOf(text);
    if (!namesPart(tokens)) return [];
    return partsNamed(named, new Set(tokens.flatMap(({ names }) => names))).parts;
  };
  return pages.flatMap((page): Problem[] => {
    const found = listIn(page, partsIn);
    if (found === null) return [];
    const { texts, parts } = found;
    const has = (words: RegExp): boolean => texts.some((text) => words.test(phraseOf(text)));
    const isStock = ours.shelf.length === 0 && (has(STOCK) || (has(ORDERS) && !has(PRICES)));
    const isPrice = has(PRICES) && parts.some(({ supply }) => supply.packPrice === null);
    if (!isStock && !isPrice) return [];
    return [toldOf(page, parts, { isStock, isPrice })];
  });
}

function toldOf(
  { sheet: { name } }: Page,
  parts: readonly Part[],
  { isStock, isPrice }: { readonly isStock: boolean; readonly isPrice: boolean },
): Problem {
  const what = [...(isStock ? ["stock or orders"] : []), ...(isPrice ? ["prices"] : [])];
  const names = listed(parts.map((part) => part.name));
  const cause = `${name} seems to have ${what.join(" and ")} of ${names}; it is not read, so none of it is in an order or a budget.`;
  const shelf = `Type what is on hand and on order into the sheet ${SHELF.name}.`;
  const steps = [...(isStock ? [shelf] : []), ...(isPrice ? ["Type pack prices into Parts."] : [])];
  return notice("sheet not read", wholeSheet(name), cause, steps.join(" "));
}

/** A list of parts, a part a row, below headings: the texts over it, and its parts. */
function listIn(
  { sheet }: Page,
  partsIn: (text: string) => readonly Part[],
): { readonly texts: readonly string[]; readonly parts: readonly Part[] } | null {
  const rows = sheet.values.slice(0, ROWS);
  const width = Math.max(0, ...rows.map(({ length }) => length));
  for (let column = 0; column < Math.min(width, 12); column += 1) {
    const below = rows.map((cells) => {
      const value = cells[column];
      return typeof value === "string" ? partsIn(value) : [];
    });
    const first = below.findIndex((parts) => parts.length === 1);
    const cells = rows[first];
    // Headings speak of parts as well, and numbers stand beside those of a list.
    if (first < 1 || cells?.some((value) => typeof value === "number") !== true) continue;
    const heads = (rows[first - 1] ?? []).filter((value) => !isBlank(value));
    if (heads.length < ENOUGH || !heads.every((value) => typeof value === "string")) continue;
    const over = rows
      .slice(0, first)
      .flat()
      .filter((value) => typeof value === "string");
    return { texts: [sheet.name, ...over], parts: [...new Set(below.flat())] };
  }
  return null;
}
