import { type Answers, answersOf, type Common, type RowFacts } from "../answers/answers.ts";
import { jobIndex } from "../records/job-index.ts";
import type { Device, Part, Reading } from "../records/records.ts";
import { allLastColumns, eachPosition, unitsIn, wholeOf } from "../records/positions.ts";
import { eachRegister } from "../records/registers.ts";
import { judgedOn } from "../records/settings.ts";
import { calendarOf } from "../records/work-calendar.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { finished, ROWS_A_STEP, type Steps } from "../workbook/steps.ts";
import { type Facts, type PartFacts, partFacts, registerFacts } from "./facts.ts";

/** A part of a device as judged on the report date: what its computed columns read, and what they say. */
export interface JudgedRow {
  readonly device: Device;
  readonly facts: RowFacts;
  readonly answers: Answers;
}

/** One register as judged on the report date. */
export interface JudgedRegister {
  readonly facts: Facts;
  /** What its devices have intervals for: parts, positions of parts, tasks. */
  readonly parts: readonly Part[];
  /** What the columns of a part read; gathered once. */
  readonly inputs: (part: Part) => PartFacts;
  /** The rows of a part, one a device in the order of the register; worked out once. */
  readonly rows: (part: Part) => readonly JudgedRow[];
  /** The same in steps. */
  readonly rowSteps: (part: Part) => Steps<readonly JudgedRow[]>;
}

/** All registers as judged on the report date. */
export interface Judged {
  readonly common: Common;
  /** The parts, positions of parts and tasks the programme follows. */
  readonly parts: readonly Part[];
  readonly registers: readonly JudgedRegister[];
  /** The rows of a part in the order of the reading: one a device whose register follows it. */
  readonly rows: (part: Part) => readonly JudgedRow[];
  /** The same in steps. */
  readonly rowSteps: (part: Part) => Steps<readonly JudgedRow[]>;
  /** The row of a part of the device at a place of the reading; null where its register does not follow it. */
  readonly rowAt: (part: Part, at: number) => JudgedRow | null;
}

/** The rows of a part: all there are, and by the places of their devices. */
interface PartRows {
  readonly all: readonly JudgedRow[];
  readonly byPlace: readonly (JudgedRow | null)[];
}

interface Known {
  readonly snapshot: Snapshot;
  readonly reading: Reading;
  readonly answer: Judged;
}

const judged = new WeakMap<Reading["ours"], Known>();

/** Judges the registers, once: every job and every screen sees the same answers. */
export function judge(snapshot: Snapshot, reading: Reading): Judged {
  const known = judged.get(reading.ours);
  if (known?.snapshot === snapshot && hasSameRecords(known.reading, reading)) return known.answer;
  const { settings, parts } = reading.ours;
  const common = {
    settings: { ...settings, reportDate: judgedOn(settings) },
    calendar: calendarOf(reading.ours),
  };
  const logged = jobIndex(reading.ours).parts;
  const followed = parts.filter(
    (part) =>
      !part.task ||
      reading.registers.some((register) => allLastColumns(register, part).length > 0) ||
      logged.has(part),
  );
  const registers = eachRegister(reading).map((one) =>
    judgedRegister(registerFacts(snapshot, one), { followed, common }),
  );
  const byPart = new Map<Part, PartRows>();
  const partSteps = function* (part: Part): Steps<PartRows> {
    const there = byPart.get(part);
    if (there !== undefined) return there;
    const own: (readonly (JudgedRow | null)[])[] = [];
    for (const register of registers) {
      const { devices } = register.facts.reading;
      const isThere = register.parts.includes(part) || !followed.includes(wholeOf(part));
      own.push(isThere ? yield* register.rowSteps(part) : devices.map(() => null));
    }
    const byPlace = own.flat();
    const found = { all: byPlace.filter((row) => row !== null), byPlace };
    byPart.set(part, found);
    return found;
  };
  const rowSteps = function* (part: Part): Steps<readonly JudgedRow[]> {
    return (yield* partSteps(part)).all;
  };
  const answer = {
    common,
    parts: followed
      .flatMap((part) => [...new Set([part, ...eachPosition(part)])])
      .filter((part) => registers.some((register) => register.parts.includes(part))),
    registers,
    rows: (part: Part) => finished(rowSteps(part)),
    rowSteps,
    rowAt: (part: Part, at: number) => finished(partSteps(part)).byPlace[at] ?? null,
  };
  judged.set(reading.ours, { snapshot, reading, answer });
  return answer;
}

/** What is told of the records afterwards puts no date in doubt, so it changes no answer. */
function hasSameRecords(one: Reading, other: Reading): boolean {
  return (
    one.devices === other.devices &&
    one.registers === other.registers &&
    one.counts === other.counts
  );
}

function judgedRegister(
  facts: Facts,
  { followed, common }: { readonly followed: readonly Part[]; readonly common: Common },
): JudgedRegister {
  const gathered = new Map<Part, PartFacts>();
  const inputs = function* (part: Part): Steps<PartFacts> {
    const there = gathered.get(part) ?? (yield* partFacts(facts, part));
    gathered.set(part, there);
    return there;
  };
  const byPart = new Map<Part, readonly JudgedRow[]>();
  const rowSteps = function* (part: Part): Steps<readonly JudgedRow[]> {
    const rows = byPart.get(part) ?? (yield* judging(yield* inputs(part), { part, facts, common }));
    byPart.set(part, rows);
    return rows;
  };
  const parts = followed.flatMap((part) => unitsIn(facts.reading.register, part));
  return {
    facts,
    parts,
    inputs: (part) => finished(inputs(part)),
    rows: (part) => finished(rowSteps(part)),
    rowSteps,
  };
}

interface Judging {
  readonly part: Part;
  readonly facts: Facts;
  readonly common: Common;
}

function* judging(
  { rows }: PartFacts,
  { part, facts, common }: Judging,
): Steps<readonly JudgedRow[]> {
  const judged: JudgedRow[] = [];
  for (const device of facts.reading.devices) {
    const row = rows[judged.length];
    if (row === undefined) break;
    const made = { device, facts: row, answers: answersOf(part, row, common) };
    if (judged.push(made) % ROWS_A_STEP === 0) yield;
  }
  return judged;
}
