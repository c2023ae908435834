import type { EvidenceReport } from "./report.ts";
import { counted } from "../records/problems.ts";
import type { Result } from "../sheets/result.ts";
import { type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";
import type { LotFitted } from "./lots.ts";

const DATE = "yyyy-mm-dd";

/** The Lots fitted sheet: one row a part in use, unknown lots first. */
const LOTS_FITTED = resultSheet({
  name: "Lots fitted",
  title: "Lots of the parts in use",
  table: "SpareLotsFitted",
  about: "the lot of every part in use, when it was fitted and when it expires, unknown ones first",
  room: 100_000,
  columns: {
    Site: { width: 12, about: "Code from Sites.", cell: ({ site }) => site },
    Device: { width: 16, about: "As in the register.", cell: ({ device }) => device },
    Part: { width: 18, about: "Name from Parts.", cell: ({ part }) => part.name },
    Lot: {
      width: 16,
      format: "@",
      about: "Of the last complete replacement.",
      cell: ({ lot }) => lot || null,
    },
    Fitted: {
      width: 12,
      format: DATE,
      about: "Day of that replacement.",
      cell: ({ fitted }) => fitted,
    },
    Expiry: {
      width: 12,
      format: DATE,
      about: "Earliest date on Shelf for this lot.",
      cell: ({ expiry }) => expiry,
    },
    Gap: {
      width: 32,
      about: "What is missing or wrong.",
      cell: ({ gap }) => gap || null,
    },
  } satisfies ResultColumns<LotFitted>,
});

/** The Lots fitted sheet, as of the report date. */
export function lotsSheet({ reportDate, lots }: EvidenceReport): Result {
  const unknown = lots.filter(({ lot }) => lot === "").length;
  const answer = `${counted(lots.length, "part")} in use, ${unknown} of them without a known lot`;
  return LOTS_FITTED.filled({ reportDate, answer, notes: [], rows: lots });
}
