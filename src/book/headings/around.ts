import { isBlank, type Page, textOf } from "../workbook/cells.ts";
import { fieldOfPart, isLastDone } from "../records/positions.ts";
import type { ColumnMatch } from "../records/records.ts";
import type { Evidence } from "./column-profile.ts";
import type { Field } from "./fields.ts";
import { type HeadingRows, parentTexts } from "./headings.ts";
import { ACCEPTED, type Matcher } from "./match.ts";
import { isOfOther, saysPast } from "./planned.ts";
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
}

/**
 * Whether what stands around a heading of dates says that they are other dates: "Next" in a row of headings below
 * "Electrodes", "Planned" above it; and, of a part's name alone, the title or the name of the sheet. A due date taken
 * for the last replacement would lengthen the interval.
 */
export function isTurnedAround(one: Understood): boolean {
  const { match, matcher, evidence } = one;
  if (!isLastDone(match.field) || match.by !== "heading") return false;
  const field = matcher.fields.find(({ key }) => key === fieldOfPart(match.field));
  if (field === undefined) return false;
  return (
    turns(textOver(one)) ||
    isOtherWith(one, field, evidence) ||
    (isNameAlone(match.heading) &&
      titlesOf(one.page, one.heading).some((title) => turns(title) || isOfOther(title)))
  );
}

const KNOWN = new Set(knownWords());
const SAYS_DONE = new Set(["replaced", "installed", "last", "done"]);

/** Whether a heading names a part and does not say that anything was done to it. */
export function isNameAlone(heading: string): boolean {
  return !saysPast(heading) && !wordsOf(heading, KNOWN).some(({ text }) => SAYS_DONE.has(text));
}

function turns(text: string): boolean {
  return wordsOf(text, KNOWN).some(({ turning, slip }) => turning && !slip);
}

/** The text in the row above the headings that stands over the column. */
function textOver({ page, heading, match, device }: Understood): string {
  const above = heading.first - 1;
  const own = textOf(page.sheet.values[above]?.[match.column] ?? null);
  if (above < 0 || own !== "") return own;
  // A title alone in its row speaks of the sheet, unless it is merged over some of the columns.
  const parents = parentTexts(page.sheet, above, heading.texts);
  const isBanner = !isTitleRow(page, above) || (parents[device] ?? "") === "";
  return isBanner ? (parents[match.column] ?? "") : "";
}

/** Whether a second row of headings, which names no device, makes the heading say something else. */
function isOtherWith(
  { page, heading, match, matcher, device }: Understood,
  field: Field,
  evidence: Evidence | null,
): boolean {
  const cells = page.sheet.values[heading.last + 1] ?? [];
  const filled = cells.filter((value) => !isBlank(value));
  if (!isBlank(cells[device] ?? null) || !filled.every((value) => typeof value === "string")) {
    return false;
  }
  const child = cells[match.column] ?? null;
  if (typeof child !== "string" || isBlank(child) || wordsOf(child, KNOWN).length === 0) {
    return false;
  }
  return matcher.likeness(`${match.heading} ${child}`, field, evidence) < ACCEPTED;
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
