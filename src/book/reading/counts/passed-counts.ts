import { evidenceOf } from "../../headings/column-profile.ts";
import { headingCandidates, type HeadingRows } from "../../headings/headings.ts";
import { areWeeks, monthsIn } from "../../headings/months.ts";
import { knownWords, wordsOf } from "../../headings/words.ts";
import { fault, listed, notice, wholeSheet } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { partsOfMonths, tallies, WEEK } from "./tallies.ts";
import type { CountSheet } from "./count-sheets.ts";
import type { OtherCounts } from "./counts-found.ts";
import {
  identifierAt,
  isBlank,
  keyOf,
  lastFilledRow,
  type Page,
  quoted,
  textOf,
} from "../../workbook/cells.ts";

/** From so many months on, side by side or below each other, a sheet may be one of counts. */
const ENOUGH = 3;
const MOSTLY = 0.6;
const SAMPLE = 20;
const KNOWN = new Set(knownWords());

/**
 * Sheets with numbers by month or week that no device of the register stands beside, or few, in a book without other counts:
 * what they hold is in no figure, and nobody would miss it without a word.
 */
export function passedCounts(
  pages: readonly Page[],
  isDevice: (key: string) => boolean,
): Problem[] {
  const told = tallies(pages, isDevice);
  const rest = pages.filter(({ sheet }) => told.every((one) => one.sheet !== sheet.name));
  const passed = rest.flatMap((page) => {
    for (const heading of headingCandidates(page.sheet)) {
      const what = numbersBy(page, heading);
      if (what === null) continue;
      const isKnown = namesDevices(page, heading, isDevice);
      const { name } = page.sheet;
      const named = what === "week" ? [] : namesBeside(page, heading);
      const beside = named.length === 0 ? "" : `, beside ${listed(named.map(quoted))}`;
      const several = isKnown && what === "month" ? numbersIn(page, heading) : [];
      if (several.length > 1) return [severalNumbers(name, several)];
      const but = `, but names ${isKnown ? "few devices" : "no device"} of the register. They`;
      return [
        notice(
          "counts not read",
          wholeSheet(name),
          `${name} has numbers by ${what}${beside}${isKnown && what === "week" ? ": they" : but} are not used, so the shortest intervals apply.`,
          what === "week"
            ? "To have uses counted, add them up by month, with a row or a column for each device, named as on the register."
            : "To have uses counted, give each device a row or a column, named as on the register; births or sessions of whole sites go to Sites.",
        ),
      ];
    }
    return [];
  });
  return [...told, ...passed];
}

/** Sheets of devices and months whose numbers are not taken for uses. */
export function toldOfOthers(others: readonly OtherCounts[]): Problem[] {
  return others.map(({ sheet: { page, unclear, shape }, text }) => {
    const { name } = page.sheet;
    const told = (what: string): string =>
      `${name} has numbers by device and month, and ${what}: they are not used, so the shortest intervals apply.`;
    if (unclear === undefined) {
      const cause = told(`${quoted(text)} does not say plainly that they are all uses in a month`);
      const fix = `If they are, choose the sheet: --match "counts=${name}", or a row Counts in Setup.`;
      return notice("counts not read", wholeSheet(name), cause, fix);
    }
    const several = shape === "wide" ? "several columns of a month" : "several columns of numbers";
    const fix =
      shape === "wide"
        ? "Keep one column of uses for each month, with the month in its heading."
        : "Keep one column of numbers, with all uses; or add a column Total in which those that are parts are added up.";
    return fault(
      "counts in doubt",
      wholeSheet(name),
      told(`${several}, such as ${listed(unclear.map(quoted))}, do not say which holds the uses`),
      fix,
    );
  });
}

/** Numbers beside those that are counted, which are not needed. */
export function toldOfBeside(sheets: readonly CountSheet[]): Problem[] {
  return sheets.flatMap((sheet) => {
    const { beside = [], page, heading } = sheet;
    if (beside.length === 0 || sheet.shape === "wide") return [];
    const cause = `${quoted(heading.texts[sheet.count] ?? "")} is taken for all uses; ${listed(beside.map(quoted))} beside it ${beside.length === 1 ? "is" : "are"} not counted.`;
    const fix = "Nothing needs to be done if that column holds all uses of the device.";
    return [notice("counts not read", wholeSheet(page.sheet.name), cause, fix)];
  });
}

