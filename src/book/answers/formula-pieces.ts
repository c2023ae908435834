import { OLDEST } from "../../core/due.ts";
import { OWN } from "./answers.ts";
import { HARMLESS, UNKNOWN } from "../records/finding-words.ts";
import { NAME, partName } from "../records/names.ts";
import type { Part } from "../records/records.ts";
import type { OwnUnit } from "../records/own-limits.ts";
import { LONGEST_GONE } from "../records/retired-words.ts";

/**
 * Where a row keeps what the computed columns of one part read: cell references with `{r}` for the
 * row, such as `$D{r}`; null where the register has no such column.
 */
export interface RowCells {
  readonly lastDone: string;
  readonly uses: string | null;
  readonly countedTo: string | null;
  readonly finding: string | null;
  /** An open finding of the Job log, besides the register's own. */
  readonly openFinding: string | null;
  readonly doubt: string | null;
  readonly status: string | null;
  readonly retiredOn: string | null;
  readonly site: string | null;
  /** The register's own due date and interval. */
  readonly ownDue: string | null;
  readonly ownMonths: { readonly cell: string; readonly unit: OwnUnit } | null;
  readonly interval: string;
  readonly due: string;
}

/** Later than any date, and longer than any interval. */
const NEVER = 2958465;

/** Our interval, or the register's own where it is shorter. */
export function orOwnMonths(months: string, { ownMonths }: RowCells): string {
  return ownMonths === null ? months : `MIN(${months},${ownMonthsOf(ownMonths)})`;
}

type OwnMonths = NonNullable<RowCells["ownMonths"]>;

function ownMonthsOf({ cell, unit }: OwnMonths): string {
  const { times, by } = unit;
  const whole = `INT(${cell}${times === 1 ? "" : `*${times}`}${by === 1 ? "" : `/${by}`})`;
  const fewer = by === 1 ? `${NEVER}` : `IF(${daysIn(cell, unit)}>=1,1,${NEVER})`;
  return ifNumber(cell, `IF(${whole}>=1,${whole},${fewer})`);
}

function daysIn(cell: string, { times }: OwnUnit): string {
  return `INT(${cell}${times === 1 ? "" : `*${times}`})`;
}

/** The end of an interval in days or weeks that is shorter than a month; null where intervals are in months. */
function ownEndOf({ ownMonths, lastDone }: RowCells): string | null {
  if (ownMonths === null || ownMonths.unit.by === 1) return null;
  const { cell, unit } = ownMonths;
  const days = daysIn(cell, unit);
  const isShort = `AND(${days}>=1,${days}<${unit.by})`;
  return ifNumber(cell, `IF(${isShort},INT(${lastDone})+${days},${NEVER})`);
}

/** Programs differ on whether TRUE is a number: ask first. */
function ifNumber(cell: string, then: string): string {
  return `IF(ISLOGICAL(${cell}),${NEVER},IF(ISNUMBER(${cell}),${then},${NEVER}))`;
}

/** Our due date, or the register's own where it is earlier and after the last replacement. */
export function orOwnDue(due: string, cells: RowCells): string {
  const { ownDue } = cells;
  const end = orOwnEnd(due, cells);
  return ownDue === null ? end : `MIN(${end},${ownDueOf(ownDue, cells)})`;
}

/** Our due date, or the end of the register's own interval where it is earlier. */
function orOwnEnd(due: string, cells: RowCells): string {
  const end = ownEndOf(cells);
  return end === null ? due : `MIN(${due},${end})`;
}

function ownDueOf(cell: string, { lastDone }: RowCells): string {
  return ifNumber(cell, `IF(INT(${cell})>INT(${lastDone}),INT(${cell}),${NEVER})`);
}

