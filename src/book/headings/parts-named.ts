import type { Part } from "../records/records.ts";
import { partNames } from "./fields.ts";
import { wordsOf } from "./words.ts";

/** A part with its names word by word, the longest first. */
export interface NamedPart {
  readonly part: Part;
  readonly names: readonly (readonly string[])[];
}

/** The parts with their names; words that people use of other things too are no names. */
export function namedParts(
  parts: readonly Part[],
  isName: (words: readonly string[]) => boolean,
): NamedPart[] {
  return parts.map((part) => ({
    part,
    names: partNames(part, parts)
      .map((name) => wordsOf(name, null).map(({ text }) => text))
      .filter(isName)
      .sort((one, other) => other.length - one.length),
  }));
}

/** The parts whose whole name stands among words, and the words that are left of others. */
export function partsNamed(
  named: readonly NamedPart[],
  words: ReadonlySet<string>,
): { readonly parts: readonly Part[]; readonly left: ReadonlySet<string> } {
  const left = new Set(words);
  const found = named.flatMap(({ part, names }) => {
    const name = names.find((one) => one.every((word) => words.has(word)));
    if (name === undefined) return [];
    for (const word of name) left.delete(word);
    return [{ part, name }];
  });
  const parts = found
    .filter(({ name }) => !found.some((other) => isWithin(name, other.name)))
    .map(({ part }) => part);
  return { parts, left };
}

function isWithin(name: readonly string[], other: readonly string[]): boolean {
  return name.length < other.length && name.every((word) => other.includes(word));
}
