import { LANGUAGES } from "../languages/index.ts";
import { list, type WorkSense } from "../languages/language.ts";
import { INSPECTED } from "../records/inspection-words.ts";
import { phraseOf, withForms } from "../languages/words-of.ts";
import { isEnglish } from "./words.ts";

/** What English words say in a log of people's own. */
const ENGLISH: Readonly<Record<WorkSense, readonly string[]>> = {
  replaced: list(
    "replaced, changed, exchanged, renewed, fitted, refitted, installed, replacement, put on, put in",
  ),
  new: ["new"],
  // What is swapped may go from one device to another.
  maybe: list("replace, change, swap, swapped, exchange, renew, fit, install, renewal"),
  whole: list("both, all, complete, full, whole, pair, set, sets, kit, lr, rl, both sides"),
  left: list("left, l, lh, left side"),
  right: list("right, r, rh, right side"),
  partial: list("one, single, half, partly, partial, only, 1, 1x, one side"),
  damaged: list(
    "damaged, damage, broken, cracked, crack, cracks, torn, tear, tears, worn, worn out, split, loose, leaking, leak, corroded, corrosion, corroding, oxidised, oxidized, oxidation, tarnished, residue, hardened, hard, defective, defect, faulty, perished, frayed, bent, rusty, rust, peeling, ripped, snapped, melted, chipped, brittle, sticky, detached, coming off, come off, coming apart, come apart, falling off, falling apart, burst, punctured, mouldy, moldy, rash, skin reaction, wire showing, stained, yellowed, discoloured, discolored, discolouration, hairline, smell, smells, burn, burnt, stiff, deformed, dried out, does not stick, doesn t stick, do not stick, don t stick, no longer sticks",
  ),
  inspected: INSPECTED,
  clean: list("clean, ok, okay, good, fine, intact, pass, passed, no findings, nothing found"),
  nothing: list(
    "cleaned, wiped, wiped down, disinfected, cleaning, charged, lent, loaned, moved, training, labelled",
  ),
  withdrawn: list(
    "withdrawn, retired, scrapped, disposed, disposed of, decommissioned, condemned, written off, taken out of service",
  ),
  later: list(
    "to, for, sent, send, sending, order, ordered, ordering, needs, need, needed, must, should, please, soon, due, next, planned, scheduled, booked, awaiting, waiting, arrived, received, delivered, requested, request, quote, collected, expected, want, wanted",
  ),
  no: list("no, not, without, never, cannot, didn t, wasn t, couldn t, weren t"),
  off: list(
    "cancelled, canceled, postponed, deferred, delayed, put off, rescheduled, aborted, skipped, missed, refused",
  ),
  lead: list("cable, cables, lead, leads, wire, wires, cord, cords"),
  other: list(
    "battery, batteries, printer, screen, display, charger, plug, case, bag, trolley, software, paper, label, labels, keyboard, mouse, computer, laptop, ink, toner, roster",
  ),
  filler: list(
    "the, a, an, just, of, on, in, at, and, with, was, were, has, have, been, today, done, completed, performed, annual, yearly",
  ),
};

type Entry = readonly [phrase: string, sense: WorkSense];

const entries = (
  work: Readonly<Record<WorkSense, readonly string[]>>,
  said: (phrases: readonly string[], sense: WorkSense) => readonly string[],
): Entry[] =>
  Object.entries(work).flatMap(([sense, phrases]) =>
    said(phrases, sense as WorkSense).map((phrase): Entry => [phrase, sense as WorkSense]),
  );

const written = (phrases: readonly string[]): string[] => phrases.map(phraseOf);

/** Senses whose words are mostly participles, which gender and number change. */
const CHANGING: ReadonlySet<WorkSense> = new Set<WorkSense>([
  ...([
    "replaced",
    "damaged",
    "inspected",
    "clean",
    "nothing",
    "withdrawn",
    "later",
    "off",
  ] as const),
]);

/**
 * What a word of a log says, by its folded phrase: English before the other languages, what is written in a table
 * before a form of it. A form that is an English word is none: "usé" without its accent is "use".
 */
export const WORK: ReadonlyMap<string, WorkSense> = new Map([
  ...LANGUAGES.flatMap((language) =>
    entries(language.work, (phrases, sense) =>
      CHANGING.has(sense) ? withForms(phrases, language) : [],
    ),
  ).filter(([phrase]) => !isEnglish(phrase)),
  ...LANGUAGES.flatMap(({ work }) => entries(work, written)),
  ...entries(ENGLISH, written),
]);

/** Words of the longest phrase. */
export const LONGEST_WORK = Math.max(...[...WORK.keys()].map((phrase) => phrase.split(" ").length));

/** What the words of vocabulary.ts say in a log. */
export const VOCABULARY_SENSES: ReadonlyMap<string, WorkSense> = new Map([
  ["replaced", "replaced"],
  ["installed", "replaced"],
  ["finding", "damaged"],
  ["done", "filler"],
  ["retired", "withdrawn"],
  ["disposed", "withdrawn"],
  ["set", "whole"],
]);
