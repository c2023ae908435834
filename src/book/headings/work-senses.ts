import { LANGUAGES } from "../languages/index.ts";
import { list, type WorkSense } from "../languages/language.ts";
import { INSPECTED } from "../records/inspection-words.ts";
import { phraseOf } from "../languages/words-of.ts";

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
    "damaged, damage, broken, cracked, crack, cracks, torn, tear, tears, worn, worn out, split, loose, leaking, leak, corroded, corrosion, corroding, residue, hardened, hard, defective, defect, faulty, perished, frayed, bent, rusty, rust, peeling, ripped, snapped, melted, chipped, brittle, sticky, detached, coming off, come off, coming apart, come apart, falling off, falling apart, burst, punctured, mouldy, moldy, rash, skin reaction, wire showing",
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
  no: list(
    "no, not, without, never, cannot, didn t, wasn t, couldn t, weren t, cancelled, canceled, postponed, aborted, skipped, refused",
  ),
  lead: list("cable, cables, lead, leads, wire, wires, cord, cords"),
  other: list(
    "battery, batteries, printer, screen, display, charger, plug, case, bag, trolley, software, paper, label, labels, keyboard, mouse, computer, laptop, ink, toner",
  ),
  filler: list(
    "the, a, an, of, on, in, at, and, with, was, were, has, have, been, today, done, completed, performed, annual, yearly",
  ),
};

/** What a word of a log says, by its folded phrase: English before the other languages. */
export const WORK: ReadonlyMap<string, WorkSense> = new Map(
  [...LANGUAGES.map(({ work }) => work), ENGLISH].flatMap((work) =>
    Object.entries(work).flatMap(([sense, phrases]) =>
      phrases.map((phrase): [string, WorkSense] => [phraseOf(phrase), sense as WorkSense]),
    ),
  ),
);

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
