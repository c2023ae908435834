import type { WorkSense } from "../languages/language.ts";
import { isQuestion } from "../languages/words-of.ts";
import { eachPosition, partKey } from "../records/positions.ts";
import type { Part } from "../records/records.ts";
import type { Work } from "../records/own-log.ts";
import { isWithdrawn } from "./remark-text.ts";
import { type NamedPart, namedParts, partsNamed } from "./parts-named.ts";
import { wordsOf } from "./words.ts";
import { type WorkToken, workTokens } from "./work-tokens.ts";

/** What a line of people's own log says in their words. */
interface WorkReading {
  /**
   * Clear: every word is known and together they say one thing. Unclear: it may be the work it proposes, or not.
   * Unknown: no work can be read from it.
   */
  readonly says: "clear" | "unclear" | "unknown";
  readonly work: readonly Work[];
}

/** Reads the words of a log. */
export interface WorkReader {
  /** What a line says under its heading; each wording is read once. */
  readonly read: (text: string, heading: string) => WorkReading;
  /** Whether a note may turn the words beside it: one side only, not yet, not at all, damage, or a question. */
  readonly turns: (note: string) => boolean;
}

const TURNING_SENSES: ReadonlySet<WorkSense> = new Set<WorkSense>([
  "later",
  "no",
  "left",
  "right",
  "partial",
  "damaged",
]);

