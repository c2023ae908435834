/**
 * Words of remarks in folded phrases: what withdraws a date, what says that a part is gone or not new, and what
 * leaves a date to be settled. Longer lists of work are in work-senses.ts and the languages.
 */

import { READS } from "../languages/translate.ts";
import { WORK } from "./work-senses.ts";

const whole = (...phrases: readonly string[]): RegExp =>
  new RegExp(`(?:^| )(?:${phrases.join("|")})(?: |$)`, "u");

/** Nobody is sure of a date. */
export const UNSURE = whole(
  "guess(?:ed)?|probably|second hand|not (?:certain|known|confirmed)|(?:date|dates|day) (?:was |were |is )?(?:copied|estimated|approximate|assumed|unknown|unclear)",
  "unsicher|ungewiss|fraglich|incertaine?s?|douteu(?:x|se)|dudos[oa]|inciert[oa]|duvidos[oa]",
  "incert[oa]|dubbi[oa]|onzeker|twijfelachtig|niepewn[aye]",
  "(?:datum|date|fecha|data) (?:geschatzt|unbekannt|estimee|approximative|inconnue|estimada|aproximada|desconocida|desconhecida|stimata|sconosciuta|geschat|onbekend|szacunkowa|nieznana)",
  "date (?:(?:is|was|from) )?(?:the )?(?:order|ordering|delivery|purchase|invoice)|date lost|do(?: not|n t) (?:rely on|trust)(?: \\w+){0,2}",
);

/** Not to be used, past its day, or called back; of a warranty or a contract it is said, too. */
export const NOT_TO_USE = whole(
  "(?:can ?not|can t|must not|may not) be used",
  "ne pas utiliser|no usar|non usare|nao usar|niet gebruiken|nie uzywac|nicht (?:be)?nutzen|nicht (?:be|ver)wenden",
  "(?<!(?:warranty|guarantee|contract|licen[cs]e|lease|garant\\w*|vertrag) )(?:expired|recalled|uberfallig|abgelaufen|perimee?s?|vencid[oa]s?|scadut[oaie]|verlopen|przeterminowan\\w+)",
);

/** What was fitted is not new, or not what it should be. */
const NOT_NEW = whole(
  "old \\w+(?: \\w+){0,2} (?:put back|refitted|kept(?! (?:for|as|in))|reused|back on)|(?:refitted|put back|kept) (?:the )?old",
  "(?:sets?|cushions?|electrodes?|leads?|ones?) from another (?:unit|device|screener|machine|site|room|ward|kit)",
  "past (?:its |their |the )?(?:shelf life|expiry)|wrong size|used before|spare used",
  "(?:used|borrowed|demo|loan|temporary) (?:electrode |ear )?(?:sets?|cushions?|electrodes?|leads?|parts?|ones?|pieces?|pairs?|spares?)",
  "(?:sets?|cushions?|electrodes?|leads?)(?: is| are)? (?:borrowed|from (?!lot|box|bag)\\p{L}+ ?\\d+)",
  "(?:taken|borrowed) from \\p{L}{1,3} \\d+",
);

/** The same in a word, and that it stood in another device; of a device these words say less. */
const USED =
  /(?:^| )(?:second ?hand|borrowed|gebraucht|geliehen|occasion|usagee?|usad|usat|gebruikt|tweedehands|uzywan)\w*(?! (?:en|por|em|na|no|in|per|da|op|door|voor) )(?: |$)/u;
export const OLD_WORD =
  "alte[snr]?|ancien(?:ne)?s?|vieux|viej[oa]s?|antigu?[oa]s?|velh[oa]s?|vecchi[oae]?|oude?|star[yae]";
const OLD = new RegExp(
  `(?:^| )(?:(?<!(?:not|never) )(?:re ?)?used$|(?:demo|loan|temporary)$|old(?! (?:type|building|ward))|${OLD_WORD})(?: |$)`,
  "u",
);
/** A part of old stock is new, however long it lay. */
const STOCK = "stocks?|bestand|vorrat|existencias|estoque|scort[ae]|voorraad|zapas\\w*";
export const OLD_STOCK = new RegExp(
  `(?:^| )(?:(?:old|alte[nm]|starego|${OLD_WORD}) (?:${STOCK})|(?:${STOCK}) (?:starego|${OLD_WORD}))(?= |$)`,
  "gu",
);
const ELSEWHERE =
  /(?:^| )(?:from|von|aus|de|du|sur|a|do|da|dal|van|z) (?!lot|box|exp)\p{L}{1,3} \d+(?: |$)/u;
