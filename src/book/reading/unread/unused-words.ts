import { asksIfGood } from "../../headings/if-good.ts";
import { ANY_PART } from "../../headings/fields.ts";
import { matcherFor } from "../../headings/match.ts";
import { namesPart, partWords } from "../../headings/part-words.ts";
import { mustGo } from "../../headings/job-text.ts";
import { remarkReader } from "../../headings/remark-text.ts";
import { knownWords, wordsOf } from "../../headings/words.ts";
import { answered, ticked } from "../../languages/answers.ts";
import type { WorkSense } from "../../languages/language.ts";
import { folded, phraseOf } from "../../languages/words-of.ts";
import type { Part } from "../../records/records.ts";

const LONGEST = 200;
const KNOWN = new Set(knownWords());

/** What a heading is about that no figure asks for: the thing itself, how it was bought, where it stands. */
const PLAIN = new Set([
  ...["serial", "model", "make", "number", "reference", "id", "site", "ward", "room", "owner"],
  ...["purchased", "warranty", "price", "cost", "supplier", "vendor", "invoice", "order"],
  ...["ordered", "quantity", "qty", "stock", "spare", "lot", "batch", "size", "colour", "color"],
  ...["by", "software", "firmware", "contract", "former", "old", "battery", "printer"],
]);
/** The same where no part is named. */
const OF_DEVICE = new Set([
  ...["commissioned", "installed", "deployed", "since", "years", "age", "uses", "service"],
]);
/** Words of a heading by which a part may have to go. */
const OF_DUE = new Set([
  ...["due", "next", "expires", "expiry", "overdue", "deadline", "limit", "review"],
]);
const INTERVAL = new Set(["interval", "every", "frequency", "life", "cycle"]);
const UNITS = new Set(["days", "week", "month", "year", "years"]);
/** Headings under which a sign or a colour calls somebody; common practice, no source. */
const OF_CALLS =
  /(?:^| )(?:rag|flags?|alerts?|alarms?|actions?|to do|todo|traffic lights?|ampel|warnung|feu|alerte|semaforo|alerta|sinal|allerta|stoplicht|alarme?|uwaga)(?: |$)/u;
/** Signs that all is well. */
const WELL = /^(?:|[-–—0]|ok|okay|g|green|good|fine|none|n\/?a|grun|vert|verde|groen|zielony)$/u;
/** Words by which it may be no good, or was not done. */
const OF_STATE = new Set([
  ...["finding", "calibration", "replaced", "annual", "service", "check", "checked"],
  ...["done", "confirmed", "planned", "missing", "sure", "certain", ...INTERVAL],
]);
const SENSES: ReadonlySet<WorkSense> = new Set<WorkSense>([
  ...(["damaged", "inspected", "clean", "nothing", "replaced", "new", "maybe"] as const),
]);

/** What is still to come, and what was done. */
const TO_COME: ReadonlySet<WorkSense> = new Set<WorkSense>(["later", "maybe"]);
const OVER: ReadonlySet<WorkSense> = new Set<WorkSense>(["replaced", "inspected", "nothing"]);
/** What a yes to is bad; to anything else a no is. */
const NEEDS: ReadonlySet<WorkSense> = new Set<WorkSense>(["later", "maybe", "damaged", "no"]);
const FAILED = /^(?:fail|failed|not ok|not passed|nok|n\.?i\.?o\.?)$/iu;

/** What the words of a column that is not used say. */
export interface UnusedReader {
  readonly plain: (heading: string) => boolean;
  /** Dates that say something was replaced are told for themselves (strange-parts.ts). */
  readonly strange: (heading: string) => boolean;
  readonly heading: (heading: string) => boolean;
  /** What is answered below it is heard with the remarks. */
  readonly asked: (heading: string) => boolean;
  readonly part: (heading: string) => boolean;
  /** A limit of no part that is named. */
  readonly limit: (heading: string) => boolean;
  /** Whether days under a heading may be those by which a part must go. */
  readonly due: (heading: string) => boolean;
  /** Whether a text is a time after which a part must go: a number with a unit, or any under the heading of one. */
  readonly every: (text: string, heading: string) => boolean;
  /** Whether a cell condemns a part or its date, or denies what its heading asks. */
  readonly against: (text: string, heading: string) => boolean;
}

/** Whether a sign under a heading of calls calls nobody. */
function isWell(text: string): boolean {
  return WELL.test(folded(text)) || answered(text) === false;
}

/** A reader of such columns, for these parts. */
export function unusedReader(parts: readonly Part[]): UnusedReader {
  const matcher = matcherFor(parts);
  const remarks = remarkReader(parts);
  const { tokensOf } = partWords(parts);
  const wordIn = (words: ReadonlySet<string>, text: string): boolean =>
    wordsOf(text, KNOWN).some((word) => words.has(word.text));
  const has = (text: string, wanted: ReadonlySet<WorkSense>): boolean =>
    tokensOf(text).some(({ senses }) => senses.some((sense) => wanted.has(sense)));
  const part = (text: string): boolean => namesPart(tokensOf(text));
  const heading = (text: string): boolean =>
    wordIn(OF_DUE, text) ||
    wordIn(OF_STATE, text) ||
    part(text) ||
    mustGo(text) ||
    has(text, SENSES);
  const needs = (over: string): boolean =>
    !asksIfGood(over) && (wordIn(OF_DUE, over) || mustGo(over) || has(over, NEEDS));
  return {
    plain: (text) =>
      (wordIn(PLAIN, text) && !wordIn(OF_DUE, text)) ||
      (wordIn(OF_DEVICE, text) && !part(text) && !wordIn(OF_DUE, text)),
    strange: (text) => matcher.covers(text, ANY_PART),
    heading,
    asked: (text) => remarks.asks(text) !== null,
    part,
    limit: (text) => !part(text) && (wordIn(OF_DUE, text) || wordIn(INTERVAL, text)),
    due: (text) =>
      wordIn(OF_DUE, text) ||
      mustGo(text) ||
      (part(text) && (has(text, TO_COME) || !has(text, OVER))),
    every: (text, over) =>
      /^\D{0,12}\d/u.test(text) && (wordIn(UNITS, text) || wordIn(INTERVAL, over)),
    against: (text, over) =>
      text.length <= LONGEST &&
      (remarks.says(text) === "against" ||
        (OF_CALLS.test(phraseOf(over)) && !isWell(text)) ||
        (heading(over) && (ticked(text) === needs(over) || FAILED.test(text)))),
  };
}
