import { evidenceOf } from "../../headings/column-profile.ts";
import { matcherFor, saysLastReplaced, showsDates } from "../../headings/match.ts";
import { isOfOther, saysPlanned } from "../../headings/planned.ts";
import { wordsOf } from "../../headings/words.ts";
import { deviceKey } from "../../records/device-key.ts";
import { allLastColumns } from "../../records/positions.ts";
import { listed } from "../../records/problems.ts";
import type { Part, Register } from "../../records/records.ts";
import type { RegisterReading } from "../../records/registers.ts";
import { identifierAt, lastFilledRow, type Page, pageNamed } from "../../workbook/cells.ts";
import type { Snapshot } from "../../workbook/snapshot.ts";
import { namesParts, type PartRow } from "../rows/part-rows.ts";
import { isCopy, namesEachOnce } from "./register-alike.ts";
import type { Matching } from "./register-sheet.ts";
import type { Search } from "./register.ts";

/** A column of a sheet whose dates are the last replacements of a part. */
interface PartColumn {
  readonly part: Part;
  readonly column: number;
}

/** What the headings of a sheet were taken for. */
type Headed = Pick<Register, "headerRow" | "headings" | "matches">;

/** The columns of parts of a sheet by its headings; where none says one, its only dates by the sheet's own name. */
function partColumns(page: Page, headed: Headed, parts: readonly Part[]): PartColumn[] {
  const found = parts.flatMap((part) =>
    allLastColumns(headed, part).map(({ column }) => ({ part, column })),
  );
  if (found.length > 0) return found;
  const part = namesParts(matcherFor(parts), parts)(page.sheet.name);
  if (part === null) return [];
  const { headerRow, headings, matches } = headed;
  const used = new Set(matches.map(({ column }) => column));
  const last = lastFilledRow(page.sheet);
  const dated = headings.flatMap((heading, column) => {
    const isOther =
      heading === "" || saysPlanned(heading) || isOfOther(heading) || isTurned(heading);
    if (isOther || used.has(column)) return [];
    const evidence = evidenceOf(page, column, headerRow + 1, last);
    return showsDates(evidence) ? { column, heading, evidence } : [];
  });
  const says = dated.filter((one) => saysLastReplaced(matcherFor(parts), one));
  const [only, ...more] = says.length > 0 ? says : dated;
  return only === undefined || more.length > 0 ? [] : [{ part, column: only.column }];
}

/** Whether a word of a heading makes it another thing, as "next" does. */
function isTurned(heading: string): boolean {
  return wordsOf(heading, new Set()).some(({ turning }) => turning);
}

/**
 * Sheets of the same devices, each with dates of other parts, as of "Electrodes" and "Ear cushions": read as registers each
 * device would be in several rows. Empty where one sheet has all.
 */
export function partSheets({ picked, others }: Search, parts: readonly Part[]): string[] {
  const [main] = picked;
  if (main === undefined || picked.length > 1) return [];
  const codesOf = ({ page, heading, matches }: Matching): string[] => {
    const headed = { headerRow: heading.last, headings: heading.texts, matches };
    return partColumns(page, headed, parts).map(({ part }) => part.code);
  };
  const known = new Set(codesOf(main.found));
  if (known.size === 0) return [];
  const more = others.filter((one) => {
    if (!namesEachOnce(one.found) || !isCopy(one, picked)) return false;
    const fresh = codesOf(one.found).filter((code) => !known.has(code));
    for (const code of fresh) known.add(code);
    return fresh.length > 0;
  });
  return more.length === 0 ? [] : [main, ...more].map(({ found }) => found.page.sheet.name);
}

/** How sheets of parts become one register. */
export function makesOne(sheets: readonly string[]): string {
  return `npx sparespan new OUT.xlsx --from BOOK.xlsx makes a register of ${listed(sheets)}, with a row for each device and a column for each part`;
}

/** The rows of a sheet of devices for each part it has dates of. */
export function rowsOfParts(
  snapshot: Snapshot,
  { register, ours: { parts } }: RegisterReading,
): readonly { readonly rows: readonly PartRow[]; readonly dates: number }[] {
  const page = pageNamed(snapshot, register.sheet);
  const device = register.matches.find(({ field }) => field === "device")?.column;
  if (page === null || device === undefined) return [];
  return partColumns(page, register, parts).map(({ part, column }) => ({
    dates: column,
    rows: register.rows.flatMap((row): PartRow[] => {
      const id = identifierAt(page, row, device);
      return deviceKey(id) === ""
        ? []
        : [{ row, device: id, part, said: part.name, isNamed: true }];
    }),
  }));
}
