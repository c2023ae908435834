import { type Day, fromSerial, isoText, weekStart } from "../../core/day.ts";
import { InputError } from "../../core/errors.ts";
import { damageIn, findingText, HARMLESS } from "../records/finding-words.ts";
import { LIFE_ENDS } from "../../core/due.ts";
import { weekNamed, weekText } from "../evidence/period.ts";
import { type WorkReader, workReader } from "../headings/work-text.ts";
import { unitNamed } from "../records/positions.ts";
import type { Part } from "../records/records.ts";
import { headingColumn, headingRow } from "../sheets/layout.ts";
import { FINDINGS } from "../sheets/job-log.ts";
import { isBlank, quoted, textOf } from "../workbook/cells.ts";
import { type CellValue, type Sheet, type Snapshot, valueAt } from "../workbook/snapshot.ts";
import type { LineRefused, PlacedEntry } from "./entries.ts";
import type { Entry } from "./entry-meant.ts";
import { tickedIn } from "./round-boxes.ts";
import { fittedDoubt, fittedIn } from "./round-fitted.ts";

/** What people typed into round sheets: jobs that can be judged, and lines nobody can read. */
export interface RoundLines {
  /** Round sheets that are there. */
  readonly sheets: readonly string[];
  readonly lines: readonly PlacedEntry[];
  readonly refused: readonly LineRefused[];
}

/** Reads every filled round sheet of a book: an inspection each date, a replacement each lot. */
export function roundLines(snapshot: Snapshot, parts: readonly Part[]): RoundLines {
  const sheets = snapshot.sheets.filter(isRoundSheet);
  const beside = { dateSystem: snapshot.dateSystem, parts, turns: workReader(parts).turns };
  const read = sheets.map((sheet) => linesIn(sheet, beside));
  return {
    sheets: sheets.map(({ name }) => name),
    lines: read.flatMap(({ lines }) => lines),
    refused: read.flatMap(({ refused }) => refused),
  };
}

/** Whether a book has round sheets to be read. */
export function hasRoundSheets({ sheets }: Snapshot): boolean {
  return sheets.some(isRoundSheet);
}

function isRoundSheet(sheet: Sheet): boolean {
  return (
    sheet.tables.some(({ name }) => /^spareround/i.test(name)) ||
    (textOf(valueAt(sheet, 0, 0)).startsWith("Round sheet ") &&
      headingColumn(sheet, "Week") !== null)
  );
}

/** A cell of a row under a heading. */
type At = (heading: string) => CellValue;

function linesIn(sheet: Sheet, beside: Beside): Omit<RoundLines, "sheets"> {
  const lines: PlacedEntry[] = [];
  const refused: LineRefused[] = [];
  for (let row = headingRow(sheet) + 1; row < sheet.values.length; row += 1) {
    const at: At = (heading) => {
      const column = headingColumn(sheet, heading);
      return column === null ? null : valueAt(sheet, row, column);
    };
    const where = `${sheet.name}, row ${row + 1}`;
    const read = rowLines(at, beside);
    lines.push(...read.entries.map((entry) => ({ where, entry })));
    refused.push(...read.faults.map((why) => ({ where, why })));
  }
  return { lines, refused };
}

interface Beside {
  readonly dateSystem: Snapshot["dateSystem"];
  readonly parts: readonly Part[];
  /** Whether a note may turn what stands beside it. */
  readonly turns: WorkReader["turns"];
}

interface Turn {
  readonly date: Day;
  readonly finding: string;
  readonly by: string;
  readonly note: string;
}

/** The jobs of a row, or what is wrong with each of its turns. */
function rowLines(
  at: At,
  beside: Beside,
): { readonly entries: readonly Entry[]; readonly faults: readonly string[] } {
  const { turns, faults } = turnsOf(at, beside);
  const said = (heading: string): string => textOf(at(heading));
  const names = { device: said("Device"), part: said("Part"), note: said("Note") };
  const base: Entry = { ...NO_ENTRY, ...names };
  const isTask = unitNamed(beside.parts, base.part)?.part.task === true;
  const fitted = fittedIn(textOf(at("Replaced, lot")));
  if (turns.length + faults.length === 0 && base.note !== "" && fitted === null) {
    const cause = `the Note ${quoted(base.note)} stands alone and is no job`;
    return { entries: [], faults: [`${cause}: log it with its day, or remove it from the sheet`] };
  }
  const looked = isTask
    ? []
    : turns.map((turn): Entry => ({ ...base, ...turn, note: joined(turn.note, base.note) }));
  const when = replacedIn(turns);
  if (isTask) {
    const done: Entry[] = when === null ? [] : [{ ...base, ...when, job: "calibrated" }];
    return { entries: done.map((entry) => ({ ...entry, finding: "", note: base.note })), faults };
  }
  if (fitted === null) return { entries: looked, faults };
  const doubt = fittedDoubt(fitted, base.note, beside.turns);
  if (doubt !== null) return { entries: looked, faults: [...faults, doubt] };
  if (when === null) {
    const undated = "it was replaced, and no date says when: type the day";
    // A turn that is refused has a day: what is wrong with it is said already.
    return { entries: looked, faults: faults.length > 0 ? faults : [undated] };
  }
  const { date, by } = when;
  const lot = fitted.lot ?? "";
  const renewal: Entry = { ...base, date, by, lot, job: "replaced", complete: true };
  // A day without a finding is that of the new set: nobody says that the part was inspected.
  const others = looked.filter((one) => one.date !== date || one.finding !== "");
  return { entries: [...others, renewal], faults };
}