/** A part in other words than its name. */
const SOME_PART =
  /(?:^| )(?:sets?|parts?|teile?|satz|piece|jeu|pieza|juego|peca|jogo|pezzo|onderdeel|czesc|zestaw)(?: |$)/u;

/** Whether a phrase says that a part was used before; `ofPart` where it is of nothing else. */
export function isNotNew(phrase: string, ofPart: boolean): boolean {
  if (NOT_NEW.test(phrase)) return true;
  if (USED.test(phrase)) return ofPart || SOME_PART.test(phrase) || ELSEWHERE.test(phrase);
  return false;
}

/** Whether a comment to the date of a part says that it was another one's, or an old one. */
export function isOld(phrase: string): boolean {
  const said = phrase.replace(OLD_STOCK, "");
  return isAnothers(said) || OLD.test(said);
}

/** What the part that was replaced was. */
const WAS_OLD = /past (?:\w+ )?(?:shelf life|expiry)/u;

/** Whether a note beside a replacement says that what was fitted was another one's; of an old one it may be the reason. */
export function isAnothers(phrase: string): boolean {
  const said = phrase.replace(WAS_OLD, "");
  return isNotNew(said, true) || ELSEWHERE.test(said) || isExchanged(said, true);
}

/** A part that goes, or went, from one device to another. */
const EXCHANGED =
  /(?:^| )(?:(?:swapped|switched|exchanged|interchanged|changed|mixed up)(?: \w+){0,2} with|(?:now|was|were|is|used|put|back|fitted) on|(?:moved|went|given|lent|returned) to|taken to|same(?: \w+){0,2} as|(?:\w*tauscht|vertauscht|gewechselt) mit|(?:jetzt|war|waren|nun) (?:an|auf|in|bei)|(?:echange|interverti|permute)\w* (?:avec|contre)|(?:maintenant|etait|etaient|mise?s?) sur|passee?s? (?:a|sur)|(?:intercambiad|cambiad)[oa]s? con|(?:ahora|estaban?) en|pasad[oa]s? a|scambiat[oaie] con|(?:ora|adesso|era|erano) (?:su|in)|trocad[oa]s? com|(?:agora|estav\w+) (?:no|na|em)|(?:om|ver)?(?:geruild|wisseld) met|gewisseld met|(?:nu|was|waren) (?:op|bij|in)|zamien\w+ z|(?:teraz|byl\w*) (?:w|na))(?= |$)/u;
/** Whether a phrase says that a part goes from one device to another: one is named, or nothing else is. */
export function isExchanged(phrase: string, ofPart: boolean): boolean {
  const at = phrase.search(EXCHANGED);
  return at >= 0 && /\d/u.test(phrase) && (ofPart || at === 0 || SOME_PART.test(phrase));
}

/** A line that should not stand, or a job that was not done. */
const UNDONE = whole(
  "wrong (?:entry|line|row|type|part|device|unit|date|day)|(?:date|day) (?:is |was )?wrong|entered (?:twice|in error)|by mistake",
  "(?:not|never)(?: (?:been|really|fully|yet|properly))? done|(?<=^)not really|not yet(?=$)|(?:not yet|noch nicht|pas encore|(?:aun|todavia) no|ainda nao|non ancora|nog niet|jeszcze nie)(?=$)",
);
const DONE = /^(?:done|performed|completed|gemacht|hizo|gebeurd)$/u;
/** What stands between "not" and "done". */
const BEING = /^(?:been|be|yet|se|ha|foi|stat[oa]|ancora|encore|ete|worden)$/u;

/** Whether a phrase takes back a job, in any of the languages. */
export function isTakenBack(phrase: string): boolean {
  if (UNDONE.test(phrase)) return true;
  const words = phrase.split(" ");
  return words.some((word, at) => {
    if (WORK.get(word) !== "no") return false;
    const said = words.slice(at + 1).find((next) => !BEING.test(next)) ?? "";
    return READS.get(said) === "done" || DONE.test(said);
  });
}

/** Something is gone; of labels and papers it is said, too. */
export const MISSING = whole(
  "missing|fehl(?:t|en)|manque|manquante?s?|falta|mancante|manca|ontbreekt|brakuje",
);
export const OF_PAPER = whole(
  "lots?|labels?|serials?|numbers?|stickers?|papers?|signatures?|dates?|invoices?",
);

const ONLY =
  "only|just|nur|seulement|uniquement|sol[oa]|sola?mente|somente|apenas|so|soltanto|alleen|slechts|tylko";
