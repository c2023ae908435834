import { z } from "zod";
import { answered } from "../book/languages/answers.ts";
import type { LineRefused, PlacedEntry } from "../book/day/entries.ts";
import { FINDINGS, JOBS } from "../book/sheets/job-log.ts";
import { partText } from "../book/records/positions.ts";
import { day } from "../core/day.ts";
import { type CsvRecord, csvRecords } from "./csv.ts";

/** Jobs in a file, a line each: CSV with headings, or JSON objects, one a line. */

const text = z.string().trim().default("");
const word = (words: readonly string[], needed: boolean) =>
  z
    .string()
    .trim()
    .toLowerCase()
    .refine((said) => words.includes(said) || (said === "" && !needed), {
      error: ({ input }) => `must be ${words.join(", ")}, got ${JSON.stringify(input)}`,
    });
const needed = z.string({ error: "is missing" }).trim().min(1, "is missing");

/** A line as it may be written; what it names no key for is refused, so that a slip is no silence. */
const ENTRY_LINE = z.strictObject({
  date: z.iso.date({
    error: ({ input }) => `must be a day as yyyy-mm-dd, got ${JSON.stringify(input)}`,
  }),
  device: needed,
  part: needed,
  position: text,
  job: word(JOBS, true),
  finding: word(FINDINGS, false).default(""),
  complete: z
    .union([z.boolean(), z.string().trim()], { error: "must be yes or no" })
    .default(false)
    .transform((said, context) => {
      const complete = typeof said === "boolean" ? said : said === "" ? false : answeredOr(said);
      if (complete !== null) return complete;
      context.addIssue(`must be yes or no, got ${JSON.stringify(said)}`);
      return z.NEVER;
    }),
  lot: text,
  by: needed,
  note: text,
  row: z.union([z.literal(""), z.coerce.number().int().min(1)]).nullish(),
  sheet: text.nullable(),
});

function answeredOr(said: string): boolean | null {
  if (/^(?:true|1)$/i.test(said)) return true;
  return /^(?:false|0)$/i.test(said) ? false : answered(said);
}

/** The lines of a file that can be judged, and those that cannot, each with all that is wrong in it. */
export function entryLines(content: string): {
  readonly lines: readonly PlacedEntry[];
  readonly refused: readonly LineRefused[];
} {
  const isJson = content.trimStart().startsWith("{");
  const records = isJson ? jsonRecords(content) : csvRecords(content).map(withoutBlanks);
  const lines: PlacedEntry[] = [];
  const refused: LineRefused[] = [];
  for (const { line, value } of records) {
    const where = `line ${line}`;
    const read = ENTRY_LINE.safeParse(value);
    if (read.success) lines.push({ where, entry: entryOf(read.data) });
    else refused.push({ where, why: read.error.issues.map(sentence).join("; ") });
  }
  return { lines, refused };
}

interface Written {
  readonly line: number;
  readonly value: unknown;
}

/** A blank cell of a CSV says nothing. */
function withoutBlanks({ line, cells }: CsvRecord): Written {
  const value = Object.fromEntries(
    Object.entries(cells).filter(([name, cell]) => name !== "" && cell !== ""),
  );
  return { line, value };
}

function jsonRecords(content: string): Written[] {
  return content.split("\n").flatMap((written, at): Written[] => {
    if (written.trim() === "") return [];
    try {
      return [{ line: at + 1, value: JSON.parse(written) as unknown }];
    } catch {
      return [{ line: at + 1, value: null }];
    }
  });
}

function sentence({ path, message, code }: z.core.$ZodIssue): string {
  if (path.length === 0) return code === "unrecognized_keys" ? message : "is no JSON object";
  return `${path.join(".")} ${message}`;
}

function entryOf(read: z.infer<typeof ENTRY_LINE>): PlacedEntry["entry"] {
  const { row, sheet, date, part, position, ...said } = read;
  return {
    ...said,
    date: day(date),
    part: partText(part, position),
    row: typeof row === "number" ? row : null,
    sheet: sheet === "" ? null : sheet,
  };
}
