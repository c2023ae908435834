import { columnLetters } from "../workbook/snapshot.ts";
import { lastFilledRow, type Page, quoted } from "../workbook/cells.ts";
import { evidenceOf } from "./column-profile.ts";
import { whichDevice } from "./device-column.ts";
import { folded } from "../languages/words-of.ts";
import { monthNamed, readDateText } from "./dates.ts";
import { headingCandidates, type HeadingRows } from "./headings.ts";
import { ACCEPTED, type Matcher } from "./match.ts";
import { turnedShape } from "./other-shapes.ts";
import { listed } from "../records/problems.ts";

/** A known heading says more than one more column. */
const KNOWN = 3;
const SHOWN = 6;

interface Promising {
  readonly page: Page;
  readonly heading: HeadingRows;
  readonly score: number;
}

/** Finds what to say of sheets that have no register; the first list does without. */
export type FindsWayOut = typeof wayOut;

/** The row most like a register's headings, and how to say which column is the device; null without one. */
export function wayOut(pages: readonly Page[], matcher: Matcher): string | null {
  const turned = turnedShape(pages, matcher);
  if (turned !== null) return turned;
  const best = mostPromising(pages, matcher);
  const device = best === null ? null : whichDevice(best);
  if (best === null || device === null) return null;
  const { page, heading } = best;
  const beside = secondTable(heading);
  if (beside !== null) {
    return `the sheet ${page.sheet.name} has tables side by side, the headings of row ${heading.last + 1} again from column ${columnLetters(beside)}: npx sparespan new OUT.xlsx --from BOOK.xlsx makes a sheet with one below the other; or move the second below the first, or to a sheet of its own`;
  }
  const texts = heading.texts.filter((text) => text !== "").map(quoted);
  const known = knownDevice(best, matcher);
  if (known !== null && datesByMonth(best)) {
    return `the sheet ${page.sheet.name} has a column for each month with the days on which something was done: make a sheet with a row for each device and a column for each part, such as "Electrode set replaced", with the latest of its days; the first of the month where nobody knows the day`;
  }
  if (known !== null) {
    return known.distinct < ONE_ROW_EACH
      ? `the sheet ${page.sheet.name} has several rows for a device under ${quoted(known.text)}, as a log has: where each row is a replacement, npx sparespan new OUT.xlsx --from BOOK.xlsx --log makes a sheet with a row for each device, beside which the log counts; else make such a sheet, and confirm the log`
      : `the sheet ${page.sheet.name} has devices under ${quoted(known.text)}, but no other heading that is known among ${listed(texts, SHOWN)}: name one of them as Sparespan does, or give --match "FIELD=HEADING", such as "site=HEADING" or "last:SET=HEADING"`;
  }
  return `the most promising is row ${heading.last + 1} of the sheet ${page.sheet.name}, with ${listed(texts, SHOWN)}; ${device}`;
}

/** The sheet that promises most to be a register and has tables side by side; null where there is none. */
export function tablesBeside(
  pages: readonly Page[],
  matcher: Matcher,
): { readonly page: Page; readonly heading: HeadingRows } | null {
  const best = mostPromising(pages, matcher);
  return best === null || secondTable(best.heading) === null ? null : best;
}

/** The row of headings that promises most to be a register's. */
function mostPromising(pages: readonly Page[], matcher: Matcher): Promising | null {
  let best: Promising | null = null;
  for (const page of pages) {
    for (const heading of headingCandidates(page.sheet)) {
      const score = promiseOf(heading, page, matcher);
      if (score > (best?.score ?? 0)) best = { page, heading, score };
    }
  }
  return best;
}

/** A sheet with several rows for a device and no other known heading, and what heads its devices: a list of events. */
export function eventSheet(
  pages: readonly Page[],
  matcher: Matcher,
): { readonly sheet: string; readonly device: string } | null {
  const best = mostPromising(pages, matcher);
  const known = best === null ? null : knownDevice(best, matcher);
  const isList = best !== null && known !== null && known.distinct < ONE_ROW_EACH;
  return !isList || datesByMonth(best) ? null : { sheet: best.page.sheet.name, device: known.text };
}

/** From this share of different names on each row is a device of its own. */
const ONE_ROW_EACH = 0.8;

/** Headings that are months, from so many on a sheet has a column for each. */
const MONTHS = 3;

/** Whether months stand side by side as headings, with days below them. */
function datesByMonth({ page, heading }: Promising): boolean {
  const last = lastFilledRow(page.sheet);
  const isOfMonth = (text: string): boolean =>
    monthNamed(folded(text).replace(/\.$/, "")) !== undefined ||
    readDateText(text, "heading")?.kind === "month";
  const months = heading.texts.flatMap((text, column) => (isOfMonth(text) ? column : []));
  const dated = months.filter((column) => {
    const { filled, dates } = evidenceOf(page, column, heading.last + 1, last);
    return filled > 0 && dates >= 0.5;
  });
  return months.length >= MONTHS && dated.length >= MONTHS;
}

/** A heading that is known to be that of devices, and how many of its names are different; null without one. */
function knownDevice(
  { page, heading }: Promising,
  matcher: Matcher,
): { readonly text: string; readonly distinct: number } | null {
  const device = matcher.fields.find(({ key }) => key === "device");
  const column = heading.texts.findIndex(
    (text) => device !== undefined && matcher.likeness(text, device, null) >= ACCEPTED,
  );
  const text = heading.texts[column];
  if (text === undefined) return null;
  const last = lastFilledRow(page.sheet);
  return { text, distinct: evidenceOf(page, column, heading.last + 1, last).distinct };
}

/** Where the same headings begin anew in their row, two of them at least; null where they do not. */
function secondTable({ texts }: HeadingRows): number | null {
  const again = texts.flatMap((text, column) =>
    text !== "" && texts.indexOf(text) < column ? [column] : [],
  );
  return again.length < 2 ? null : (again[0] ?? null);
}

/** Two headings at least, with rows below; known ones count most. */
function promiseOf({ texts, last }: HeadingRows, page: Page, matcher: Matcher): number {
  const cells = page.sheet.values[last] ?? [];
  const written = texts.filter((text, column) => text !== "" && typeof cells[column] === "string");
  if (written.length < 2 || last >= lastFilledRow(page.sheet)) return 0;
  const known = written.filter((text) =>
    matcher.fields.some((field) => matcher.likeness(text, field, null) >= ACCEPTED),
  );
  return written.length + KNOWN * known.length;
}
