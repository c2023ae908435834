/**
 * Words of remarks in folded phrases: what withdraws a date, what says that a part is gone or not new, and what
 * leaves a date to be settled. Longer lists of work are in work-senses.ts and the languages.
 */

const whole = (...phrases: readonly string[]): RegExp =>
  new RegExp(`(?:^| )(?:${phrases.join("|")})(?: |$)`, "u");

/** Nobody is sure of a date. */
export const UNSURE = whole(
  "guess(?:ed)?|probably|second hand|(?:date|dates|day) (?:was |were |is )?(?:copied|estimated|approximate|assumed|unknown|unclear)",
  "unsicher|ungewiss|fraglich|incertaine?s?|douteu(?:x|se)|dudos[oa]|inciert[oa]|duvidos[oa]",
  "incert[oa]|dubbi[oa]|onzeker|twijfelachtig|niepewn[aye]",
);

/** What was fitted is not new, or not what it should be. */
export const NOT_NEW = whole(
  "old \\w+(?: \\w+){0,2} (?:put back|refitted|kept|reused|back on)",
  "(?:sets?|cushions?|electrodes?|leads?|ones?) from another (?:unit|device|screener|machine|site|room|ward|kit)",
  "past (?:its |their |the )?(?:shelf life|expiry)|wrong size",
);

/** A line that should not stand, a part that is to go, or one that nobody may use. */
export const UNFIT = whole(
  "wrong (?:entry|line|row|type|part)|entered (?:twice|in error|by mistake)",
  "(?:not|never)(?: been)? (?:done|replaced|changed|renewed)|recall(?:ed)?",
  "needs? (?:a )?(?:replac|chang|renew)\\w+|(?:can ?not|can t|must not|may not) be used",
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

/** A date or a part that is yet to be settled. */
export const TO_SETTLE = whole(
  "(?:to|should|must|needs to|need to)(?: be)? (?:checked|verified|confirmed|changed|replaced|renewed)",
  "planned|(?:see|as on|according to) (?:paper|list|log|book)|out of stock|a verifier|a confirmer",
  "zu (?:prufen|klaren|wechseln)|(?:por|a) (?:confirmar|verificar|cambiar)|da (?:verificare|confermare|cambiare)",
  "te (?:controleren|bevestigen|vervangen)|do (?:sprawdzenia|potwierdzenia|wymiany)",
);
