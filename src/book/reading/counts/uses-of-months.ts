import type { HeadingRows } from "../../headings/headings.ts";
import type { MonthColumn } from "../../headings/months.ts";
import { mayBePart, saysOf } from "../../headings/other-counts.ts";
import { isBlank, type Page, textOf } from "../../workbook/cells.ts";

interface Base {
  readonly page: Page;
  readonly heading: HeadingRows;
}

/** The columns of months that hold uses, and what their headings say. */
interface UsesOfMonths extends Pick<Base, "heading"> {
  readonly months: readonly MonthColumn[];
  readonly over: readonly string[];
  readonly unclear?: readonly string[];
}

const nobody = (): boolean => false;
/** Births are fewer than the tests they take, so they count only where nothing better is known. */
const isUses = (text: string): boolean => saysOf(text, nobody) === "uses" && !/birth/i.test(text);

const isPart = (text: string): boolean => mayBePart(text) && !/birth/i.test(text);

/**
 * Months over several columns, such as "Refer | Births | Screened" in a second row of headings: of each month the column
 * that says uses. Where no column or more than one of a month says so, it is not clear which holds them.
 */
export function usesOfMonths(
  { page, heading }: Base,
  device: number,
  months: readonly MonthColumn[],
): UsesOfMonths {
  const below = textsBelow(page, heading, device);
  if (below === null) return { heading, months, over: [] };
  const columns = [...months].sort((one, other) => one.column - other.column);
  const groups = columns.map((month, at) => {
    const end = columns[at + 1]?.column ?? below.length;
    return below.flatMap((text, column) =>
      column >= month.column && column < end && text !== "" ? { ...month, column } : [],
    );
  });
  const textOver = ({ column }: MonthColumn): string => below[column] ?? "";
  const uses = groups.map((group) => group.filter((month) => isUses(textOver(month))));
  // A part beside the uses, such as repeat tests, may be what they lack.
  const isWhole = groups.every((group, at) =>
    group.every((month) => uses[at]?.includes(month) === true || !isPart(textOver(month))),
  );
  const found = [groups, isWhole ? uses : []]
    .find((all) => all.length > 0 && all.every(({ length }) => length === 1))
    ?.flat();
  return {
    heading: { ...heading, last: heading.last + 1 },
    months: found ?? columns,
    over: [...new Set(found?.map(textOver))],
    ...(found === undefined ? { unclear: (groups[0] ?? []).map(textOver) } : {}),
  };
}

/** The texts of a second row of headings, which names no device; null without one. */
function textsBelow({ sheet }: Page, { last }: HeadingRows, device: number): string[] | null {
  const cells = sheet.values[last + 1] ?? [];
  const filled = cells.filter((value) => !isBlank(value));
  const isHeading = filled.length > 1 && filled.every((value) => typeof value === "string");
  return isHeading && isBlank(cells[device] ?? null) ? cells.map(textOf) : null;
}
