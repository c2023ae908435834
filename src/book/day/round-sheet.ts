import { type Day, isoText } from "../../core/day.ts";
import { CAUTIONS } from "../records/cautions.ts";
import { counted } from "../records/problems.ts";
import { FINDINGS } from "../sheets/job-log.ts";
import { onPage } from "../sheets/paper.ts";
import { tableWidth } from "../sheets/shape.ts";
import { keyOf } from "../workbook/cells.ts";
import { findingBox } from "./round-boxes.ts";
import { fingerprint } from "../workbook/expect.ts";
import { weekText } from "../evidence/period.ts";
import type { Round, RoundRow, Rounds } from "./rounds.ts";
import type { Result } from "../sheets/result.ts";
import { type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";

const DATE = "yyyy-mm-dd";
const LONGEST_NAME = 31;
const START = "Round sheet ";

/** Points of a row on paper that can be written on by hand: 8.5 mm, and more where the page has room. */
const [WRITTEN_ROW, HIGHEST_ROW] = [24, 40];
/** Points of the title, the lines below it and the headings. */
const HEAD = 160;

/** The rows fill the page, at the size at which so many characters are printed. */
function rowPoints(rows: number, characters: number): number {
  const { scale, points } = onPage(characters);
  const fills = (points - HEAD) / Math.max(1, rows);
  return Math.floor(Math.min(HIGHEST_ROW / scale, Math.max(WRITTEN_ROW / scale, fills)));
}

/** The Round sheet of each site: one row a device and part, with room to write. */
export function roundSheets(rounds: Rounds): Result[] {
  return rounds.rounds.map((round) => roundSheet(round, rounds));
}

function roundSheet(
  { site, rows }: Round,
  { reportDate, monday, holidays, times }: Rounds,
): Result {
  const { sheet, table } = roundNames(site);
  const round = resultSheet({
    name: sheet,
    title: `Round sheet ${site}`,
    table,
    about: "what one site has to inspect and replace in a week, with room to write",
    room: 5000,
    buttonless: true,
    columns: roundColumns(monday, times),
    keys: ["Week", "Device", "Part"],
  });
  const { layout } = round;
  const points = rowPoints(rows.length, tableWidth(layout.columns));
  const filled = round.filled({
    reportDate,
    answer: roundAnswer(rows),
    notes: [
      `Week ${weekText(monday)}, ${isoText(monday)} to ${isoText((monday + 6) as Day)}.`,
      ...(holidays.length === 0 ? [] : [`Holidays: ${holidays.map(isoText).join(", ")}.`]),
      "Tick what was found, one box for each inspection.",
      CAUTIONS.damage,
    ],
    rows,
  });
  return { ...filled, layout: { ...filled.layout, rowPoints: points } };
}

/** How much there is to do, in one line. */
function roundAnswer(rows: readonly RoundRow[]): string {
  const devices = new Set(rows.map(({ device }) => device)).size;
  const inspected = rows.filter(({ times }) => times > 0).length;
  const marked = rows.filter(({ state }) => state !== "").length;
  return `${counted(devices, "device")}: ${counted(inspected, "part")} to inspect, ${marked} to replace, carry out or check`;
}

/** One site's columns, with room for so many inspections. */
function roundColumns(monday: Day, times: number) {
  return {
    Device: { width: 11, about: "As in the register.", cell: ({ device }) => device },
    Part: { width: 13, wraps: true, about: "Name from Parts.", cell: ({ part }) => part.name },
    State: {
      width: 11,
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
      width: 11,
      wraps: true,
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
    "Replaced, lot": { width: 11, input: true, about: "Lot of the complete new set." },
    Note: { width: 12, wraps: true, input: true, about: "No patient data." },
    Week: { width: 8, about: "ISO week.", cell: () => weekText(monday) },
  } satisfies ResultColumns<RoundRow>;
}

/** Date, a box for each finding, and initials of each inspection. */
function turnColumns(times: number): ResultColumns<RoundRow> {
  const turns = Array.from({ length: times }, (_, at) => at + 1).map((turn) => [
    [`Date ${turn}`, { width: 11, format: DATE, input: true, about: "The day." }],
    ...FINDINGS.map((finding) => [findingBox(finding, turn), BOX]),
    [`By ${turn}`, { width: 6, input: true, about: "Role or initials." }],
  ]);
  return Object.fromEntries(turns.flat()) as ResultColumns<RoundRow>;
}

const BOX = { width: 3, upright: true, input: true, about: "Ticked where it was found." } as const;

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
