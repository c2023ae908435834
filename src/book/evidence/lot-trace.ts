import type { Day } from "../../core/day.ts";
import { CAUTIONS } from "../records/cautions.ts";
import type { Reading } from "../records/records.ts";
import { traceDevice, traceLot } from "./trace.ts";
import { type Trace, TRACES } from "./trace-place.ts";
import type { Result } from "../sheets/result.ts";
import type { Change } from "../sheets/result-plan.ts";
import { type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";

const DATE = "yyyy-mm-dd";

/** The Lot trace sheet: one row a place where a lot is, was or may be. */
const LOT_TRACE = resultSheet({
  name: "Lot trace",
  title: "Lot trace",
  table: "SpareLotTrace",
  about: "where a lot is, was or may be, or the lots a device has and had",
  room: 20_000,
  columns: {
    Where: { width: 14, about: "An unknown lot counts as affected.", cell: ({ kind }) => kind },
    Site: { width: 18, about: "Code from Sites.", cell: ({ site }) => site },
    Device: {
      width: 16,
      about: "As in the register; blank for a shelf.",
      cell: ({ device }) => device || null,
    },
    Part: { width: 18, about: "Name from Parts.", cell: ({ part }) => part || null },
    Lot: { width: 16, format: "@", about: "As written.", cell: ({ lot }) => lot || null },
    Fitted: {
      width: 12,
      format: DATE,
      about: "Date of the row in the Job log.",
      cell: ({ fitted }) => fitted,
    },
    Replaced: {
      width: 12,
      format: DATE,
      about: "Next complete replacement.",
      cell: ({ replaced }) => replaced,
    },
    Units: { width: 8, format: "0", about: "On the shelf.", cell: ({ units }) => units },
    Note: { width: 46, wraps: true, about: "What is in doubt.", cell: ({ note }) => note || null },
  } satisfies ResultColumns<Trace>,
});

/** A trace and what was traced, in words. */
export interface Traced {
  readonly traces: readonly Trace[];
  readonly of: string;
}

/** Traces a lot or the lots of a device; null for an unknown device. */
export function traced(reading: Reading, by: "lot" | "device", name: string): Traced | null {
  if (by === "lot") return { traces: traceLot(reading, name), of: `lot ${name.trim()}` };
  const traces = traceDevice(reading, name);
  return traces === null ? null : { traces, of: `lots of device ${name.trim()}` };
}

/** How many places there are of each kind. */
export function traceCounts(traces: readonly Trace[]): string {
  return TRACES.map(
    (kind) => `${traces.filter((trace) => trace.kind === kind).length} ${kind}`,
  ).join(", ");
}

/** What a trace adds to a book. */
export function lotChange({ traces, of }: Traced, reportDate: Day): Change {
  return {
    results: [traceSheet(traces, of, reportDate)],
    summary: `trace of ${of}: ${traceCounts(traces)}`,
  };
}

/** The Lot trace sheet; `of` says what was traced. */
function traceSheet(traces: readonly Trace[], of: string, reportDate: Day): Result {
  return LOT_TRACE.filled({
    reportDate,
    notes: [`Traced: ${of}.`, "An unknown lot counts as affected.", CAUTIONS.notJudged],
    rows: traces,
  });
}
