import type { Part } from "../records/records.ts";
import { type NamedPart, namedParts } from "./parts-named.ts";
import { type WorkToken, workTokens } from "./work-tokens.ts";

/** Words in the names of parts that people use of other things too. */
export const COMMON: ReadonlySet<string> = new Set(["set", "uses", "device", "check", "checks"]);

/** The parts by names that are surely theirs, and what the words of a text say of them. */
export interface PartWords {
  readonly named: readonly NamedPart[];
  readonly tokensOf: (text: string) => WorkToken[];
}

/** Reads texts for these parts. */
export function partWords(parts: readonly Part[]): PartWords {
  const named = namedParts(parts, (words) => words.some((word) => !COMMON.has(word)));
  const names = new Set(
    named.flatMap((part) => part.names.flat()).filter((word) => !COMMON.has(word)),
  );
  return { named, tokensOf: (text) => workTokens(text, (word) => names.has(word)) };
}

/** Whether one of the words is of a part's name. */
export function namesPart(tokens: readonly WorkToken[]): boolean {
  return tokens.some((token) => token.names.length > 0);
}
