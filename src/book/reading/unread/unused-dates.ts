// Columns of dates that nothing is read from.
import { turnedBy } from "../../headings/around.ts";
import { type Evidence, evidenceOf } from "../../headings/column-profile.ts";
import { partNames } from "../../headings/fields.ts";
import { ACCEPTED, holdsDates, isBare, matcherFor } from "../../headings/match.ts";
import { isOfOther, saysPlanned } from "../../headings/planned.ts";
import { knownWords, wordsOf } from "../../headings/words.ts";
import { folded } from "../../languages/words-of.ts";
import { ownTitles } from "../../answers/titles.ts";
import { isLastDone } from "../../records/positions.ts";
import type { ColumnMatch, Part, Register } from "../../records/records.ts";
import type { RegisterReading } from "../../records/registers.ts";
import { type Page, pagesOf, trueDate } from "../../workbook/cells.ts";
import type { Snapshot } from "../../workbook/snapshot.ts";
import type { Headed } from "./history-columns.ts";

const KNOWN = new Set(knownWords());
/** Dates below a heading whose words do not say that the part was replaced. */
const FEWEST = 3;

/** A column of dates that nothing is read from. */
export interface Unused extends Headed {
  /** Whether it names the part. */
  readonly named: boolean;
  /** Whether it says that the part was replaced, whatever else it says. */
  readonly says: boolean;
  /** Its numbers have no format of dates, and may be numbers of something. */
  readonly bare: boolean;
}

/** Words of columns that say when a thing was paid or came, or number it; common practice, no source. */
const CAME = /\b(?:ship|invoic|guarant|paid|paym|arriv|ordering)/iu;
/** When a line was written, printed or ordered, in folded words of eight languages: no day of any work on a part. */
const WRITTEN =
  /(?<!\p{L})(?:time ?stamp|created|modified|printed|submitted|work order|last wo(?!\p{L})|zeitstempel|erstellt|gedruckt|horodat|cree|imprime|marca (?:temporal|de tiempo)|fecha de envio|creado|modificado|impreso|informazioni cronologiche|creato|stampato|carimbo|criado|impresso|tijdstempel|aangemaakt|afgedrukt|sygnatura czas|znacznik czasu|utworzono|wydrukowano)/u;
const NUMBERS_IT = new Set(["serial", "number", "reference", "code"]);

/** A heading taken for the part's last replacement. */
function asLast({ code }: Part, { column, heading }: Headed): ColumnMatch {
  return { field: `last:${code}`, column, heading, confidence: 0, by: "heading" };
}

/** The columns that may be dates of parts, by their headings and cells, and what each says of the part. */
function turnedIn(page: Page, register: Register, parts: readonly Part[]) {
  const matcher = matcherFor(parts);
  const last = register.rows.at(-1) ?? 0;
  const lasts = matcher.fields.filter(({ key }) => isLastDone(key));
  const evidence = register.headings.map((_, column) =>
    evidenceOf(page, column, register.headerRow + 1, last),
  );
  const dated = register.headings.flatMap((heading, column) => {
    const of = evidence[column] ?? null;
    return lasts.some((one) => matcher.likeness(heading, one, of) >= ACCEPTED) ? [column] : [];
  });
  const device = register.matches.find((match) => match.field === "device")?.column ?? 0;
  const { headerRow, headings } = register;
  const heading = { first: headerRow, last: headerRow, texts: headings };
  return (part: Part, one: Headed): string | null =>
    turnedBy({
      ...{ page, heading, matcher, device, dated, match: asLast(part, one) },
      evidence: evidence[one.column] ?? null,
    });
}

/** Headings of dates that name a part, beside what stands around them and is of something else than its replacement. */
export function turnedDates(
  snapshot: Snapshot,
  { register, ours }: RegisterReading,
  part: Part,
): { readonly heading: string; readonly by: string }[] {
  const page = pagesOf(snapshot).find(({ sheet }) => sheet.name === register.sheet);
  const { fields, likeness } = matcherFor(ours.parts);
  const field = fields.find(({ key }) => key === `last:${part.code}`);
  if (page === undefined || field === undefined) return [];
  const turned = turnedIn(page, register, ours.parts);
  return register.headings.flatMap((heading, column) => {
    const evidence = evidenceOf(page, column, register.headerRow + 1, register.rows.at(-1) ?? 0);
    if (likeness(heading, field, evidence) < ACCEPTED) return [];
    const by = turned(part, { heading, column });
    return by === null ? [] : [{ heading, by }];
  });
}

function isOfElse(heading: string): boolean {
  const isLine = CAME.test(heading) || WRITTEN.test(folded(heading).replaceAll("_", " "));
  return isLine || isOfOther(heading) || saysPlanned(heading);
}

/** The columns of dates that are not used and may hold the part's last replacement, the nearest heading first. */
export function unusedDates(
  snapshot: Snapshot,
  { register, ours, problems }: RegisterReading,
  part: Part,
): Unused[] {
  const page = pagesOf(snapshot).find(({ sheet }) => sheet.name === register.sheet);
  const last = register.rows.at(-1);
  if (page === undefined || last === undefined) return [];
  const matcher = matcherFor(ours.parts);
  const field = matcher.fields.find(({ key }) => key === `last:${part.code}`);
  const others = matcher.fields.filter((one) => one !== field && one.holds === "date");
  const used = new Set(register.matches.map(({ column }) => column));
  // What may be due dates is no last replacement.
  const told = problems.filter(
    ({ kind, sheet, severity }) =>
      kind === "unused column" && severity === "fault" && sheet === register.sheet,
  );
  const isOwn = ownTitles(ours.parts)(register.headings);
  const names = new Set(
    partNames(part, ours.parts).flatMap((name) => wordsOf(name, KNOWN).map(({ text }) => text)),
  );
  const turned = turnedIn(page, register, ours.parts);
  // What is still to come was not done.
  const isToCome = (column: number, evidence: Evidence): boolean => {
    if (told.some((one) => one.column === column) && !isBare(evidence)) return true;
    if (!part.task) return false;
    const dates = register.rows.flatMap((row) => trueDate(page, row, column) ?? []);
    const ahead = dates.filter((date) => date > ours.settings.reportDate);
    return ahead.length * 2 > dates.length;
  };
  const unused = register.headings.flatMap((heading, column) => {
    if (heading === "" || used.has(column) || isOwn(heading)) return [];
    // "Next calibration" and such hold dates of something else, and so does the day a thing was bought.
    const words = wordsOf(heading, KNOWN);
    const says = field !== undefined && matcher.covers(heading, field);
    if (words.some(({ turning, text }) => (turning && !says) || NUMBERS_IT.has(text))) return [];
    if (isOfElse(heading)) return [];
    const evidence = evidenceOf(page, column, register.headerRow + 1, last);
    // What a dated task has may be one date; of a part that wears a few dates prove nothing where words do not.
    const fewest = part.task || says ? 1 : FEWEST;
    if (evidence.filled < fewest || !holdsDates(evidence) || isToCome(column, evidence)) return [];
    if (turned(part, { column, heading }) !== null) return [];
    const near = field === undefined ? 0 : matcher.likeness(heading, field, evidence);
    const isOther = others.some((one) => matcher.likeness(heading, one, evidence) > near);
    if (isOther) return [];
    const named = words.some(({ text }) => names.has(text));
    return [{ heading, column, near, named, says, bare: isBare(evidence) }];
  });
  return unused.sort((one, other) => other.near - one.near);
}
