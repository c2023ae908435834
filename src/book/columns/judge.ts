import { type Answers, answersOf, type Common, type RowFacts } from "../answers/answers.ts";
import { jobIndex } from "../records/job-index.ts";
import type { Device, Part, Reading } from "../records/records.ts";
import { lastColumns } from "../records/positions.ts";
import { eachRegister, isSameRow } from "../records/registers.ts";
import { judgedOn } from "../records/settings.ts";
import { calendarOf } from "../records/work-calendar.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { finished, type Steps } from "../workbook/steps.ts";
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
  /** The parts and tasks the programme follows. */
  readonly parts: readonly Part[];
  readonly registers: readonly JudgedRegister[];
  /** The rows of a part, one a device in the order of the reading. */
  readonly rows: (part: Part) => readonly JudgedRow[];
  /** The same in steps. */
  readonly rowSteps: (part: Part) => Steps<readonly JudgedRow[]>;
}

const judged = new WeakMap<Reading, { readonly snapshot: Snapshot; readonly answer: Judged }>();

/** Judges the registers, once: every job and every screen sees the same answers. */
export function judge(snapshot: Snapshot, reading: Reading): Judged {
  const known = judged.get(reading);
  if (known?.snapshot === snapshot) return known.answer;
  const { settings, parts } = reading.ours;
  const common = {
    settings: { ...settings, reportDate: judgedOn(settings) },
    calendar: calendarOf(reading.ours),
  };
  const registers = eachRegister(reading).map((one) =>
    judgedRegister(registerFacts(snapshot, one), common),
  );
  const logged = jobIndex(reading.ours).parts;
  const byPart = new Map<Part, readonly JudgedRow[]>();
  const rowSteps = function* (part: Part): Steps<readonly JudgedRow[]> {
    const there = byPart.get(part);
    if (there !== undefined) return there;
    let rows: readonly JudgedRow[] = [];
    for (const register of registers) {
      const own = yield* register.rowSteps(part);
      rows = rows.length === 0 ? own : rows.concat(own);
    }
    byPart.set(part, rows);
    return rows;
  };
  const answer = {
    common,
    parts: parts.filter(
      (part) =>
        !part.task ||
        reading.registers.some((register) => lastColumns(register, part).length > 0) ||
        logged.has(part),
    ),
    registers,
    rows: (part: Part) => finished(rowSteps(part)),
    rowSteps,
  };
  judged.set(reading, { snapshot, answer });
  return answer;
}

/** A part of a device as a reading made since judges it; null where its row is gone. */
export function judgedAgain(
  snapshot: Snapshot,
  reading: Reading,
  { device, part }: { readonly device: Device; readonly part: Part },
): JudgedRow | null {
  const now = reading.ours.parts.find(({ code }) => code === part.code);
  const at = reading.devices.findIndex((one) => isSameRow(one, device));
  return (now === undefined ? undefined : judge(snapshot, reading).rows(now)[at]) ?? null;
}

function judgedRegister(facts: Facts, common: Common): JudgedRegister {
  const gathered = new Map<Part, PartFacts>();
  const inputs = (part: Part): PartFacts => {
    const there = gathered.get(part) ?? partFacts(facts, part);
    gathered.set(part, there);
    return there;
  };
  const byPart = new Map<Part, readonly JudgedRow[]>();
  const rowSteps = function* (part: Part): Steps<readonly JudgedRow[]> {
    const rows = byPart.get(part) ?? (yield* judging(facts, { part, inputs, common }));
    byPart.set(part, rows);
    return rows;
  };
  return { facts, inputs, rows: (part) => finished(rowSteps(part)), rowSteps };
}

interface Judging {
  readonly part: Part;
  readonly inputs: (part: Part) => PartFacts;
  readonly common: Common;
}

function* judging(
  { reading: { devices } }: Facts,
  { part, inputs, common }: Judging,
): Steps<readonly JudgedRow[]> {
  const { rows } = inputs(part);
  yield;
  return devices.flatMap((device, at): JudgedRow[] => {
    const row = rows[at];
    return row === undefined ? [] : [{ device, facts: row, answers: answersOf(part, row, common) }];
  });
}
