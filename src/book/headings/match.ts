import { isLastDone } from "../records/positions.ts";
import { asksIfGood } from "./if-good.ts";
import type { Evidence } from "./column-profile.ts";
import { isOwnInterval, isOwnLimit } from "../records/own-limits.ts";
import { ANY_DUE, ANY_INTERVAL, ANY_PART, type Field, fieldsFor } from "./fields.ts";
import type { Part } from "../records/records.ts";
import { remembering } from "../records/remembering.ts";
import { saysEarlier, saysOtherToo, saysPlanned } from "./planned.ts";
import { SAME } from "./vocabulary.ts";
import { knownWords, type Word, wordsOf } from "./words.ts";

/** A column that may be a field. */
export interface Candidate {
  readonly column: number;
  readonly heading: string;
  readonly evidence: Evidence | null;
}

/** Heading against field, compiled once for a set of fields. */
export interface Matcher {
  readonly fields: readonly Field[];
  /** How well a heading says a field: 0 to 1. */
  readonly likeness: (heading: string, field: Field, evidence: Evidence | null) => number;
  /** Whether a heading has all the words of what a field is called and none that make it another thing. */
  readonly covers: (heading: string, field: Field) => boolean;
}

export const ACCEPTED = 0.6;
/** From here on the words of a last-done heading are proof enough against odd cells: they are faults. */
export const CERTAIN = 0.85;
const LESSER = 0.8;
const DATED = 0.65;
const SLIP = 0.9;
const LEFT_OVER = 1.8;
const MISSING = 2;
const LIGHT_MISSING = 0.15;

/** Out of service since a day, for nobody knows how long: neither put into service nor gone. */
const AWAY = ["out", "since"];

/** Whether a heading of a day is of one still to come, or of one that ends nothing for good. */
function isOfOtherDay(field: Field, heading: string, words: readonly Word[]): boolean {
  if (isLastDone(field.key) && (saysPlanned(heading) || saysOtherToo(heading, field.phrases)))
    return true;
  return field.holds === "date" && isAway(words);
}

/** Whether a heading is of the day since which a device is out of service. */
export function isAway(words: readonly Word[]): boolean {
  return AWAY.every((one) => words.some(({ text }) => text === one));
}

/** What an interval is counted in. */
const UNIT = new Set(["days", "week", "month", "year", "years"]);

function withoutUnit(words: readonly Word[], { key }: Field): readonly Word[] {
  return isOwnInterval(key) ? words.filter(({ text }) => !UNIT.has(text)) : words;
}

interface Phrase {
  readonly words: readonly Word[];
  readonly factor: number;
  readonly dated: boolean;
  /** Says that a part was replaced without saying which. */
  readonly anyPart: boolean;
}

const ofParts = new WeakMap<readonly Part[], Matcher>();

/** The matcher for a register with these parts: made once, since every step of reading asks it. */
export function matcherFor(parts: readonly Part[]): Matcher {
  const matcher = ofParts.get(parts) ?? matcherOf(fieldsFor(parts));
  ofParts.set(parts, matcher);
  return matcher;
}

