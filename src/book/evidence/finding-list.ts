import type { EvidenceReport } from "./report.ts";
import { periodText } from "./evidence-sheet.ts";
import { counted } from "../records/problems.ts";
import type { Result } from "../sheets/result.ts";
import { type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";
import type { FindingRecord } from "./finding.ts";

const DATE = "yyyy-mm-dd";

/** The Findings sheet: one row a finding that ends a part's life, open ones first. */
const FINDING_LIST = resultSheet({
  name: "Findings",
  title: "Findings and how they were closed",
  table: "SpareFindings",
  about: "findings that end a part's life, when and how each was closed, open ones first",
  room: 5000,
  columns: {
    Site: { width: 12, about: "Code from Sites.", cell: ({ site }) => site },
    Device: { width: 16, about: "As in the register.", cell: ({ device }) => device },
    Part: {
      width: 18,
      about: "Blank where the log names none: it may be any wearing part.",
      cell: ({ part }) => part?.name ?? null,
    },
    Found: {
      width: 12,
      format: DATE,
      about: "Blank if no date was recorded.",
      cell: ({ found }) => found,
    },
    Finding: { width: 14, about: "As logged.", cell: ({ finding }) => finding },
    Closed: {
      width: 12,
      format: DATE,
      about: "Blank while open.",
      cell: ({ closed }) => closed,
    },
    "Days open": {
      width: 10,
      format: "0",
      about: "Days from found to closed.",
      cell: ({ days }) => days,
    },
    How: { width: 36, about: "What closed it.", cell: ({ how }) => how },
  } satisfies ResultColumns<FindingRecord>,
});

/** The Findings sheet of a period. */
export function findingSheet({ reportDate, period, findings }: EvidenceReport): Result {
  return FINDING_LIST.filled({
    reportDate,
    answer: `${counted(findings.length, "finding")}, ${findings.filter(({ closed }) => closed === null).length} of them open`,
    notes: [
      periodText(period),
      "Older ones stay here while they are open. A part with a finding is out of use until the complete set is replaced.",
    ],
    rows: findings,
  });
}
