/**
 * Words of remarks in folded phrases: what withdraws a date, what says that a part is gone or not new, and what
 * leaves a date to be settled. Longer lists of work are in work-senses.ts and the languages.
 */

const whole = (...phrases: readonly string[]): RegExp =>
  new RegExp(`(?:^| )(?:${phrases.join("|")})(?: |$)`, "u");

/** Nobody is sure of a date. */
export const UNSURE = whole(
  "guess(?:ed)?|probably|second hand|not (?:certain|known|confirmed)|(?:date|dates|day) (?:was |were |is )?(?:copied|estimated|approximate|assumed|unknown|unclear)",
  "unsicher|ungewiss|fraglich|incertaine?s?|douteu(?:x|se)|dudos[oa]|inciert[oa]|duvidos[oa]",
  "incert[oa]|dubbi[oa]|onzeker|twijfelachtig|niepewn[aye]",
  "(?:datum|date|fecha|data) (?:geschatzt|unbekannt|estimee|approximative|inconnue|estimada|aproximada|desconocida|desconhecida|stimata|sconosciuta|geschat|onbekend|szacunkowa|nieznana)",
  "date (?:is |was )?(?:the )?(?:order|ordering|delivery|purchase) date|date lost|do(?: not|n t) (?:rely on|trust)(?: \\w+){0,2}",
);

/** Not to be used, past its day, or called back; of a warranty or a contract it is said, too. */
export const NOT_TO_USE = whole(
  "(?:can ?not|can t|must not|may not) be used",
  "ne pas utiliser|no usar|non usare|nao usar|niet gebruiken|nie uzywac|nicht (?:be)?nutzen|nicht (?:be|ver)wenden",
  "(?<!(?:warranty|guarantee|contract|licen[cs]e|lease|garant\\w*|vertrag) )(?:expired|recalled|uberfallig|abgelaufen|perimee?s?|vencid[oa]s?|scadut[oaie]|verlopen|przeterminowan\\w+)",
);

/** What was fitted is not new, or not what it should be. */
export const NOT_NEW = whole(
  "old \\w+(?: \\w+){0,2} (?:put back|refitted|kept|reused|back on)",
  "(?:sets?|cushions?|electrodes?|leads?|ones?) from another (?:unit|device|screener|machine|site|room|ward|kit)",
  "past (?:its |their |the )?(?:shelf life|expiry)|wrong size|used before",
  "(?:used|borrowed) (?:electrode |ear )?(?:sets?|cushions?|electrodes?|leads?)",
  "(?:sets?|cushions?|electrodes?|leads?)(?: is| are)? (?:borrowed|from \\p{L}+ ?\\d+)",
);

/** A line that should not stand, or a job that was not done. */
export const UNDONE = whole(
  "wrong (?:entry|line|row|type|part|date|day)|(?:date|day) (?:is |was )?wrong|entered (?:twice|in error)|by mistake",
  "(?:not|never)(?: been)? done",
);

/** Something is gone; of labels and papers it is said, too. */
export const MISSING = whole(
  "missing|fehl(?:t|en)|manque|manquante?s?|falta|mancante|manca|ontbreekt|brakuje",
);
export const OF_PAPER = whole(
  "lots?|labels?|serials?|numbers?|stickers?|papers?|signatures?|dates?|invoices?",
);

/** Of two sides one alone. */
export const ONE_SIDE = whole(
  "(?:only|just|nur|seulement|solo|somente|apenas|soltanto|solamente|alleen|tylko)(?: \\w+){0,2} (?:left|right|links?|rechts?|linke[rs]?|rechte[rs]?|gauche|droite?|izquierd[oa]|derech[oa]|esquerd[oa]|direit[oa]|sinistr[oa]|destr[oa]|sx|dx|linker|rechter|lew[ya]|praw[ya])",
);

/** The same as the whole of a remark. */
export const SIDE_ALONE =
  /^(?:(?:only|nur|solo|alleen|tylko) (?:the )?(?:left|right|links|rechts|izquierda|derecha|sinistr[oa]|destr[oa]|lew[ya]|praw[ya])|(?:left|right|one side|gauche|droite?) (?:only|seulement))$/u;

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
  "(?:to|should|must|needs to|need to)(?: be)? (?:changed|replaced|renewed)|failed check",
  "needs? (?:replacing|changing|a new \\w+)|replace (?:asap|soon|now|at once)|gewechselt werden|zu wechseln|(?:por|a) cambiar",
  "a (?:changer|remplacer)|da (?:sostituire|cambiare)|(?:te|moet(?:en)?) vervangen|do wymiany",
];

const NOT_THERE = "lost|(?:at|in) repair";

/** A part that is yet to be replaced. */
export const TO_REPLACE = whole(...REPLACING);

/** The same, or one that is not there. */
export const TO_GO = whole(...REPLACING, NOT_THERE);

/** A date or a part that is yet to be settled. */
export const TO_SETTLE = whole(
  NOT_THERE,
  "(?:to|should|must|needs to|need to)(?: be)? (?:checked|verified|confirmed)|see e ?mail",
  "planned|(?:see|as on|according to) (?:paper|list|log|book)|out of stock|a (?:verifier|confirmer)",
  "zu (?:prufen|klaren)|(?:por|a) (?:confirmar|verificar)|da (?:verificare|confermare)",
  "te (?:controleren|bevestigen)|do (?:sprawdzenia|potwierdzenia)",
);
