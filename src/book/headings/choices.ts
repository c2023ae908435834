import type { Field } from "./fields.ts";
import type { Candidate } from "./match.ts";
import type { ColumnMatch } from "../records/records.ts";
import { chosenRegisters } from "../records/registers.ts";

/** A column that was chosen for a field. */
export interface Chosen {
  readonly field: Field;
  readonly heading: string;
}

/** What was chosen about where things are, in Setup or for this run. */
export interface Choices {
  /** Sheets of the registers; empty where none was chosen. */
  readonly registers: readonly string[];
  /** Heading row counted from zero. */
  readonly headerRow: number | null;
  /** Sheet of the counts, "none" for no counts. */
  readonly counts: string | null;
  /** Fields by the lower-case heading chosen for them. */
  readonly byHeading: ReadonlyMap<string, Field>;
  /** Keys of fields that are set to have no column. */
  readonly refused: readonly string[];
  readonly apply: (candidates: readonly Candidate[]) => {
    readonly matches: readonly ColumnMatch[];
    readonly missing: readonly Chosen[];
  };
}

const NO_COLUMN = "none";

/** Reads the choices: "register", "header row", "counts", "column <field>" by key or title. */
export function choicesOf(written: ReadonlyMap<string, string>, fields: readonly Field[]): Choices {
  const said = new Map<string, string>();
  for (const [key, value] of written) {
    if (value.trim() !== "") said.set(key.trim().toLowerCase(), value.trim());
  }
  const chosen = fields.flatMap((field): Chosen[] => {
    const heading =
      said.get(`column ${field.key.toLowerCase()}`) ??
      said.get(`column ${field.title.toLowerCase()}`);
    return heading === undefined ? [] : [{ field, heading }];
  });
  const refused = chosen.filter(({ heading }) => heading.toLowerCase() === NO_COLUMN);
  const kept = chosen.filter((choice) => !refused.includes(choice));
  return {
    registers: chosenRegisters(written),
    headerRow: rowOf(said.get("header row")),
    counts: said.get("counts") ?? null,
    byHeading: new Map(kept.map(({ field, heading }) => [heading.toLowerCase(), field])),
    refused: refused.map(({ field }) => field.key),
    apply: (candidates) => apply(kept, candidates),
  };
}

function rowOf(written: string | undefined): number | null {
  const row = Number(written);
  return Number.isInteger(row) && row >= 1 ? row - 1 : null;
}

function apply(
  chosen: readonly Chosen[],
  candidates: readonly Candidate[],
): ReturnType<Choices["apply"]> {
  const matches: ColumnMatch[] = [];
  const missing: Chosen[] = [];
  // A column is one field only; two columns of the same heading are taken from left to right.
  const taken = new Set<number>();
  for (const choice of chosen) {
    const wanted = plain(choice.heading);
    const found = candidates.find(
      ({ column, heading }) => plain(heading) === wanted && !taken.has(column),
    );
    if (found === undefined) missing.push(choice);
    else {
      const { column, heading } = found;
      taken.add(column);
      matches.push({ field: choice.field.key, column, heading, confidence: 1, by: "setup" });
    }
  }
  return { matches, missing };
}

function plain(heading: string): string {
  return heading.replaceAll(/\s+/g, " ").trim().toLowerCase();
}