const NO_ENTRY = {
  ...{ device: "", row: null, sheet: null, part: "", job: "inspected", finding: "" },
  ...{ complete: false, lot: "", by: "", note: "", date: 0 as Day },
} satisfies Entry;

/** The turns of a row that can be read, and what is wrong with the others. */
function turnsOf(
  at: At,
  { dateSystem }: Beside,
): { readonly turns: readonly Turn[]; readonly faults: readonly string[] } {
  const turns: Turn[] = [];
  const faults: string[] = [];
  for (let turn = 1; turn <= 7; turn += 1) {
    const [when, who] = [at(`Date ${turn}`), at(`By ${turn}`)];
    // Sheets of an earlier layout have a cell for the finding's word in place of boxes.
    const word = findingText(at(`Finding ${turn}`)).trim();
    const found = [...tickedIn(at, turn), ...(word === "" ? [] : [word])];
    if (isBlank(when) && isBlank(who) && found.length === 0) continue;
    const read = turnOf({ when, who, found }, { turn, week: textOf(at("Week")), dateSystem });
    if (typeof read === "string") faults.push(read);
    else turns.push(read);
  }
  return { turns, faults };
}

/** The turn in which it was replaced: the first that ended its life, else the first: no interval begins late. */
function replacedIn(turns: readonly Turn[]): Turn | null {
  const byDay = [...turns].sort((one, other) => one.date - other.date);
  return byDay.find(({ finding }) => damageIn(finding) !== null) ?? byDay[0] ?? null;
}

interface TurnPlace {
  readonly turn: number;
  readonly week: string;
  readonly dateSystem: Snapshot["dateSystem"];
}

interface TurnCells {
  readonly when: CellValue;
  readonly who: CellValue;
  /** What the boxes say, in their order. */
  readonly found: readonly string[];
}

/** A turn, or what is wrong with it. */
function turnOf(
  { when, who, found }: TurnCells,
  { turn, week, dateSystem }: TurnPlace,
): Turn | string {
  const what = textOf(when);
  const date = typeof when === "number" ? fromSerial(when, dateSystem) : null;
  if (date === null) {
    return what === ""
      ? `Date ${turn} is blank`
      : `Date ${turn} must be a date, got ${quoted(what)}`;
  }
  // A day of another week is a slip of the year or the month, or of the sheet.
  const monday = mondayOf(week);
  if (monday === null) return `Week must be a week such as 2026-W48, got ${quoted(week)}`;
  if (monday !== weekStart(date)) {
    return `Date ${turn} is ${isoText(date)}, in ${weekText(weekStart(date))}; the sheet is of ${week}`;
  }
  const said = found.join("; ");
  if (found.includes("clean") && found.length > 1) {
    return `inspection ${turn} is ticked as clean and as something else, got ${quoted(said)}: keep only what is true`;
  }
  const finding = findingMeant(said);
  if (finding === null) {
    return `the finding of inspection ${turn} must be ${FINDINGS.join(", ")}, got ${quoted(said)}`;
  }
  const by = textOf(who);
  if (by === "") return `By ${turn} is blank: state who did it, by role or initials`;
  return { date, finding, by, note: finding === said.toLowerCase() ? "" : said };
}

function mondayOf(week: string): Day | null {
  try {
    return weekNamed(week);
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

/** Which of the Job log's findings each stem is that ends a part's life. */
const STEMS: ReadonlyMap<string, string> = new Map(
  LIFE_ENDS.flatMap((stem): [string, string][] => {
    const finding = FINDINGS.find((one) => one.startsWith(stem));
    return finding === undefined ? [] : [[stem, finding]];
  }),
);

/** The Job log's word for a finding as it was typed; null where nobody can tell, or it says two things. */
function findingMeant(said: string): string | null {
  const words = said.toLowerCase();
  if (words === "") return "";
  if (FINDINGS.some((one) => one === words)) return words;
  if (HARMLESS.includes(words)) return "clean";
  const found = [...STEMS].flatMap(([stem, finding]) => (words.includes(stem) ? [finding] : []));
  return found[0] ?? null;
}

function joined(...texts: readonly string[]): string {
  return texts.filter((text) => text !== "").join("; ");
}
