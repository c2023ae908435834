import { readFileSync } from "node:fs";
import { EXCUSED, OPEN } from "./book/doubt/study.ts";

/** README's list of what no check can tell, of what is told and yet less careful, and of what is to be mended. */
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
    ...excused().map(([why, inputs]) => `- ${inputs.join("; ")}: ${why}.`),
    "",
    "Known to break the promise, and to be mended:",
    "",
    `${[...OPEN].join("; ")}.`,
    "",
  ].join("\n");
}

/** Inputs with the same reason, told together. */
function excused(): (readonly [string, readonly string[]])[] {
  const byWhy = new Map<string, string[]>();
  for (const [input, { why }] of Object.entries(EXCUSED)) {
    byWhy.set(why, [...(byWhy.get(why) ?? []), input]);
  }
  return [...byWhy];
}
