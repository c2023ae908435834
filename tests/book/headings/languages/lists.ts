import { DUTCH } from "./dutch.ts";
import { ENGLISH } from "./english.ts";
import { FRENCH } from "./french.ts";
import { GERMAN } from "./german.ts";
import { ITALIAN } from "./italian.ts";
import type { Labelled } from "./labelled.ts";
import { POLISH } from "./polish.ts";
import { PORTUGUESE } from "./portuguese.ts";
import { SPANISH } from "./spanish.ts";

export const LISTS = {
  English: ENGLISH,
  Spanish: SPANISH,
  French: FRENCH,
  German: GERMAN,
  Portuguese: PORTUGUESE,
  Italian: ITALIAN,
  Dutch: DUTCH,
  Polish: POLISH,
} as const;

/** Each heading with the field it means, null for the foreign ones. */
export function pairsOf(list: Labelled): [string, string | null][] {
  return Object.entries(list).flatMap(([field, headings]) =>
    headings.map((heading): [string, string | null] => [
      heading,
      field === "foreign" ? null : field,
    ]),
  );
}
