import type { KeptReport } from "./report.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import { periodText } from "./evidence-sheet.ts";
import type { Layout } from "../sheets/layout.ts";
import type { Result } from "../sheets/result.ts";

const DATE = "yyyy-mm-dd";

/** The Findings sheet: one row a finding that ends a part's life, open ones first. */
const FINDING_LIST: Layout = {
  name: "Findings",
  title: "Findings and how they were closed",
  table: "SpareFindings",
  about: "findings that end a part's life, when and how each was closed, open ones first",
  room: 5000,
  columns: [
    { heading: "Site", width: 12, about: "Code from Sites." },
    { heading: "Device", width: 16, about: "As in the register." },
    { heading: "Part", width: 18, about: "Blank where the log names none: any wearing part." },
    { heading: "Found", width: 12, format: DATE, about: "Blank where nobody wrote the day." },
    { heading: "Finding", width: 14, about: "As logged." },
    { heading: "Closed", width: 12, format: DATE, about: "Blank while open." },
    { heading: "Days open", width: 10, format: "0", about: "From found to closed." },
    { heading: "How", width: 36, about: "What closed it." },
  ],
};

/** The Findings sheet of a period. */
export function findingSheet({ reportDate, period, findings }: KeptReport): Result {
  return {
    layout: FINDING_LIST,
    reportDate,
    notes: [
      periodText(period),
      "Older ones stand here while they are open. A part with a finding is out of use until the complete set is replaced.",
    ],
    rows: findings.map(({ site, device, part, found, finding, closed, days, how }): CellValue[] => [
      site,
      device,
      part?.name ?? null,
      found,
      finding,
      closed,
      days,
      how,
    ]),
  };
}
