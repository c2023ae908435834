/**
 * Words of a note beside a replacement in our Job log, in folded phrases of the eight languages. Its row is of one part, so
 * that "not", "old", "back" and the like are said of that replacement, which in a remark on a device they need not be.
 */

import { OLD_STOCK, OLD_WORD } from "./withdrawing-words.ts";

const whole = (...phrases: readonly string[]): RegExp =>
  new RegExp(`(?:^| )(?:${phrases.join("|")})(?= |$)`, "u");

/** The row should not stand. */
const VOID = whole(
  "void(?:ed)?|deleted?(?: \\w+)?|ignored?|disregard|duplicated?|dup|double(?: entry)?(?=$| log)|(?:logged|typed|written) twice|mistaken?|errors?|erroneous|in error|typo|backdated|(?:other|wrong) \\w+|instead",
  "geloscht|loschen|ungultig|irrtum\\w*|irrtumlich|doppelt(?! gepruft| kontroll)|versehen\\w*|fehleintrag|falsch\\w*",
  "annule\\w*|supprim\\w*|erreur|doublon|errone\\w*|par erreur|anulad\\w*|borrar|borrad\\w*|duplicad\\w*|equivocad\\w*|errad\\w*|apagar|engano",
  "annullat\\w*|cancellat\\w*|errore|doppione|doppi[oa]|sbagliat\\w*|vergissing|dubbel|fout|foutief|verwijderen|ongeldig",
  "anulowan\\w*|blad|bledn\\w*|pomylk\\w*|usunac|podwojn\\w*|omylk\\w*",
);

/** Nobody is sure. */
const DOUBTED = whole(
  "check with|ask|unsure|uncertain|doubtful|doubts?|perhaps|maybe|possibly|apparently|i think|not sure|tb[acd]|to be (?:confirmed|checked)",
  "vielleicht|evtl|eventuell|vermutlich|wohl|peut etre|tal vez|quiza|talvez|forse|misschien|moze",
);

/** It was forgotten, or is still to come. */
const TO_COME = whole(
  "forg[eo]t(?:ten)?|to be (?:fitted|changed|replaced|renewed|installed|done|put)|(?:planned|scheduled|booked|due) for|will (?:be|do|change|replace|fit)|pending|tomorrow|next (?:week|month|visit|time)",
  "vergessen|oublie\\w*|olvid\\w*|esquec\\w*|dimentica\\w*|vergeten|zapomnian\\w*",
  "morgen|demain|manana|amanha|domani|jutro|nachste woche|semaine prochaine|proxima semana|settimana prossima|volgende week",
);
/** What is ordered comes later, and what is said of it is no part of the job. */
const ORDERED =
  /(?:^| )(?:order|deliver|arriv|await|wait|bestell|liefer|lieferung|command|livr|pedid|encarg|encomend|ordin|consegn|geleverd|besteld|zamow|dostaw)\w*/u;

/** Not: of what was done, since nothing else stands beside it. */
const NOT =
  /(?:^| )(?:not|never|cannot|(?:did|was|were|could|has|have|is|do|does|can)n ?t|(?:did|was|could|is|do|does|can) not|nicht|nie|niemals|pas|jamais|nao|nunca|non|niet|nooit|nigdy)(?= |$)(?! (?:urgent|due|overdue|expired|only|nur|charged|invoiced|applicable|relevant|zutreffend|van toepassing|dotyczy|se aplica|applicabile|ma (?:uwag|problem)|ha (?:problem|observ)|ci sono (?:problem|note)|de (?:probleme|souci|remarque|particularite|anomalie|defaut)))/u;
/** What must not be used is as well the part that went. */
const NOT_USED = /(?:^| )(?:do not|don t|not to be) use(?= |$)/u;

/** Less than the set. */
const LESS = whole(
  "half(?! past| year)|\\d+ of \\d+|incomplete\\w*|not complete\\w*|halb(?:e[nrs]?)?|halfte|unvollstandig\\w*|moitie|incomplet\\w*|mitad|metade|meta|helft|onvolledig\\w*|polow[aye]|niekompletn\\w*|niepeln\\w*",
);