const IS_ONLY = new RegExp(`^(?:${ONLY})$`, "u");
/** What one is one of, or is said of one alone. */
const OF_TWO =
  /^(?:two|2|side|seule?|zwei|beiden|seite|deux|cote|dos|lado|dois|duas|due|lato|twee|kant|dwoch|strona)$/u;
const PARTLY =
  /(?:^| )(?:part(?:ly|ial|iall?y|iellement)|teilweise|einseitig|parcial|parzial|gedeeltelijk|deels|czesciowo)/u;
const PIECES: ReadonlySet<string | undefined> = new Set(["left", "right", "partial", "lead"]);

/** Whether a phrase says that one piece of several is meant, or one side. */
export function isPartly(phrase: string): boolean {
  const words = phrase.split(" ");
  return (
    PARTLY.test(phrase) ||
    words.some((word, at) => {
      if (IS_ONLY.test(word) || !PIECES.has(WORK.get(word))) return false;
      const near = words.slice(Math.max(0, at - 3), at + 4);
      const isOne = WORK.get(word) === "partial";
      return (
        near.some((one) => IS_ONLY.test(one)) ||
        (isOne && words.slice(at + 1, at + 4).some((one) => OF_TWO.test(one)))
      );
    })
  );
}

/** A few words and "only": "reset clock only". */
const OF_LITTLE = new RegExp(
  `^(?:(?:${ONLY.replace("just|", "").replace("so|", "")})(?: \\w+){1,3}|(?:\\w+ ){1,3}(?:${ONLY}))$`,
  "u",
);

/** When a device is used says nothing of its parts. */
const AT_TIMES =
  /(?:^| )(?:weekd|weekend|werkt|wochent|semaine|laborab|entre semana|uteis|ferial|doordew|werkd|robocz|mornings|vormitt|matin|manana|manha|mattin|ochtend|rano|afternoons|evenings|abends|night|nacht|nuit|noche|noite|notte|noc[aey]|(?:mon|tues|thurs|fri)days?)/u;

/** Whether a short text says "only" of something. */
export function isOnly(phrase: string): boolean {
  return OF_LITTLE.test(phrase) && !AT_TIMES.test(phrase);
}

/** The whole of a cell that calls what stands beside it late, or sends somebody to replace it. */
export const LATE_ALONE = new RegExp(
  `^(?:${[
    "late|past due|due(?: now)?|(?:change|replace|swap|renew)(?: (?:it|now|asap|today))*|act(?:ion)?(?: now| needed| required)?",
    "urgent|red|bad|poor|no good|fail(?:ed)?|alert|fallig|zu spat|wechseln|tauschen|ersetzen|dringend|rot",
    "en retard|echue?s?|depassee?s?|changer|remplacer|rouge|atrasad[oa]s?|caducad[oa]s?|cambiar(?: ya)?|rojo|urgente|mal[oa]?",
    "em atraso|expirad[oa]s?|trocar(?: ja)?|vermelho|in ritardo|cambiare|sostituire|rosso|over tijd|te laat|rood|zalegl[aye]|po terminie|wymienic|czerwony",
  ].join("|")})$`,
  "u",
);

/** Somebody is sent to replace a part that is named beside it. */
export const SENDS =
  /^(?:change|replace|renew|swap|exchange|changer|remplacer|cambiar|reemplazar|sustituir|trocar|substituir|cambiare|sostituire|wymienic) (?!(?:of|by|from)(?: |$))|(?:^| )(?:wechseln|tauschen|ersetzen|wisselen)$/u;

const REPLACING = [
  "(?:to|will|should|must|needs to|need to)(?: be)? (?:changed|replaced|renewed)|failed check",
  "needs? (?:replacing|changing|a new \\w+)|replace (?:asap|soon|now|at once)|gewechselt werden|zu wechseln|(?:por|a) cambiar",
  "a (?:changer|remplacer)|da (?:sostituire|cambiare)|(?:te|moet(?:en)?) vervangen|do wymiany",
];

const NOT_THERE = "lost|(?:at|in) repair";

/** A part that is yet to be replaced. */
export const TO_REPLACE = whole(...REPLACING);

/** A date or a part that is yet to be settled. */
export const TO_SETTLE = whole(
  NOT_THERE,
  "(?:to|should|must|needs to|need to)(?: be)? (?:checked|verified|confirmed)|see e ?mail",
  "planned|(?:see|as on|according to) (?:paper|list|log|book)|out of stock|a (?:verifier|confirmer)",
  "zu (?:prufen|klaren)|(?:por|a) (?:confirmar|verificar)|da (?:verificare|confermare)",
  "te (?:controleren|bevestigen)|do (?:sprawdzenia|potwierdzenia)",
);