/** A matcher for these fields. */
export function matcherOf(fields: readonly Field[]): Matcher {
  const phrases = new Map<string, readonly Phrase[]>();
  const vocabulary = new Set(knownWords());
  for (const field of [...fields, ANY_PART, ANY_DUE, ANY_INTERVAL]) {
    const compiled = phrasesOf(field);
    phrases.set(field.key, compiled);
    for (const phrase of compiled) for (const word of phrase.words) vocabulary.add(word.text);
  }
  const known = new Set(SAME.flat());
  for (const word of vocabulary) known.add(word);
  const read = new Map<string, readonly Word[]>();
  const headingWords = (heading: string): readonly Word[] => {
    const before = read.get(heading);
    if (before) return before;
    const words = wordsOf(heading, vocabulary);
    read.set(heading, words);
    return words;
  };
  return {
    fields,
    likeness: (heading, field, evidence) => {
      const words = withoutUnit(headingWords(heading), field);
      if (words.length === 0 || words.length > 9 || !words.some((word) => known.has(word.text))) {
        return 0;
      }
      // A wrong date would lengthen an interval or take a device out, and "geplant" need not be known.
      if (isGrave(field) && words.some(({ strange }) => strange)) return 0;
      if (isOfOtherDay(field, heading, words)) return 0;
      if (field.key.startsWith("finding:") && asksIfGood(heading)) return 0;
      let best = 0;
      for (const phrase of phrases.get(field.key) ?? []) {
        if (phrase.dated && !showsDates(evidence)) continue;
        const score = alike(words, phrase) * phrase.factor;
        if (score > best) best = score;
      }
      return isEnough(best, field) ? best : 0;
    },
    covers: (heading, field) => {
      const words = headingWords(heading);
      // "Next" and such make it another thing; a spare set may be one that is used in turn.
      if (words.some(({ turning, text }) => turning && !text.startsWith("spare"))) return false;
      if (saysPlanned(heading) || saysEarlier(heading)) return false;
      const has = ({ text }: Word): boolean => words.some((word) => word.text === text);
      const named = (phrases.get(field.key) ?? []).filter(
        ({ factor, dated, anyPart }) => factor === 1 && !dated && (!anyPart || field === ANY_PART),
      );
      return named.some((phrase) => phrase.words.every(has));
    },
  };
}

/** "Electrode inspection due" is of something else. */
function isEnough(likeness: number, { key }: Field): boolean {
  return likeness >= CERTAIN || !isOwnLimit(key);
}

/** Fields whose wrong column lets a part be used too long. */
function isGrave({ key }: Field): boolean {
  return isLastDone(key) || key === "retiredOn";
}

/** Whether what a column's cells hold is dates, be they few. */
export function holdsDates(evidence: Evidence | null): boolean {
  return evidence !== null && evidence.filled > 0 && evidence.dates >= 0.6;
}

/** Whether a column's cells are dates, most of them, and written as such: bare numbers may number devices. */
export function showsDates(evidence: Evidence | null): boolean {
  return evidence !== null && evidence.filled >= 3 && holdsDates(evidence) && !isBare(evidence);
}

/** Whether most dates of a column are numbers without the format of one. */
export function isBare({ dates, bare }: Evidence): boolean {
  return bare > dates / 2;
}

// Every set of fields has nearly the same phrases.
const wordsOfPhrase = remembering((text: string): readonly Word[] => wordsOf(text, null));

function phrasesOf(field: Field): Phrase[] {
  const compile = (texts: readonly string[], factor: number, dated: boolean): Phrase[] =>
    texts.map((text) => {
      const anyPart = ANY_PART.phrases.includes(text);
      return { words: wordsOfPhrase(text), factor, dated, anyPart };
    });
  return [
    ...compile(field.phrases, 1, false),
    ...compile(field.lesser, LESSER, false),
    ...compile(field.dated, DATED, true),
  ];
}

/** Shared words against all words, heavy words left over on either side weighing more. */
function alike(heading: readonly Word[], phrase: Phrase): number {
  let shared = 0;
  let sharedFull = 0;
  let leftOver = 0;
  for (const word of heading) {
    if (phrase.words.some((other) => other.text === word.text)) {
      shared += word.slip ? word.weight * SLIP : word.weight;
      sharedFull += word.weight;
    } else {
      if (word.turning) return 0;
      leftOver += word.weight === 1 ? LEFT_OVER : word.weight;
    }
  }
  if (shared === 0) return 0;
  // "No." alone says nothing: a heading of light words only must be the whole phrase; and a phrase
  // that may mean something else must be there as a whole.
  const whole = phrase.factor < 1 || heading.every((word) => word.weight < 1);
  let missing = 0;
  for (const word of phrase.words) {
    if (!heading.some((other) => other.text === word.text)) {
      if (whole) return 0;
      missing += word.weight === 1 ? MISSING : LIGHT_MISSING;
    }
  }
  return (2 * shared) / (2 * sharedFull + leftOver + missing);
}

/** Whether a heading says "last replaced" without saying of which part. */
export function saysLastReplaced(matcher: Matcher, candidate: Candidate): boolean {
  return matcher.likeness(candidate.heading, ANY_PART, candidate.evidence) >= CERTAIN;
}