/** An old part, and one that was used before. */
const OLD = new RegExp(
  `(?:^| )(?:(?:old|previous|same)(?= (?:one|set|part|pair|cushion|electrode|lead|piece)s?(?: |$))|(?<!(?:day|week|month|year)s? )old(?! (?:ward|building|stock|lot|type))|re ?used|(?<!last(?: \\w+)? )used$|temporary$|${OLD_WORD})(?= |$)`,
  "u",
);
/** It came back, or was put on. */
const PUT_BACK =
  /(?:^| )(?:back(?! to)|again|kept(?! (?:for|as|in|aside))|left (?:on|in|as)|still (?:on|in|fitted|there|used)|re ?(?:fit|us|install|mont|mis|met|pos|coloc|uz)\w*|put(?! (?:in|into|to|aside))|fitted|installed|wieder|weiter|zuruck|noch|montiert|eingesetzt|drin|remonte\w*|monte\w*|(?:re)?pose\w*|mise?s?|de nouveau|(?:se )?volvi\w*|otra vez|de nuevo|(?:re)?coloc\w*|instalad\w*|puest[oa]s?|sigue|voltou|de volta|de novo|rimess\w*|rimont\w*|montat\w*|mess[oaie]|di nuovo|terug\w*|weer|geplaatst|gemonteerd|ponownie|znowu|zalozon\w*|zamontowan\w*|z powrotem)(?= |$)/u;
/** Why it was replaced, or where it went. */
const WENT =
  /(?:^| )(?:had|was|were|too|out|off|gone|fail\w*|expir\w*|worn|discard\w*|binn?(?:ed)?|thrown?|threw|dispos\w*|waste|trash\w*|destroy\w*|remov\w*|return\w*|sent|scrap\w*|due|overdue|lasted|held|(?:put|kept) (?:in|into|to|aside|for|as)|back to|do not use|don t use|entsorgt|ausgebaut|entfernt|weggeworfen|abgelaufen|war(?:en)?|raus|jete\w*|perim\w*|etait|enleve\w*|retire\w*|depose\w*|tirad\w*|desech\w*|caducad\w*|estaba\w*|retirad\w*|descart\w*|lixo|vencid\w*|estava\w*|buttat\w*|scadut\w*|gettat\w*|era|tolt\w*|weggegooid|verlopen|weggedaan|was|verwijderd|wyrzuc\w*|przetermin\w*|usuniet\w*|byl\w*|zdjet\w*)(?= |$)/u;

/** Something went back where it was. */
const UNDONE_AGAIN = whole(
  "(?:put|set|gone|went|switched|changed|swapped|fitted) (?:\\w+ )?back(?! (?:in|into) (?:use|service))|(?:taken|took) (?:\\w+ )?(?:out|off|away) again|removed again|left as (?:it|is|they)|wieder (?:raus|ausgebaut|entfernt)",
);

/** How a note stands to the old part: false where there is none, or it only says why and where it went. */
export function isOldAgain(
  phrase: string,
  { isOver, isNew }: { readonly isOver: boolean; readonly isNew: boolean },
): boolean {
  const said = phrase.replace(OLD_STOCK, "");
  if (!OLD.test(said) || isNew) return false;
  return PUT_BACK.test(said) || !(isOver || WENT.test(said));
}

/** Whether a note says that the row should not stand, that nobody is sure, or that the work is still to come or was less. */
export function isVoid(phrase: string): boolean {
  if ([VOID, DOUBTED, LESS, UNDONE_AGAIN].some((one) => one.test(phrase))) return true;
  if (TO_COME.test(phrase) && !ORDERED.test(phrase)) return true;
  return NOT.test(phrase) && !(NOT_USED.test(phrase) && OLD.test(phrase));
}

