import { type Day, civilDate, isDay, isoText } from "../src/core/day.ts";
import { type Answer, isRows } from "./answer.ts";
import { type Definition, type Example, NAMESPACE, withDates } from "./define.ts";
import type { Arg } from "./kind.ts";

/** The function with the names of its arguments, those that may be left out in brackets. */
export function signature({ id, args }: Definition): string {
  const names = args.map(({ name, optional }) => (optional ? `[${name}]` : name));
  return `${NAMESPACE}.${id}(${names.join(", ")})`;
}

/** What to know of ranges that are handed over. */
export const RANGES =
  "Name the cells that hold something, such as B2:B500, or the column of a table. A whole column such as B:B is slow, and Excel on the web may answer #CALC!.";

/** Whether a function takes ranges of cells. */
export function takesRanges({ args }: Definition): boolean {
  return args.some(({ takes }) => takes !== undefined);
}

/** An example as it is typed into a cell. */
export function formulaText({ id, args }: Definition, { cells }: Example): string {
  const typed = cells.map((cell, index) => cellText(cell, args[index]));
  return `=${NAMESPACE}.${id}(${typed.join(",")})`;
}

/** What an example gives, as a person reads it: dates as ISO text, rows parted by semicolons. */
export function answerText({ gives }: Definition, example: Example): string {
  const one = (answer: Answer): string => {
    if (typeof answer === "object") return `${answer.error} (${answer.message})`;
    return answer === "" ? "blank" : String(answer);
  };
  const result = withDates(gives, example.gives, isoOf);
  return isRows(result) ? result.map((row) => row.map(one).join(", ")).join("; ") : one(result);
}

/** All functions as a list in Markdown, each with its first example. */
export function markdown(functions: readonly Definition[]): string {
  const rows = functions.map((definition) => {
    const [example] = definition.examples;
    const shown = example
      ? `\`${formulaText(definition, example)}\` gives ${answerText(definition, example)}`
      : "";
    return [`\`${signature(definition)}\``, definition.about, shown];
  });
  return table(["function", "what it gives", "example"], rows);
}

/** A table in Markdown. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string =>
    `| ${cells.map((cell) => cell.replaceAll("|", "\\|")).join(" | ")} |\n`;
  return [head, head.map(() => "---"), ...rows].map(line).join("");
}

function cellText(cell: unknown, arg: Arg | undefined): string {
  if (cell === null) return "";
  if (Array.isArray(cell)) {
    // Constants in braces hold neither calls nor blanks.
    return cell.length === 0 ? "" : `{${cell.map((one) => constant(one ?? "")).join(";")}}`;
  }
  if (arg?.kind === "date" && typeof cell === "number" && isDay(cell)) return dateCall(cell);
  return constant(cell);
}

function dateCall(date: Day): string {
  const { year, month, dayOfMonth } = civilDate(date);
  return `DATE(${year},${month},${dayOfMonth})`;
}

function constant(value: unknown): string {
  return typeof value === "string"
    ? `"${value.replaceAll('"', '""')}"`
    : String(value).toUpperCase();
}

/** A serial number as an ISO date; one that is no day stays a number. */
export function isoOf(serial: number): number | string {
  return isDay(serial) ? isoText(serial) : serial;
}
