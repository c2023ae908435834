import { ANY_PART } from "../headings/fields.ts";
import { matcherFor } from "../headings/match.ts";
import { namesPart, partWords } from "../headings/part-words.ts";
import { remarkReader } from "../headings/remark-text.ts";
import { knownWords, wordsOf } from "../headings/words.ts";
import { answered } from "../languages/answers.ts";
import type { WorkSense } from "../languages/language.ts";
import type { Part } from "../records/records.ts";

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
const OF_DUE = new Set(["due", "next", "expires", "expiry", "overdue", "deadline", "limit"]);
const INTERVAL = new Set(["interval"]);
/** Words by which it may be no good, or was not done. */
const OF_STATE = new Set([
  ...["finding", "calibration", "replaced", "annual", "service", "check", "checked", "interval"],
  ...["done", "confirmed", "planned", "missing", "sure", "certain"],
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
  readonly part: (heading: string) => boolean;
  /** A limit of no part that is named. */
  readonly limit: (heading: string) => boolean;
  /** Whether days under a heading may be those by which a part must go. */
  readonly due: (heading: string) => boolean;
  /** Whether a cell condemns a part or its date, or denies what its heading asks. */
  readonly against: (text: string, heading: string) => boolean;
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
    wordIn(OF_DUE, text) || wordIn(OF_STATE, text) || part(text) || has(text, SENSES);
  return {
    plain: (text) =>
      (wordIn(PLAIN, text) && !wordIn(OF_DUE, text)) ||
      (wordIn(OF_DEVICE, text) && !part(text) && !wordIn(OF_DUE, text)),
    strange: (text) => matcher.covers(text, ANY_PART),
    heading,
    part,
    limit: (text) => !part(text) && (wordIn(OF_DUE, text) || wordIn(INTERVAL, text)),
    due: (text) => wordIn(OF_DUE, text) || (part(text) && (has(text, TO_COME) || !has(text, OVER))),
    against: (text, over) =>
      text.length <= LONGEST &&
      (remarks.says(text) === "against" ||
        (heading(over) && (answered(text) === has(over, NEEDS) || FAILED.test(text)))),
  };
}
