import { type RemarkReader, remarkReader } from "../../headings/remark-text.ts";
import type { Job, Part, Reading, Register } from "../../records/records.ts";
import { saysNothing } from "../../headings/job-text.ts";
import { JOB_LOG } from "../../sheets/job-log.ts";
import { keyOf, textOf } from "../../workbook/cells.ts";
import { sheetNamed, type Snapshot } from "../../workbook/snapshot.ts";
import { firstWords } from "../told/first-words.ts";
import { remarkColumns } from "./remarks-heard.ts";

/** Remarks under a heading of which nothing is known: they change no date, and nobody is told of one of them alone. */
export interface QuietRemarks {
  readonly sheet: string;
  readonly heading: string;
  readonly remarks: number;
  /** Their wordings as they are shown, each once. */
  readonly texts: readonly string[];
}

/**
 * Remarks beside the devices of registers that speak neither against a date nor of a part in known words. Words are
 * many, so that some of these may yet withdraw a date: whoever checks a register is shown them.
 *
 * @param snapshot The workbook.
 * @param reading Its reading.
 * @returns One entry a column of remarks; none where every remark is heard.
 */
export function quietRemarks(
  snapshot: Snapshot,
  { registers, ours: { parts, jobs } }: Pick<Reading, "registers" | "ours">,
): QuietRemarks[] {
  const { says } = remarkReader(parts);
  return [
    ...registers.flatMap((register) => quietIn(snapshot, register, { says, parts })),
    ...quietNotes(jobs),
  ];
}

/** Notes beside replacements of the Job log that neither take them back nor plainly say nothing. */
function quietNotes(jobs: readonly Job[]): QuietRemarks[] {
  const notes = jobs.flatMap(({ sheet, job, date, note, own }) => {
    const isCounted = own !== true && date !== null && (job === "replaced" || job === "calibrated");
    return isCounted && note !== "" && !saysNothing(note) ? [{ sheet, note }] : [];
  });
  const [first] = notes;
  if (first === undefined) return [];
  const texts = [...new Map(notes.map(({ note }) => [keyOf(note), firstWords(note)])).values()];
  return [{ sheet: first.sheet, heading: NOTE, remarks: notes.length, texts }];
}

const NOTE = JOB_LOG.columns.at(-1)?.heading ?? "";

function quietIn(
  snapshot: Snapshot,
  register: Register,
  { says, parts }: Pick<RemarkReader, "says"> & { readonly parts: readonly Part[] },
): QuietRemarks[] {
  const values = sheetNamed(snapshot, register.sheet)?.values ?? [];
  const state = register.matches.find(({ field }) => field === "status")?.column;
  return remarkColumns({ register }, parts)
    .filter((column) => column !== state)
    .flatMap((column) => {
      const quiet = register.rows
        .map((row) => textOf(values[row]?.[column] ?? null))
        .filter((text) => text !== "" && says(text) === "nothing");
      const texts = [...new Map(quiet.map((text) => [keyOf(text), firstWords(text)])).values()];
      const heading = register.headings[column] ?? "";
      return quiet.length === 0
        ? []
        : [{ sheet: register.sheet, heading, remarks: quiet.length, texts }];
    });
}
