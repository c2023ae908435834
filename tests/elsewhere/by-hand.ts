import {
  addMonths,
  type Day,
  dueState,
  fromSerial,
  laterPrice,
  nextDue,
  orderBy,
  rowCheck,
  replacementInterval,
  toSerial,
  workCalendar,
} from "../../src/core/index.ts";
import type { Part, Site } from "../../src/book/records/records.ts";
import { type CellValue, isCellError } from "../../src/book/workbook/snapshot.ts";
import type { Rows } from "../functions/excel-calls.ts";
import type { Settings } from "../../src/book/records/settings.ts";

/** What holds for a whole programme. */
export interface Calendar {
  readonly system: 1900 | 1904;
  readonly settings: Settings;
  readonly holidays: readonly Day[];
}

/**
 * The arithmetic a person can call over the cells of a workbook: through the library's public door, or
 * through the functions Excel calls. Dates are serial numbers of the workbook, null is a blank.
 */
export interface Arithmetic {
  readonly span: (uses: number | null, limits: Limits) => CellValue;
  readonly nextDue: (lastDone: number, months: number) => CellValue;
  readonly dueState: (due: number | null, finding: CellValue) => CellValue;
  readonly rowCheck: (lastDone: CellValue, uses: CellValue, limits: Limits | null) => CellValue;
  readonly orderBy: (needBy: number, leadDays: number) => CellValue;
  readonly price: (today: number, years: number) => number;
}

/** Limits and curve of a part. */
type Limits = Pick<Part, "useBudget" | "lightUse" | "heavyUse"> & {
  readonly shortest: number;
  readonly longest: number;
};

/** A part in use: when its interval began, its months now and then, and its last day in service. */
export interface Unit {
  readonly began: number;
  readonly months: number;
  readonly then: number;
  readonly until: number | null;
}

/** Whether a unit comes back at the same interval for the whole year. */
export function isSteady({ months, then, until }: Unit): boolean {
  return months === then && until === null;
}

/** The day of a cell that holds a date. */
function dayOf(serial: number, system: 1900 | 1904): Day {
  const found = fromSerial(Math.floor(serial), system);
  if (found === null) throw new Error(`${serial} is no date`);
  return found;
}

/** The library, by its public door. */
export function library({ system, settings, holidays }: Calendar): Arithmetic {
  const { reportDate, noticeDays } = settings;
  const calendar = workCalendar(settings.weekend, holidays);
  const shift = toSerial(reportDate, 1900) - toSerial(reportDate, system);
  const date = (serial: number): Day => dayOf(serial, system);
  return {
    span: (usesPerMonth, limits) => replacementInterval({ ...limits, usesPerMonth }),
    nextDue: (last, months) => toSerial(nextDue(date(last), months, calendar), system),
    dueState: (due, finding) =>
      dueState(
        due === null ? null : date(due),
        reportDate,
        noticeDays,
        typeof finding === "string" ? finding : null,
      ),
    rowCheck: (last, uses, limits) =>
      rowCheck(
        {
          lastDone: typeof last === "number" ? last + shift : plain(last),
          usesPerMonth: plain(uses),
          shortest: limits?.shortest ?? null,
          longest: limits?.longest ?? null,
        },
        reportDate,
      ),
    orderBy: (needBy, lead) => toSerial(orderBy(date(needBy), lead, calendar), system),
    price: (price, years) => laterPrice(price, settings.priceRise, years),
  };
}

/** TRUE and errors are no numbers and no blanks. */
function plain(cell: CellValue): number | string | null {
  return typeof cell === "boolean" || isCellError(cell) ? "no number" : cell;
}

/** Our functions, as cells call them. A real 0 is handed over as almost 0: a function takes 0 for a blank. */
export function worksheet({ system, settings, holidays }: Calendar, rows: Rows): Arithmetic {
  const { noticeDays, weekend } = settings;
  const reportDate = toSerial(settings.reportDate, system);
  const days = holidays.map((date) => [toSerial(date, system)]);
  const one = (id: string, ...cells: Parameters<Rows>[1]): CellValue =>
    rows(id, cells)[0]?.[0] ?? null;
  const number = (cell: CellValue): number => (typeof cell === "number" ? cell : NaN);
  const given = <T>(cell: T): T | number => (cell === 0 ? 1e-9 : cell);
  return {
    span: (uses, { shortest, longest, useBudget, lightUse, heavyUse }) =>
      one("SPAN", given(uses), shortest, longest, useBudget, given(lightUse), given(heavyUse)),
    nextDue: (last, months) => one("NEXTDUE", last, months, weekend, days),
    dueState: (due, finding) => one("DUESTATE", due, reportDate, given(noticeDays), finding),
    rowCheck: (last, uses, limits) =>
      one(
        "ROWCHECK",
        given(last),
        given(uses),
        limits?.shortest ?? null,
        limits?.longest ?? null,
        reportDate,
      ),
    orderBy: (needBy, lead) => one("ORDERBY", needBy, lead, weekend, days),
    price: (price, years) =>
      number(one("PACKCOST", 1, 1, price, 0, 0, years === 0 ? 0 : settings.priceRise, years)),
  };
}

