import { fieldsFor } from "../../../src/book/headings/fields.ts";
import { matchColumns } from "../../../src/book/headings/claims.ts";
import { matcherOf } from "../../../src/book/headings/match.ts";
import { DEFAULT_PARTS } from "../../../src/book/records/parts.ts";

const matcher = matcherOf(fieldsFor(DEFAULT_PARTS));

/** What a list of headings with the fields they mean comes to. */
export interface Measured {
  readonly right: number;
  readonly wrong: readonly string[];
  readonly unmatched: readonly string[];
  readonly foreignTaken: readonly string[];
}

/** The field a heading alone is taken for, with nothing seen of its cells. */
export function fieldAlone(heading: string): string | null {
  return matchColumns(matcher, [{ column: 0, heading, evidence: null }]).matches[0]?.field ?? null;
}

export function measure(headings: readonly (readonly [string, string | null])[]): Measured {
  const wrong: string[] = [];
  const foreignTaken: string[] = [];
  const unmatched: string[] = [];
  let right = 0;
  for (const [heading, field] of headings) {
    const got = fieldAlone(heading);
    if (field === null) {
      if (got !== null) foreignTaken.push(`${heading} as ${got}`);
    } else if (got === field) right += 1;
    else if (got === null) unmatched.push(`${heading}: ${field}`);
    else wrong.push(`${heading} as ${got}`);
  }
  return { right, wrong, unmatched, foreignTaken };
}