/** Headings beside the months that are counted which name more or less than a month. */
export function toldOfParts(sheets: readonly CountSheet[]): Problem[] {
  return sheets.flatMap(({ page, heading, shape }) => {
    const parts = shape === "wide" ? partsOfMonths(page, heading) : [];
    if (parts.length === 0) return [];
    const cause = `${listed(parts.map(quoted))} on ${page.sheet.name} are no whole single months, so what is below is not counted.`;
    const fix = "Give each month a column of its own, with its year.";
    return [fault("counts not read", wholeSheet(page.sheet.name), cause, fix)];
  });
}

/** What numbers of a sheet go by: months side by side, or months or weeks below each other. */
function numbersBy(page: Page, heading: HeadingRows): "month" | "week" | null {
  const last = lastFilledRow(page.sheet);
  const evidence = (column: number) => evidenceOf(page, column, heading.last + 1, last);
  const isNumbers = (column: number): boolean => {
    const { filled, numbers } = evidence(column);
    return filled >= 2 && numbers >= MOSTLY;
  };
  const months = monthsIn(page, heading);
  if (areWeeks(months.map(({ date }) => date))) return "week";
  if (months.length >= ENOUGH && months.every(({ column }) => isNumbers(column))) return "month";
  const weeks = heading.texts.flatMap((text, column) => (WEEK.test(text.trim()) ? column : []));
  if (weeks.length >= ENOUGH && weeks.every(isNumbers)) return "week";
  if (!heading.texts.some((_, column) => isNumbers(column))) return null;
  const times = heading.texts.findIndex((text) =>
    wordsOf(text, KNOWN).some((word) => word.text === "month" || word.text === "week"),
  );
  if (times < 0) return null;
  const isOfWeeks = wordsOf(heading.texts[times] ?? "", KNOWN).some(({ text }) => text === "week");
  if (evidence(times).dates >= MOSTLY && isOfWeeks) return "week";
  if (evidence(times).dates >= MOSTLY && evidence(times).filled >= ENOUGH) return "month";
  const below = page.sheet.values
    .slice(heading.last + 1)
    .map((cells) => textOf(cells[times] ?? null));
  return below.filter((text) => WEEK.test(text)).length >= ENOUGH ? "week" : null;
}

/** Headings of numbers, of a list whose months stand below each other. */
function numbersIn(page: Page, heading: HeadingRows): string[] {
  if (monthsIn(page, heading).length > 0) return [];
  const last = lastFilledRow(page.sheet);
  return heading.texts.filter((text, column) => {
    const { filled, numbers } = evidenceOf(page, column, heading.last + 1, last);
    return text !== "" && filled >= 2 && numbers >= MOSTLY;
  });
}

function severalNumbers(name: string, headings: readonly string[]): Problem {
  const cause = `${name} has numbers by device and month, and none of the columns ${listed(headings.map(quoted))} says that it holds all uses: they are not used, so the shortest intervals apply.`;
  const fix =
    "To have uses counted, add a column Uses in which those that are parts of them are added up.";
  return fault("counts not read", wholeSheet(name), cause, fix);
}

/** What stands below the first heading of texts: what the numbers are of. */
function namesBeside(page: Page, heading: HeadingRows): string[] {
  const last = lastFilledRow(page.sheet);
  const column = heading.texts.findIndex((_, at) => {
    const { filled, texts, numbers } = evidenceOf(page, at, heading.last + 1, last);
    return filled > 0 && (texts >= MOSTLY || (at === 0 && numbers >= MOSTLY));
  });
  if (column < 0) return [];
  const names = page.sheet.values
    .slice(heading.last + 1)
    .flatMap((cells) => (isBlank(cells[column] ?? null) ? [] : [textOf(cells[column] ?? null)]));
  return [...new Set(names)];
}

/** Whether one of the first rows below the heading names a device of the register. */
export function namesDevices(
  page: Page,
  heading: HeadingRows,
  isDevice: (key: string) => boolean,
): boolean {
  const last = Math.min(lastFilledRow(page.sheet), heading.last + SAMPLE);
  for (let row = heading.last + 1; row <= last; row += 1) {
    const cells = page.sheet.values[row] ?? [];
    const named = cells.some(
      (value, column) => !isBlank(value) && isDevice(keyOf(identifierAt(page, row, column))),
    );
    if (named) return true;
  }
  return false;
}
