import { DUTCH } from "./dutch.ts";
import { FRENCH } from "./french.ts";
import { GERMAN } from "./german.ts";
import { ITALIAN } from "./italian.ts";
import type { Language } from "./language.ts";
import { POLISH } from "./polish.ts";
import { PORTUGUESE } from "./portuguese.ts";
import { SPANISH } from "./spanish.ts";

/** The languages registers are read in besides English; a further one is a file and a line here. */
export const LANGUAGES: readonly Language[] = [
  SPANISH,
  FRENCH,
  GERMAN,
  PORTUGUESE,
  ITALIAN,
  DUTCH,
  POLISH,
];
