import { list } from "../languages/language.ts";
import { folded } from "../languages/words-of.ts";

/**
 * Beginnings of words that say a number by month is no number of uses: fewer of these than of uses would lengthen an
 * interval. English first, then the other languages registers are read in; common practice, no source.
 */
const OTHER_THAN_USES =
  list(`referr, refers, refer(?!\\p{L}), fail, fault, error, missed, missing, repeat, rescreen,
  positive, inspect, check, cost, price, spend, spent, expens, hour, minute, downtime, complain, repair, mainten,
  replac, chang, order, stocks?(?!\\p{L}), budget, defect, damage, wast, incident,
  auffallig, fehler, kosten, stunden, pruf, kontroll, bestel, reparatur,
  echec, refus, cout, heure, panne, commande, remplac,
  fallo, fallid, coste, costo, hora, averia, pedido, reemplaz,
  falha, custo, avaria, encomenda, substitu, fallit, costi, guast, sostitu,
  fout, uren, storing, vervang, blad, bled, koszt, godzin, awari`);
const OTHER = new RegExp(`(?<!\\p{L})(?:${OTHER_THAN_USES.join("|")})\\p{L}*`, "u");

/** The word of a title that says that the numbers below are of something else than uses; null without one. */
export function otherThanUses(title: string): string | null {
  return OTHER.exec(folded(title))?.[0] ?? null;
}