/** The cells of one row that the computed columns of a part follow from. */
export interface RowHeld {
  readonly lastDone: CellValue;
  readonly uses: CellValue;
  /** Undefined where usage carries no date. */
  readonly countedTo: CellValue | undefined;
  readonly finding: CellValue;
  readonly openFinding: CellValue;
  readonly doubt: CellValue;
  readonly status: CellValue;
  readonly retiredOn: CellValue;
  readonly site: CellValue;
}

/** Interval, next due, state and row check of a row, put together by hand from the arithmetic. */
export function rowByHand(
  part: Part,
  row: RowHeld,
  hand: Hand,
): readonly [CellValue, CellValue, CellValue, CellValue] {
  const { arithmetic, calendar } = hand;
  const inDoubt = !isBlank(row.doubt);
  if (!inDoubt && isGone(row, calendar)) return ["", "", "Retired", "OK"];
  const { lastDone } = row;
  const limits = soundLimits(part);
  const interval = limits === null ? "" : arithmetic.span(trustedUses(part, row, hand), limits);
  const due = inDoubt ? "" : dueByHand(lastDone, interval, hand);
  const worn = !isBlank(row.openFinding) || !isFine(row.finding);
  const state = arithmetic.dueState(typeof due === "number" ? due : null, worn ? "damage" : null);
  const check = arithmetic.rowCheck(
    lastDone,
    limits !== null && hasCurve(part) ? row.uses : 1,
    limits,
  );
  const isLateOnly = check === "OK" && hasCurve(part) && isLate(row, calendar);
  return [interval, due, state, inDoubt ? "Date in doubt" : isLateOnly ? "Usage late" : check];
}

function dueByHand(lastDone: CellValue, interval: CellValue, { arithmetic }: Hand): CellValue {
  if (typeof lastDone !== "number" || typeof interval !== "number") return "";
  const isDated = arithmetic.rowCheck(lastDone, 1, ONE_MONTH) === "OK";
  return isDated ? arithmetic.nextDue(lastDone, interval) : "";
}

/** What a finding may say of a part that stays in use; a person who reads anything else takes it out. */
const FINE =
  /^(?:clean|ok(?:ay)?|good|intact|pass(?:ed)?|none|no findings?|nothing found|-|other)?$/i;

function isFine(finding: CellValue): boolean {
  if (finding === null) return true;
  return typeof finding === "string" && FINE.test(finding.split(" ").filter(Boolean).join(" "));
}

function isBlank(cell: CellValue): boolean {
  return cell === null || cell === "";
}

function hasCurve({ task, useBudget, lightUse, heavyUse }: Part): boolean {
  return !task && ((useBudget ?? 0) > 0 || (lightUse !== null && heavyUse !== null));
}

/** A count that came too long ago, or on nobody knows which day. */
function isLate({ countedTo }: RowHeld, { system, settings }: Calendar): boolean {
  if (countedTo === undefined) return false;
  if (typeof countedTo !== "number") return true;
  return addMonths(dayOf(countedTo, system), settings.lateMonths) < settings.reportDate;
}

/** Uses a month that may lengthen an interval; null is the short end. */
function trustedUses(part: Part, row: RowHeld, { calendar, sites }: Hand): number | null {
  const { uses } = row;
  const reads =
    hasCurve(part) && isBlank(row.doubt) && !isLate(row, calendar) && !hardens(part, row, sites);
  return reads && typeof uses === "number" && uses >= 0 ? uses : null;
}

/** Whose programme it is, and by which arithmetic. */
export interface Hand {
  readonly arithmetic: Arithmetic;
  readonly calendar: Calendar;
  readonly sites: readonly Site[];
}

const ONE_MONTH = { shortest: 1, longest: 1, useBudget: null, lightUse: null, heavyUse: null };
const GONE = [
  "retired",
  "disposed",
  "scrapped",
  "decommissioned",
  "written off",
  "ausgemustert",
  "réformé",
  "reforme",
  "dada de baja",
];
const LONGEST_GONE = 18263;

function isGone({ status, retiredOn }: RowHeld, { system, settings }: Calendar): boolean {
  const word = typeof status === "string" ? status.trim().replaceAll(/ +/g, " ") : "";
  const today = toSerial(settings.reportDate, system);
  const on = typeof retiredOn === "number" ? Math.floor(retiredOn) : Infinity;
  return GONE.includes(word.toLowerCase()) || (on <= today && on >= today - LONGEST_GONE);
}

/** Vinyl where nobody says that the wipes are free of alcohol. */
function hardens(part: Part, { site }: RowHeld, sites: readonly Site[]): boolean {
  const home = sites.find(({ code, numeric }) =>
    numeric
      ? Number(code) === site
      : typeof site === "string" && code.toLowerCase() === site.toLowerCase(),
  );
  return part.vinyl && home?.wipes.toLowerCase() !== "alcohol-free";
}

/** The limits of a part as they are handed over; null where they make no sense. */
function soundLimits({ shortest, longest, useBudget, lightUse, heavyUse }: Part): Limits | null {
  if (shortest === null || longest === null) return null;
  const areWhole = Number.isInteger(shortest) && Number.isInteger(longest);
  const ends = areWhole && 1 <= shortest && shortest <= longest && longest <= 120;
  const [light, heavy] = [lightUse ?? 0, heavyUse ?? 0];
  const ramp = (lightUse === null) === (heavyUse === null) && 0 <= light && light <= heavy;
  if (!ends || !ramp || (useBudget !== null && useBudget < 1)) return null;
  return { shortest, longest, useBudget, lightUse, heavyUse };
}