/** A reader for these parts. */
export function workReader(parts: readonly Part[]): WorkReader {
  // "set" alone is no name where people write sentences.
  const named = namedParts(parts, (words) => words.join(" ") !== "set");
  const words = new Set(named.flatMap(({ names }) => names.flat()));
  const isName = (word: string): boolean => words.has(word);
  const known = new Map<string, WorkReading>();
  const read: WorkReader["read"] = (text, heading) => {
    const key = `${heading}\n${text}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    const tokens = workTokens(text, isName);
    const headed = workTokens(heading, isName);
    const line = lineOf(tokens, headed, named);
    const reading = readingOf(
      { ...line, strange: line.strange || isQuestion(text) || isWithdrawn(text) },
      parts,
    );
    known.set(key, reading);
    return reading;
  };
  const turns: WorkReader["turns"] = (note) =>
    isQuestion(note) ||
    isWithdrawn(note) ||
    workTokens(note, isName).some(({ senses }) =>
      senses.some((sense) => TURNING_SENSES.has(sense)),
    );
  return { read, turns };
}

/** The words of a line sorted by what they say. */
interface Line {
  readonly senses: ReadonlySet<WorkSense>;
  readonly wearing: readonly Part[];
  readonly tasks: readonly Part[];
  /** A question, a word nobody knows, or one of a part that is not named whole. */
  readonly strange: boolean;
  readonly single: boolean;
  /** The heading alone says that something was replaced. */
  readonly headed: boolean;
}

function lineOf(
  tokens: readonly WorkToken[],
  headed: readonly WorkToken[],
  named: readonly NamedPart[],
): Line {
  const words = new Set(tokens.flatMap(({ names }) => names));
  const { parts, left } = partsNamed(named, words);
  const senses = new Set(tokens.flatMap((token) => token.senses));
  // A column "Part replaced" says of each part in it that it was.
  const saysDone = headed.some(({ senses: said }) => said.some((sense) => DONE.has(sense)));
  const isTurned = headed.some(({ senses: [sense] }) => sense === "later" || sense === "no");
  const isHeaded = saysDone && !isTurned && !isDone(senses);
  if (isHeaded) senses.add("replaced");
  const isSet = (part: Part): boolean =>
    wordsOf(part.name, null).some(({ text }) => text === "set");
  return {
    senses,
    headed: isHeaded,
    wearing: parts.filter(({ task }) => !task),
    tasks: parts.filter(({ task }) => task),
    strange: [...left].some((word) => word !== "set") || tokens.some(({ known }) => !known),
    single:
      !senses.has("whole") && tokens.some((one) => one.single) && parts.some((part) => isSet(part)),
  };
}

/** Words that say that something was replaced. */
const DONE: ReadonlySet<WorkSense> = new Set<WorkSense>(["replaced", "new"]);

function isDone(senses: ReadonlySet<WorkSense>): boolean {
  return [...DONE].some((sense) => senses.has(sense));
}

/** Words of other work, beside which a heading does not say that something was replaced. */
const OTHER_WORK: readonly WorkSense[] = ["inspected", "clean", "nothing", "withdrawn"];
/** Words beside which nothing is certain. */
const LEAVE_OPEN: readonly WorkSense[] = ["later", "no", "other", "lead"];

function readingOf(line: Line, parts: readonly Part[]): WorkReading {
  const { senses, wearing, tasks, strange } = line;
  const done = isDone(senses) || senses.has("maybe");
  // A battery's damage is nobody's concern here; a lead may be one that is stuck to the skin.
  const isElsewhere = senses.has("other") && !senses.has("lead") && wearing.length === 0;
  const damaged = senses.has("damaged") && !isElsewhere;
  const leaves = line.headed ? [...LEAVE_OPEN, ...OTHER_WORK] : LEAVE_OPEN;
  const open = strange || leaves.some((sense) => senses.has(sense));
  if (done) return replacement(line, { damaged, open, parts });
  if (damaged) {
    // What was found ends a life whatever else the line says.
    const codes = wearing.length === 0 ? [""] : wearing.map(({ code }) => code);
    return { says: "clear", work: codes.map((part) => ({ ...NO_JOB, part, damaged })) };
  }
  if (tasks.length > 0 && !senses.has("later")) return taskDone(line, open);
  if (senses.has("withdrawn")) {
    const clear = !open && wearing.length === 0;
    return { says: clear ? "clear" : "unclear", work: [{ ...NO_JOB, job: "withdrawn" }] };
  }
  return otherwise(line, open);
}

function taskDone({ senses, wearing, tasks }: Line, open: boolean): WorkReading {
  const work = tasks.map(({ code }) => ({ ...NO_JOB, part: code, job: "calibrated" as const }));
  const clear = !open && wearing.length === 0 && !isInPart(senses) && !senses.has("withdrawn");
  return { says: clear ? "clear" : "unclear", work };
}

const NO_JOB: Work = { part: "", job: "", complete: null, damaged: false };

interface Besides {
  readonly damaged: boolean;
  readonly open: boolean;
  readonly parts: readonly Part[];
}

function replacement(line: Line, { damaged, open, parts }: Besides): WorkReading {
  const { senses, wearing, tasks, single } = line;
  const all = parts.filter(({ task }) => !task);
  const meant = wearing.length > 0 || all.length > 1 ? wearing : all;
  const complete = !isInPart(senses);
  const work = meant.map((part): Work => replacedOf(part, senses, damaged));
  // Of a part with a date for each position a line has to say which of them, or all.
  const unsaid = complete && !isOfAll(senses) && meant.some(({ positions }) => positions);
  const isOpen = open || senses.has("maybe") || (single && complete) || tasks.length > 0;
  const doubted = isOpen || unsaid || isDivided(senses, meant, damaged);
  const found = damaged && work.length === 0 ? [{ ...NO_JOB, damaged }] : work;
  return { says: doubted || work.length === 0 ? "unclear" : "clear", work: found };
}

/** "Electrodes checked, cushions replaced" is work on each; "new electrodes checked" may be on those of before. */
function isDivided(
  senses: ReadonlySet<WorkSense>,
  meant: readonly Part[],
  damaged: boolean,
): boolean {
  const isOther = OTHER_WORK.some((sense) => senses.has(sense));
  return meant.length > 1 ? isOther || damaged : isOther && !senses.has("replaced");
}

/** A replacement of a part; of the one side that is named where the register has a date for it. */
function replacedOf(part: Part, senses: ReadonlySet<WorkSense>, damaged: boolean): Work {
  const whole = { part: part.code, job: "replaced" as const, complete: !isInPart(senses), damaged };
  if (senses.has("partial") || senses.has("whole") || isOfAll(senses)) return whole;
  const side = (["left", "right"] as const).find((one) => senses.has(one));
  const piece = eachPosition(part).find(({ position }) => position?.name === side);
  return piece === undefined || side === undefined
    ? whole
    : { ...whole, part: partKey(piece), complete: null };
}

function isOfAll(senses: ReadonlySet<WorkSense>): boolean {
  return senses.has("whole") || (senses.has("left") && senses.has("right"));
}

/** One side, or one piece, is not the whole; both sides are. */
function isInPart(senses: ReadonlySet<WorkSense>): boolean {
  return senses.has("partial") || senses.has("left") !== senses.has("right");
}

/** What is no work on a part. */
const IDLE: readonly WorkSense[] = ["nothing", "later", "other", "lead"];

function otherwise({ senses, wearing, strange }: Line, open: boolean): WorkReading {
  const looked = senses.has("inspected") || senses.has("clean");
  if (looked && !open) {
    const codes = wearing.length === 0 ? [""] : wearing.map(({ code }) => code);
    return {
      says: "clear",
      work: codes.map((part) => ({ ...NO_JOB, part, job: "inspected" as const })),
    };
  }
  const idle = IDLE.some((sense) => senses.has(sense));
  if (idle && !strange && !senses.has("no")) return { says: "clear", work: [] };
  // A part alone may have been replaced that day.
  return wearing.length > 0
    ? { says: "unclear", work: wearing.map(({ code }) => replacedWhole(code)) }
    : { says: "unknown", work: [] };
}

function replacedWhole(part: string): Work {
  return { part, job: "replaced", complete: true, damaged: false };
}
