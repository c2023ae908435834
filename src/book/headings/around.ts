import { isBlank, keyOf, type Page, textOf } from "../workbook/cells.ts";
import { fieldOfPart, isLastDone } from "../records/positions.ts";
import type { ColumnMatch } from "../records/records.ts";
import type { Evidence } from "./column-profile.ts";
import type { Field } from "./fields.ts";
import { type HeadingRows, parentTexts } from "./headings.ts";
import { ACCEPTED, type Matcher } from "./match.ts";
import { isOfOther, isOfOtherWork, isOpenHeading, saysPast } from "./planned.ts";
import { knownWords, wordsOf } from "./words.ts";

/** A heading that was understood, and what it was understood from. */
interface Understood {
  readonly page: Page;
  readonly heading: HeadingRows;
  readonly matcher: Matcher;
  readonly match: ColumnMatch;
  readonly evidence: Evidence | null;
  /** Column of the devices. */
  readonly device: number;
  /** Columns of dates of parts. */
  readonly dated: readonly number[];
}

/**
 * What stands around a heading of dates and says that they are other dates, null where nothing does: "Next" in a row
 * of headings below "Electrodes", "Planned" above it; and, of a part's name alone, "Last seen" above it, in the title
 * or as the name of the sheet. A due date taken for the last replacement would lengthen the interval.
 */
export function turnedBy(one: Understood): string | null {
  const { match, matcher, evidence } = one;
  if (!isLastDone(match.field) || match.by !== "heading") return null;
  const field = matcher.fields.find(({ key }) => key === fieldOfPart(match.field));
  if (field === undefined) return null;
  const over = textOver(one);
  if (turns(over.text)) return over.text;
  const child = otherBelow(one, field, evidence);
  if (child !== null || !isNameAlone(match.heading)) return child;
  // "Last check" says of a dated task that it was done.
  const isWorn = field.dated.length > 0;
  if (isWorn && over.isOwn && isOpenHeading(over.text, KNOWN) && !isSaidBelow(one, over.text)) {
    return over.text;
  }
  const isOther = (title: string): boolean =>
    isWorn ? isOfOtherWork(title, KNOWN) : isOfOther(title);
  const titles = [...(isWorn ? [over.text] : []), ...titlesOf(one.page, one.heading)];
  return titles.find((title) => turns(title) || isOther(title)) ?? null;
}

const KNOWN = new Set(knownWords());
const SAYS_DONE = new Set(["replaced", "installed", "last", "done"]);

/** Whether a heading names a part and does not say that anything was done to it. */
export function isNameAlone(heading: string): boolean {
  return !saysPast(heading) && !wordsOf(heading, KNOWN).some(({ text }) => SAYS_DONE.has(text));
}

/** "Newborn hearing programme": who keeps the list, where French "programmé" is what is planned. */
const PROGRAMME = /(?<=\S\s+\S+\s+)programmes?\b/giu;

function turns(text: string): boolean {
  return wordsOf(text.replace(PROGRAMME, ""), KNOWN).some(({ turning, slip }) => turning && !slip);
}

/** The text in the row above the headings that stands over the column, and whether it begins over dates of parts. */
function textOver({ page, heading, match, device, dated }: Understood): Over {
  const above = heading.first - 1;
  const cells = page.sheet.values[above] ?? [];
  const own = textOf(cells[match.column] ?? null);
  if (above < 0 || own !== "") return { text: own, isOwn: true };
  // A title alone in its row speaks of the sheet, unless it is merged over some of the columns.
  const parents = parentTexts(page.sheet, above, heading.texts);
  const isBanner = !isTitleRow(page, above) || (parents[device] ?? "") === "";
  const text = isBanner ? (parents[match.column] ?? "") : "";
  let start = match.column;
  while (start > 0 && isBlank(cells[start] ?? null)) start -= 1;
  return { text, isOwn: dated.includes(start) };
}

interface Over {
  readonly text: string;
  readonly isOwn: boolean;
}

/** Whether a text above is one of the cells below, as a site is. */
function isSaidBelow({ page, heading }: Understood, text: string): boolean {
  return page.sheet.values
    .slice(heading.last + 1)
    .some((cells) => cells.some((value) => keyOf(textOf(value)) === keyOf(text)));
}

/** What a second row of headings, which names no device, says, where it makes the heading say something else. */
function otherBelow(
  { page, heading, match, matcher, device }: Understood,
  field: Field,
  evidence: Evidence | null,
): string | null {
  const cells = page.sheet.values[heading.last + 1] ?? [];
  const filled = cells.filter((value) => !isBlank(value));
  if (!isBlank(cells[device] ?? null) || !filled.every((value) => typeof value === "string")) {
    return null;
  }
  const child = cells[match.column] ?? null;
  if (typeof child !== "string" || isBlank(child) || wordsOf(child, KNOWN).length === 0) {
    return null;
  }
  return matcher.likeness(`${match.heading} ${child}`, field, evidence) < ACCEPTED ? child : null;
}

/** The sheet's name, and the texts alone in a row above the headings. */
export function titlesOf(page: Page, heading: HeadingRows): string[] {
  const titles = page.sheet.values
    .slice(0, heading.first)
    .flatMap((cells, row) =>
      isTitleRow(page, row) ? [textOf(cells.find((value) => !isBlank(value)) ?? null)] : [],
    );
  return [page.sheet.name, ...titles];
}

function isTitleRow({ sheet }: Page, row: number): boolean {
  const filled = (sheet.values[row] ?? []).filter((value) => !isBlank(value));
  return filled.length === 1 && typeof filled[0] === "string";
}
