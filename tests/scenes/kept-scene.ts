import { readBook } from "../../src/book/reading/read.ts";
import type { Job, Ours, Reading } from "../../src/book/records/records.ts";
import type { Snapshot } from "../../src/book/workbook/snapshot.ts";
import type { Day } from "../../src/core/day.ts";
import { bookOf, frozen, jobOf, on, oursOf, sheetOf, type Typed } from "./scene.ts";

/** Invented programmes for the tests that look back. */

/** A device of the register: dates as ISO text, a word for no date, blank where left out. */
export interface Kit {
  readonly id: string;
  readonly site?: string;
  readonly commissioned?: string;
  readonly retired?: string;
  readonly status?: string;
  readonly set?: string;
  readonly cushion?: string;
  readonly finding?: string;
}

const HEADINGS = [
  "Device",
  "Site",
  "Commissioned",
  "Retired on",
  "Status",
  "Electrode set last replaced",
  "Ear cushion last replaced",
  "Electrode set finding",
];

/** A book of these devices and what its own sheets hold. */
export function programme(
  kits: readonly Kit[],
  more: Partial<Omit<Ours, "settings">> = {},
  settings: Parameters<typeof oursOf>[0] = {},
): { readonly snapshot: Snapshot; readonly reading: Reading } {
  const rows = kits.map((kit): Typed[] => [
    kit.id,
    kit.site ?? "S01",
    dated(kit.commissioned),
    dated(kit.retired),
    kit.status ?? null,
    dated(kit.set),
    dated(kit.cushion),
    kit.finding ?? null,
  ]);
  const snapshot = frozen(bookOf([sheetOf("Equipment", [HEADINGS, ...rows])]));
  return { snapshot, reading: readBook(snapshot, frozen(oursOf(settings, more))) };
}

function dated(text: string | undefined): Typed {
  if (text === undefined) return null;
  return /^\d{4}-\d\d-\d\d$/.test(text) ? on(text) : text;
}

/** An inspection in the Job log. */
export function checkOf(device: string, part: string, date: Day, more: Partial<Job> = {}): Job {
  const inspected = { job: "inspected", complete: null, date, finding: "clean" };
  return jobOf(device, part, "2026-01-01", { ...inspected, ...more });
}
