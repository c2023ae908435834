import {
  isEmpty,
  saidInText,
  SEPARATORS,
  separated,
  separatorOf,
} from "../book/lists/separated.ts";
import { UsageError } from "./io.ts";

/** A record of a CSV: its cells by heading, and the line it begins on. */
export interface CsvRecord {
  readonly line: number;
  readonly cells: Readonly<Record<string, string>>;
}

/** The records of a list with a heading line, whatever separates its cells. */
export function csvRecords(text: string): CsvRecord[] {
  const said = saidInText(text);
  const separator = said?.separator ?? SEPARATORS[separatorOf(text) ?? "comma"];
  const { rows, faults } = separated(said?.below ?? text, separator);
  if (faults.length > 0) throw new UsageError(faults.join("; "));
  const [headings, ...records] = rows.filter(({ cells }) => !isEmpty(cells));
  const names = headings?.cells.map((name) => name.trim().toLowerCase()) ?? [];
  const twice = names.find((name, at) => name !== "" && names.indexOf(name) !== at);
  if (twice !== undefined) throw new UsageError(`the heading ${twice} stands twice in the CSV`);
  return records.map(({ line, cells }) => {
    if (cells.slice(names.length).some((cell) => cell !== "")) {
      throw new UsageError(`line ${line} of the CSV has more cells than headings`);
    }
    return {
      line,
      cells: Object.fromEntries(names.map((name, at) => [name, cells[at]?.trim() ?? ""])),
    };
  });
}
