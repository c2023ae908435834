import { readFileSync } from "node:fs";
import { EXCUSED } from "./book/doubt/study.ts";

/** README's list of what no check can tell, and of what is told and yet less careful. */
export function notTold(): string {
  const found = JSON.parse(readFileSync("tests/reference/not-told.json", "utf8")) as Record<
    string,
    readonly string[]
  >;
  const bySheet = new Map<string, string[]>();
  for (const [input, kinds] of Object.entries(found)) {
    const [sheet = "", heading = ""] = input.split(": ");
    const one = `${heading} (${kinds.join(", ")})`;
    bySheet.set(sheet, [...(bySheet.get(sheet) ?? []), one]);
  }
  return [
    ...[...bySheet].map(([sheet, inputs]) => `- _${sheet}_: ${inputs.join("; ")}.`),
    "",
    "Told, and yet the figures may be less careful than the truth would make them:",
    "",
    ...Object.entries(EXCUSED).map(
      ([input, { why }]) => `- _${input.replace(": ", "_: ")}: ${why}.`,
    ),
    "",
  ].join("\n");
}