/** "OK", or which limit of the register's own goes before ours; given our own interval and due date. */
function okOrOwn(cells: RowCells, ours: Readonly<Record<"months" | "due", string>>): string {
  const { ownDue, ownMonths } = cells;
  const months = ownMonths === null ? null : `${ownMonthsOf(ownMonths)}<${ours.months}`;
  const end = ownEndOf(cells);
  const isShorter = end === null ? months : `OR(${months ?? ""},${end}<${ours.due})`;
  const shorter = isShorter === null ? '"OK"' : `IF(${isShorter},"${OWN.months}","OK")`;
  if (ownDue === null) return shorter;
  return `IF(${ownDueOf(ownDue, cells)}<${orOwnEnd(ours.due, cells)},"${OWN.due}",${shorter})`;
}

/** The next due date by our interval, as a native formula gives it. */
export function nativeDue(part: Part, cells: RowCells): string {
  return `MAX(INT(${cells.lastDone})+1,${latestWorkday(part, cells)})`;
}

/** The same by our worksheet function. */
export function liveDue(part: Part, cells: RowCells): string {
  return (
    `IF(${NAME.unreadHolidays}=0,SPARE.NEXTDUE(${cells.lastDone},${capped(part, cells)},${NAME.weekend},${NAME.holidays}),` +
    `MAX(INT(${cells.lastDone})+1,${beforeUnread(part, cells)}))`
  );
}

/** The last working day on or before the end of the interval. */
function latestWorkday(part: Part, cells: RowCells): string {
  const plain = `WORKDAY.INTL(${dayAfter(part, cells)},-1,${NAME.weekend},${NAME.holidays})`;
  return `IF(${NAME.unreadHolidays}=0,${plain},${beforeUnread(part, cells)})`;
}

/** The same where cells of Holidays are no date: each may be any day, and takes one more working day. */
function beforeUnread(part: Part, cells: RowCells): string {
  const days = `-1-${NAME.unreadHolidays}`;
  return `WORKDAY.INTL(${dayAfter(part, cells)},${days},${NAME.weekend},${NAME.holidayDates})`;
}

function dayAfter(part: Part, cells: RowCells): string {
  return `EDATE(${cells.lastDone},${capped(part, cells)})+1`;
}

/** An interval typed over the formula never reaches past the longest one. */
function capped(part: Part, { interval }: RowCells): string {
  return `MIN(${interval},${partName(part, "Longest")})`;
}

/** The open finding where there is one, else the register's own; what is not known to be harmless is damage. */
export function liveFinding({ finding, openFinding }: RowCells): string {
  const own = finding === null ? '""' : `IF(${isHarmless(finding)},"","${UNKNOWN}")`;
  return openFinding === null ? own : `IF(${openFinding}<>"",${openFinding},${own})`;
}

/** A worksheet function takes 0 for "not given": a light threshold of 0 is handed over as almost 0. */
function liveRamp(part: Part): string {
  const light = partName(part, "Light");
  const heavy = partName(part, "Heavy");
  const given = `COUNT(${light},${heavy})=2`;
  return `IF(${given},MAX(${light},1E-9),""),IF(${given},MAX(${heavy},1E-9),"")`;
}

export function unlessRetired(cells: RowCells, retired: string, otherwise: string): string {
  const tests = [
    ...(cells.status === null
      ? []
      : [
          `IF(ISTEXT(${cells.status}),SUMPRODUCT(--(TRIM(${cells.status})=${NAME.retiredWords}))>0,FALSE)`,
        ]),
    ...(cells.retiredOn === null
      ? []
      : [
          `IF(ISNUMBER(${cells.retiredOn}),AND(INT(${cells.retiredOn})<=${NAME.reportDate},${cells.retiredOn}>=${NAME.reportDate}-${LONGEST_GONE}),FALSE)`,
        ]),
  ];
  if (tests.length === 0) return otherwise;
  const any = tests.length === 1 ? (tests[0] ?? "") : `OR(${tests.join(",")})`;
  // A retirement that the book contradicts does not count until a person has settled it.
  const settled = cells.doubt === null ? any : `AND(${cells.doubt}="",${any})`;
  return `IF(${settled},${retired},${otherwise})`;
}

