import { type Day, isoText } from "../../core/day.ts";
import { CAUTIONS } from "../records/cautions.ts";
import { keyOf } from "../workbook/cells.ts";
import { fingerprint } from "../workbook/expect.ts";
import { weekText } from "../evidence/period.ts";
import type { Round, RoundRow, Rounds } from "./rounds.ts";
import type { Result } from "../sheets/result.ts";
import { type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";

const DATE = "yyyy-mm-dd";
const LONGEST_NAME = 31;
const START = "Round sheet ";

/** Points of a row that can be written on by hand: 8.5 mm, and more where the sheet of paper has room. */
const WRITTEN_ROW = 24;
const HIGHEST_ROW = 40;
/** Points below the headings of a sheet of A4 or Letter on its side, at the scale of these columns. */
const ROOM = 540;

/** The rows fill the page. */
function rowPoints(rows: number): number {
  return Math.min(HIGHEST_ROW, Math.max(WRITTEN_ROW, Math.floor(ROOM / Math.max(1, rows))));
}

/** The Round sheet of each site: one row a device and part, with room to write. */
export function roundSheets(rounds: Rounds): Result[] {
  return rounds.rounds.map((round) => roundSheet(round, rounds));
}

function roundSheet(
  { site, rows }: Round,
  { reportDate, monday, holidays, times }: Rounds,
): Result {
  return sheetOf(site, monday, { times, rows: rows.length }).filled({
    reportDate,
    notes: [
      `Week ${weekText(monday)}, ${isoText(monday)} to ${isoText((monday + 6) as Day)}.`,
      ...(holidays.length === 0 ? [] : [`Holidays: ${holidays.map(isoText).join(", ")}.`]),
      CAUTIONS.damage,
    ],
    rows,
  });
}

/** One site's sheet, with room for so many inspections. */
function sheetOf(
  site: string,
  monday: Day,
  { times, rows }: { readonly times: number; readonly rows: number },
) {
  const { sheet, table } = roundNames(site);
  return resultSheet({
    name: sheet,
    title: `Round sheet ${site}`,
    table,
    about: "what one site has to inspect and replace in a week, with room to write",
    room: 5000,
    rowPoints: rowPoints(rows),
    columns: {
      Week: { width: 10, about: "ISO week.", cell: () => weekText(monday) },
      Device: { width: 12, about: "As in the register.", cell: ({ device }) => device },
      Part: { width: 14, about: "Name from Parts.", cell: ({ part }) => part.name },
      State: {
        width: 13,
        about: "Due by the end of the week, overdue or to check.",
        cell: ({ state }) => state || null,
      },
      Due: {
        width: 11,
        format: DATE,
        about: "Latest day for the replacement or task.",
        cell: ({ due }) => due,
      },
      Why: {
        width: 13,
        about: "A finding, or what is wrong with the row.",
        cell: ({ why }) => why || null,
      },
      Inspect: {
        width: 7,
        format: "0",
        about: "Distinct days in this week.",
        cell: (row) => row.times || null,
      },
      ...turnColumns(times),
      "Replaced, lot": { width: 14, input: true, about: "Lot of the complete new set." },
      Note: { width: 16, input: true, about: "No patient data." },
    } satisfies ResultColumns<RoundRow>,
    keys: ["Week", "Device", "Part"],
  });
}

/** Date, finding and initials of each inspection. */
function turnColumns(times: number): ResultColumns<RoundRow> {
  const turns = Array.from({ length: times }, (_, at) => ({
    [`Date ${at + 1}`]: { width: 11, format: DATE, input: true as const, about: "The day." },
    [`Finding ${at + 1}`]: { width: 13, input: true as const, about: "Clean, or what was found." },
    [`By ${at + 1}`]: { width: 7, input: true as const, about: "Role or initials." },
  }));
  return Object.assign({}, ...turns) as ResultColumns<RoundRow>;
}

/** Names of a site's sheet and table: a code that does not fit gets a short text of its own at the end. */
function roundNames(site: string): { readonly sheet: string; readonly table: string } {
  const mark = fingerprint([keyOf(site)]);
  const plain = site.replaceAll(/[[\]:*?/\\'\p{Cc}\p{Cs}\ufffe\uffff]/gu, " ").trim();
  const fits = plain === site && START.length + site.length <= LONGEST_NAME && !/[()]/.test(site);
  const room = LONGEST_NAME - START.length - mark.length - 1;
  const short = plain.replaceAll(/[()]/g, " ").slice(0, room).trim();
  const letters = site.replaceAll(/[^A-Za-z0-9]/g, "");
  return {
    sheet: START + (fits ? site : `${short} ${mark}`.trim()),
    table: `SpareRound${letters === site ? site : `_${mark}`}`,
  };
}