/** An inspection that was left undone, or a device that was not there; whatever else was not done to it is no matter. */
const NOT_MADE = whole(
  "(?:not|never|cannot|(?:did|was|were|could) ?n t) (?:\\w+ )?(?:inspect(?:ed)?|check(?:ed)?|done|made|carried out|see[n]?|looked(?: at)?|tested|possible|available|there|here|f(?:ou|i)nd|present|accessible|back|on|in(?! use)|at)",
  "(?:away|absent|unavailable|not there|elsewhere|locked away|on loan)|forg[eo]t(?:ten)?|no time|no (?:inspection|check|access)|(?:no )?staff (?:short|shortage)",
  "nicht (?:\\w+ )?(?:gepruft|kontrolliert|inspiziert|da|vorhanden|moglich|gefunden|auffindbar|auf|im|verfugbar|gemacht|durchgefuhrt)|abwesend|keine (?:prufung|kontrolle|zeit)|vergessen",
  "pas (?:ete |ete )?(?:inspecte|controle|verifie|fait|la|disponible|trouve|possible|vu|present)e?s?|absente?s?|oublie\\w*|pas de (?:controle|temps)",
  "no (?:se |fue |estaba |esta |ha sido )?(?:inspecciono|inspeccionad\\w*|revisad\\w*|reviso|hech\\w*|hizo|disponible|encontrad\\w*|estaba)|ausente|olvid\\w*|sin (?:revision|tiempo|inspeccion)",
  "nao (?:foi |estava )?(?:inspecionad\\w*|verificad\\w*|feit\\w*|disponivel|encontrad\\w*|estava)|esquec\\w*|sem (?:inspecao|tempo)",
  "non (?:e |era |stat[oa] )*(?:ispezionat\\w*|controllat\\w*|fatt\\w*|disponibile|trovat\\w*|presente|possibile|c era)|assente|dimentica\\w*",
  "niet (?:\\w+ )?(?:gecontroleerd|geinspecteerd|gedaan|aanwezig|beschikbaar|gevonden|mogelijk|op)|afwezig|vergeten|geen (?:controle|tijd)",
  "nie (?:\\w+ )?(?:skontrolowan\\w*|sprawdzon\\w*|wykonan\\w*|zrobion\\w*|bylo|dostepn\\w*|znalezion\\w*)|nieobecn\\w*|zapomnian\\w*|brak (?:kontroli|czasu)",
);

/** Whether a note beside an inspection says that it was not made. */
export function isNotMade(phrase: string): boolean {
  return NOT_MADE.test(phrase);
}

/** A day in it is of an order, of the last time or of the next, and not of the job. */
const OTHER_DAY = new RegExp(
  `(?:^| )(?:last|previous|before|next|since|due|exp\\w*|lot|batch|was|old|until|till|${OLD_WORD}|vorher|zuletzt|nachste\\w*|fallig|ablauf|dernier\\w*|prochaine?|avant|echeance|ultim\\w*|anterior\\w*|proxim\\w*|antes|vence|prossim\\w*|precedent\\w*|scad\\w*|vorige|laatste|volgende|ostatni\\w*|poprzedni\\w*|nastepn\\w*|termin)(?= |$)`,
  "u",
);

/** Whether days that a note names are of something else than the job. */
export function isOfOtherDay(phrase: string): boolean {
  return OTHER_DAY.test(phrase) || ORDERED.test(phrase);
}

/** Words that people write beside a replacement and that say nothing against it, besides those of the work; folded. */
const PLAIN =
  /^(?:part|lot|batch|box|routine\w*|rutin\w*|scheduled?|regular|planmassig\w*|as|per|plan|quarterly|monthly|months?|weeks?|days?|by|from|early|late|was|due|shelf|store|stock|spare|lager|exp|expiry|ref|no|nr|\d+\w*|[a-z]{1,3}\d*)$/u;

/** Whether a word says plainly nothing of the replacement beside it. */
export function isPlain(word: string): boolean {
  return PLAIN.test(word);
}