/** The date's fault in words, or what holds without one. Programs differ on whether TRUE is a number: ask first. */
export function dateFault({ lastDone, doubt }: RowCells, otherwise = '""'): string {
  return inDoubt(
    doubt,
    `IF(ISLOGICAL(${lastDone}),"Date is text",IF(ISNUMBER(${lastDone}),` +
      `IF(OR(INT(${lastDone})>${NAME.reportDate},${lastDone}<${NAME.reportDate}-${OLDEST}),"Date out of range",${otherwise}),` +
      `IF(ISBLANK(${lastDone}),"No date",IF(ISTEXT(${lastDone}),IF(${lastDone}="","No date","Date is text"),"Date is text"))))`,
  );
}

function inDoubt(doubt: string | null, otherwise: string): string {
  return doubt === null ? otherwise : `IF(${doubt}<>"","Date in doubt",${otherwise})`;
}

function isLate({ countedTo }: RowCells): string {
  return countedTo === null
    ? "FALSE"
    : `IF(ISNUMBER(${countedTo}),EDATE(${countedTo},${NAME.lateMonths})<${NAME.reportDate},TRUE)`;
}

/** The usage's fault in words, or what holds without one. */
function usageFault(cells: RowCells, otherwise: string): string {
  const { uses } = cells;
  if (uses === null) return '"Usage missing"';
  return (
    `IF(ISLOGICAL(${uses}),"Usage is text",IF(ISNUMBER(${uses}),IF(${uses}<0,"Usage below zero",${otherwise}),` +
    `IF(ISBLANK(${uses}),"Usage missing",IF(ISTEXT(${uses}),IF(${uses}="","Usage missing","Usage is text"),"Usage is text"))))`
  );
}

/** Whether the short end applies: no curve, usage that cannot be trusted, vinyl under alcohol, or a row in doubt. */
function usageDoubt(part: Part, cells: RowCells): string {
  const { uses, site } = cells;
  if (uses === null) return "TRUE";
  const notNumber = `IF(ISLOGICAL(${uses}),TRUE,IF(ISNUMBER(${uses}),${uses}<0,TRUE))`;
  const vinyl = `IF(${partName(part, "Vinyl")}="no",FALSE,${site === null ? "TRUE" : usesAlcohol(site)})`;
  const doubt = cells.doubt === null ? "" : `,${cells.doubt}<>""`;
  return `OR(NOT(${partName(part, "Curve")}),${notNumber},${isLate(cells)},${vinyl}${doubt})`;
}

/** Whether a site is not known to use alcohol-free wipes in each of its rows on Sites. */
function usesAlcohol(site: string): string {
  const wipes = `IFERROR(INDEX(${NAME.siteWipes},MATCH(${asWritten(site)},${NAME.siteCodes},0)),"")`;
  const same = `${NAME.siteCodes},"="&${asWritten(site)}`;
  return `IF(${wipes}="alcohol-free",COUNTIFS(${same},${NAME.siteWipes},"=alcohol-free")<COUNTIFS(${same}),TRUE)`;
}

/** MATCH takes * and ? in a text for any characters: another site's wipes must not lengthen an interval. */
function asWritten(cell: string): string {
  const plain = ["~", "*", "?"].reduce(
    (text, sign) => `SUBSTITUTE(${text},"${sign}","~${sign}")`,
    cell,
  );
  return `IF(ISTEXT(${cell}),${plain},${cell})`;
}

/** Months by the curve, or the short end. ROUND to nine places keeps 4.9999999999 from becoming 4. */
export function months(part: Part, cells: RowCells): string {
  const shortest = partName(part, "Shortest");
  if (part.task || cells.uses === null) return `ROUNDDOWN(${shortest},0)`;
  const { uses } = cells;
  const longest = partName(part, "Longest");
  const budget = partName(part, "Budget");
  const light = partName(part, "Light");
  const heavy = partName(part, "Heavy");
  const bySpending = `IF(N(${budget})>0,IF(${uses}=0,${longest},MEDIAN(${shortest},${longest},${budget}/${uses})),${longest})`;
  const climb = `IF(${heavy}>${light},MEDIAN(0,1,(${uses}-${light})/(${heavy}-${light})),--(${uses}>=${heavy}))`;
  const byRamp = `IF(COUNT(${light},${heavy})=2,${longest}-(${longest}-${shortest})*${climb},${longest})`;
  return `ROUNDDOWN(ROUND(IF(${usageDoubt(part, cells)},${shortest},MIN(${bySpending},${byRamp})),9),0)`;
}

