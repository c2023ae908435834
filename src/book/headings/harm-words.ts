/**
 * What a part has done to somebody's skin, in the eight languages: it must go, as a torn one. Stems stand within
 * longer words ("Hautrötung"), in folded phrases.
 */

const SKIN = "(?:skin|haut|peau|piel|pelle|pele|huid|skor[aye])";
const RED = "(?:red|rot|rote[nrs]?|rouges?|roj[oa]s?|ross[oaie]|vermelh[oa]s?|rode?|czerwon\\w+)";
const STAYS =
  "(?:stay|remain|left(?! side)|behind|(?:on|sur|en|sulla|na) (?:\\w+ )?(?:skin|peau|piel|pelle|pele|skor|bab|forehead|head)|bleib|rest[ea]|qued|rimane|fic(?:a|ou)|blij|zosta)\\w*";
const MARK = "(?:marks?|marques?|marcas?|segn[oi]|slady?)";

/** Words that begin so, and words that contain so. */
const BEGINS =
  "blase[nr]?|blaschen|sores?|soreness|wounds?|wund(?:e[nr]?)?|bled|hurts?|injur|verletz|blesse|blessure|lesion|lesao|letsel|obrazen|plaies?|herid[oa]|ferit[aeo]|ferid[ao]|llagas?|wondje|wonde?n?|skaleczen|sangr|sanguin|krwaw|chafe|chafing|bruis";
const CONTAINS =
  "irrit|reizung|gereizt|redness|redden|rotung|gerotet|rougeur|rougi|enrojec|arross|vermelhid|roodheid|zaczerw|podrazn|blister|brandblase|cloque|ampoll|vescic|bolhas?(?= |$)|blaar|blaren|pecherz|verbrenn|verbrann|brulure|quemad|ustion|bruciat|queimad|brandwond|brandplek|oparz|bleed|blutet|blutung|blutig|saign|bloedt|bloeding|ausschlag|eruption|erupc|eruzion|sarpull|huiduitslag|wysypk|eczema|ekzem|dermatit|allerg|alerg|cutane|hautreakt|huidreact|skorna|abdruck|druckstell|afdruk|odcisk";

const HARM = new RegExp(
  `(?<= |^)(?:${RED} (?:\\w+ )?${SKIN}|${SKIN} (?:\\w+ ){0,2}${RED}|${MARK} (?:\\w+ )?${STAYS}|lea?(?:ft|ves?|ving)(?: \\w+){0,2} marks?|(?:${BEGINS})\\w*|\\w*(?:${CONTAINS})\\w*)(?= |$)`,
  "gu",
);

/** A folded phrase with whatever it says of harm to the skin as the one word that lists of damage know. */
export function withHarm(phrase: string): string {
  return phrase.replace(HARM, "rash");
}
