import { ownTitles } from "../answers/titles.ts";
import { evidenceOf } from "../headings/column-profile.ts";
import { ANY_PART, fieldsFor } from "../headings/fields.ts";
import { holdsDates, matcherOf } from "../headings/match.ts";
import { namedParts } from "../headings/parts-named.ts";
import { COMMON, remarkReader } from "../headings/remark-text.ts";
import { knownWords, wordsOf } from "../headings/words.ts";
import { type WorkToken, workTokens } from "../headings/work-tokens.ts";
import type { WorkSense } from "../languages/language.ts";
import { answered } from "../languages/answers.ts";
import { fault, listed, notice } from "../records/problems.ts";
import type { Part, Problem } from "../records/records.ts";
import type { Settings } from "../records/settings.ts";
import type { Day } from "../../core/day.ts";
import { isBlank, type Page, quoted, textOf, trueDate } from "../workbook/cells.ts";
import type { Named } from "./devices.ts";
import type { Found } from "./register.ts";
import { remarkColumns } from "./remarks.ts";

/** Columns named in the sentence; the rest are counted. */
const NAMED = 8;
const LONGEST = 200;
const KNOWN = new Set(knownWords());

/** What a heading is about that no figure asks for: the thing itself, how it was bought, where it stands. */
const PLAIN = new Set([
  ...["serial", "model", "make", "number", "reference", "id", "site", "ward", "room", "owner"],
  ...[
    "purchased",
    "warranty",
    "price",
    "cost",
    "supplier",
    "vendor",
    "invoice",
    "order",
    "ordered",
  ],
  ...["quantity", "qty", "stock", "spare", "lot", "batch", "size", "colour", "color", "by"],
  ...["software", "firmware", "contract", "former", "old", "battery", "printer"],
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

interface Beside {
  readonly parts: readonly Part[];
  readonly settings: Pick<Settings, "reportDate" | "matches">;
  /** Columns of the register of which something is said already. */
  readonly told: ReadonlySet<number>;
}

/**
 * Columns of a register that are not used and speak of a part, of what is due or of damage, by their heading or in a
 * cell: whatever they say is in no list, and a heading in words of somebody's own may say that a part must go. Those in
 * which a day has passed, or a cell condemns or denies, are faults.
 */
export function unusedColumns(
  found: Found,
  named: readonly Named[],
  { parts, told, settings: { reportDate, matches } }: Beside,
): Problem[] {
  const { page, register } = found;
  const used = new Set([
    ...told,
    ...register.matches.map(({ column }) => column),
    ...remarkColumns(found, parts),
  ]);
  const isOwn = ownTitles(parts)(register.headings);
  const says = speakerOf(parts);
  // A person may have said that there is no limit of their own.
  const noLimits = [...matches].some(
    ([key, said]) => /^column (?:due|every):/.test(key) && said === "none",
  );
  const rows = named.filter(({ retired }) => !retired).map(({ row }) => row);
  const columns = register.headings.flatMap((heading, column): Unused[] => {
    if (heading === "" || used.has(column) || isOwn(heading) || says.plain(heading)) return [];
    if (noLimits && says.limit(heading)) return [];
    if (says.strange(heading) && holdsDates(evidenceIn(found, column))) return [];
    const filled = rows.filter((row) => !isBlank(page.sheet.values[row]?.[column] ?? null));
    const texts = [
      ...new Set(filled.map((row) => textOf(page.sheet.values[row]?.[column] ?? null))),
    ];
    const isOfPart = says.part(heading);
    const isUrgent =
      texts.some((text) => says.against(text, heading)) ||
      (says.due(heading) &&
        filled.some((row) => mayEnd({ page, row, column }, { reportDate, isOfPart })));
    const isTold = filled.length > 0 && (isUrgent || says.heading(heading));
    return isTold ? [{ heading, column, isUrgent }] : [];
  });
  const place = { sheet: register.sheet, row: null };
  return [true, false].flatMap((urgent) =>
    problemOf(
      columns.filter(({ isUrgent }) => isUrgent === urgent),
      { urgent, place },
    ),
  );
}

interface Cell {
  readonly page: Page;
  readonly row: number;
  readonly column: number;
}

/** A day that has passed, or, of a part, a number that may be its interval. */
function mayEnd(
  { page, row, column }: Cell,
  { reportDate, isOfPart }: { readonly reportDate: Day; readonly isOfPart: boolean },
): boolean {
  const date = trueDate(page, row, column);
  if (date !== null) return date <= reportDate;
  return isOfPart && typeof page.sheet.values[row]?.[column] === "number";
}

interface Unused {
  readonly heading: string;
  readonly column: number;
  readonly isUrgent: boolean;
}

const FIX =
  'Look there. A due date counts under the part\'s name and "next due", an interval under its name and "interval (months)", damage under its name and "finding".';

function problemOf(
  columns: readonly Unused[],
  { urgent, place }: { readonly urgent: boolean; readonly place: { sheet: string; row: null } },
): Problem[] {
  const [first] = columns;
  if (first === undefined) return [];
  const names = listed(
    columns.map(({ heading }) => quoted(heading)),
    NAMED,
  );
  const { heading, column } = first;
  const may = urgent
    ? "says that a part is due or no good"
    : "may say that a part is due or no good";
  const say = urgent ? fault : notice;
  return [
    say(
      "unused column",
      { ...place, heading, column },
      `Nothing is read from ${names}, which ${may}.`,
      FIX,
    ),
  ];
}

function evidenceIn({ page, register }: Found, column: number): ReturnType<typeof evidenceOf> {
  return evidenceOf(page, column, register.headerRow + 1, register.rows.at(-1) ?? 0);
}

interface Speaker {
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

function speakerOf(parts: readonly Part[]): Speaker {
  const matcher = matcherOf(fieldsFor(parts));
  const remarks = remarkReader(parts);
  const known = namedParts(parts, (words) => words.some((word) => !COMMON.has(word)));
  const names = new Set(known.flatMap((part) => part.names.flat()));
  const isName = (word: string): boolean => names.has(word) && !COMMON.has(word);
  const wordIn = (words: ReadonlySet<string>, text: string): boolean =>
    wordsOf(text, KNOWN).some((word) => words.has(word.text));
  const tokensOf = (text: string): readonly WorkToken[] => workTokens(text, isName);
  const has = (text: string, wanted: ReadonlySet<WorkSense>): boolean =>
    tokensOf(text).some(({ senses }) => senses.some((sense) => wanted.has(sense)));
  const namesPart = (text: string): boolean => tokensOf(text).some((one) => one.names.length > 0);
  const heading = (text: string): boolean =>
    wordIn(OF_DUE, text) || wordIn(OF_STATE, text) || namesPart(text) || has(text, SENSES);
  return {
    plain: (text) =>
      (wordIn(PLAIN, text) && !wordIn(OF_DUE, text)) ||
      (wordIn(OF_DEVICE, text) && !namesPart(text) && !wordIn(OF_DUE, text)),
    strange: (text) => matcher.covers(text, ANY_PART),
    heading,
    part: namesPart,
    limit: (text) => !namesPart(text) && (wordIn(OF_DUE, text) || wordIn(INTERVAL, text)),
    due: (text) =>
      wordIn(OF_DUE, text) || (namesPart(text) && (has(text, TO_COME) || !has(text, OVER))),
    against: (text, over) =>
      text.length <= LONGEST &&
      (remarks.says(text) === "against" ||
        (heading(over) && (answered(text) === has(over, NEEDS) || FAILED.test(text)))),
  };
}