/** Overdue by a finding: an open one of the log, or one of the register that is not known to be harmless. */
export function ended({ finding, openFinding }: RowCells, otherwise: string): string {
  const own = finding === null ? otherwise : `IF(${isHarmless(finding)},${otherwise},"Overdue")`;
  return openFinding === null ? own : `IF(${openFinding}<>"","Overdue",${own})`;
}

/** Whether a finding's cell is blank or holds one of the words that say that a part is good. */
function isHarmless(cell: string): string {
  const words = ["", ...HARMLESS].map((word) => `"${word}"`).join(",");
  return `IF(ISTEXT(${cell}),SUMPRODUCT(--(TRIM(${cell})={${words}}))>0,ISBLANK(${cell}))`;
}

export function nativeState({ due }: RowCells): string {
  return (
    `IF(NOT(ISNUMBER(${due})),"Check row",IF(${due}<${NAME.reportDate},"Overdue",` +
    `IF(${due}<=${NAME.reportDate}+${NAME.noticeDays},"Due soon","Not due")))`
  );
}

export function nativeCheck(part: Part, cells: RowCells): string {
  const sound = partName(part, "Sound");
  const ours = { months: months(part, cells), due: nativeDue(part, cells) };
  const limits = `IF(${sound},${okOrOwn(cells, ours)},"Limits missing or crossed")`;
  if (part.task) return dateFault(cells, limits);
  const late =
    cells.countedTo === null ? limits : `IF(AND(${sound},${isLate(cells)}),"Usage late",${limits})`;
  return dateFault(cells, `IF(${partName(part, "Curve")},${usageFault(cells, late)},${limits})`);
}

/** A cell may reach a function as 0 when it is blank: a real 0 is handed over as almost 0. */
export function realZero(cell: string | null): string {
  return cell === null ? '""' : `IF(AND(ISNUMBER(${cell}),${cell}=0),1E-9,${cell})`;
}

export function liveCheck(part: Part, cells: RowCells): string {
  const sound = partName(part, "Sound");
  const uses = part.task ? "1" : `IF(${partName(part, "Curve")},${realZero(cells.uses)},1)`;
  const ends = `IF(${sound},${partName(part, "Shortest")},""),IF(${sound},${partName(part, "Longest")},"")`;
  const check = `SPARE.ROWCHECK(${realZero(cells.lastDone)},${uses},${ends},${NAME.reportDate})`;
  const ok = okOrOwn(cells, { months: liveMonths(part, cells), due: liveDue(part, cells) });
  const own = ok === '"OK"' ? check : `IF(${check}="OK",${ok},${check})`;
  if (part.task || cells.countedTo === null) return inDoubt(cells.doubt, own);
  const late = `AND(${partName(part, "Curve")},${isLate(cells)})`;
  return inDoubt(cells.doubt, `IF(${late},IF(${check}="OK","Usage late",${check}),${own})`);
}

/** Months by our worksheet function. */
export function liveMonths(part: Part, cells: RowCells): string {
  const limits = `${partName(part, "Shortest")},${partName(part, "Longest")}`;
  const uses = part.task
    ? '""'
    : `IF(${usageDoubt(part, cells)},"",MAX(${cells.uses ?? '""'},1E-9))`;
  const curve = part.task
    ? ""
    : `,IF(N(${partName(part, "Budget")})>0,${partName(part, "Budget")},""),${liveRamp(part)}`;
  return `SPARE.SPAN(${uses},${limits}${curve})`;
}
