import { readDateText } from "../book/headings/dates.ts";
import { percentText } from "../book/records/percent.ts";
import { fieldOfPart } from "../book/records/positions.ts";
import { eachRegister, type RegisterReading } from "../book/records/registers.ts";
import { type Day, isoText } from "../core/day.ts";
import { CAUTIONS } from "../book/records/cautions.ts";
import { markOf } from "../book/answers/marks.ts";
import type { Undated } from "../book/reading/unread/missing-columns.ts";
import type { QuietRemarks } from "../book/reading/remarks/quiet-remarks.ts";
import { strangeParts } from "../book/reading/unread/strange-parts.ts";
import type { OwnLog } from "../book/records/own-log.ts";
import { counted, listed } from "../book/records/problems.ts";
import type { Reading } from "../book/records/records.ts";
import { columnLetters } from "../book/workbook/snapshot.ts";
import type { DueItem, Today } from "../book/day/today.ts";
import type { OpenBook } from "./open.ts";
import { oneLine } from "./shown.ts";

/** The one line on logs of the programme's own that nobody has confirmed, with what to type; none without them. */
function unconfirmedLine(logs: readonly OwnLog[], path: string): string[] {
  const open = logs.filter(({ confirmed }) => !confirmed);
  const [first, ...others] = open;
  if (first === undefined) return [];
  const names = listed(open.map(({ sheet }) => sheet));
  const lines = counted(
    open.reduce((sum, one) => sum + one.lines, 0),
    "line",
  );
  const what = others.length === 0 ? "your own log" : "your own logs";
  // What is confirmed already is said again, else it would be so no longer.
  const said = logs.filter((log) => log.confirmed || log === first).map(({ sheet }) => sheet);
  const which = logs.length === 1 ? "" : `--sheet ${pasted(said.join(";"))} `;
  return [
    `${names} may be ${what} (${lines}), and no replacement in it counts yet: npx sparespan own-log "${path}" --confirm ${which}--in-place (--none if it is no log).`,
  ];
}

/** A name from a workbook in a command that people paste: a shell must not act on its signs. */
function pasted(name: string): string {
  return /^[\p{L}\p{N} ;_.-]+$/u.test(name) ? `"${name}"` : "SHEET";
}

/** What no list can tell, above it: where uses are from, a log that nobody has confirmed, and dates of parts that nobody follows. */
export function besideLists(book: OpenBook): string[] {
  const { workbook, reading, path } = book;
  return [
    ...usesLines(reading),
    ...unconfirmedLine(reading.ownLogs, path),
    ...strangeParts(workbook.snapshot, reading).map(({ cause, fix }) => `${cause} ${fix}`),
  ];
}

/** The today list as lines for people; a part without a column is one line, not one a device. */
export function todayLines(
  today: Today,
  undated: readonly Undated[],
  beside: readonly string[] = [],
): string[] {
  const isTold = ({ part, due, state }: DueItem): boolean =>
    state === "Check row" && due === null && undated.some((one) => one.part.name === part);
  const items = today.items.filter((item) => !isTold(item));
  const counts = [
    `Overdue ${today.overdue}`,
    `To check ${today.toCheck}`,
    `Due soon ${today.dueSoon}`,
    `Not due ${today.notDue}`,
  ];
  const retired = today.retired === 0 ? "" : `; ${counted(today.retired, "device")} retired`;
  const inspections =
    today.inspectionsMissing === null
      ? "Inspections: none in the Job log."
      : `Inspections this week: ${today.inspectionsMissing} devices have not had all of theirs yet.`;
  return [
    `Report date ${isoText(today.reportDate)}: ${counted(today.devices, "device")}${retired}. Parts: ${counts.join(" · ")}`,
    inspections,
    ...beside,
    ...(today.items.length === 0 ? ["Nothing is due."] : []),
    ...(items.length === 0 ? [] : ["", ...table(items)]),
    ...undated.flatMap(({ part, problem }) => {
      const rows = today.items.filter((item) => item.part === part.name && isTold(item)).length;
      const line = `${markOf("Check row")} Check row  ${counted(rows, "device")}. ${problem.cause} ${problem.fix}`;
      // A dated task has no rows until a column is understood as its dates.
      if (part.task) return ["", `${problem.cause} ${problem.fix}`];
      return rows === 0 ? [] : ["", line];
    }),
    "",
    CAUTIONS.planningAid,
  ];
}

function table(items: readonly DueItem[]): string[] {
  const rows = items.map((item) => [
    `${markOf(item.state)} ${item.state}`,
    item.device,
    item.site,
    item.part,
    item.due === null ? "no date" : isoText(item.due),
    [lateness(item), item.why].filter((text) => text !== "").join("; "),
  ]);
  return aligned([["State", "Device", "Site", "Part", "Due", ""], ...rows]);
}

function lateness({ daysLate, outOfUse }: DueItem): string {
  // What is out of use has no days left.
  if (daysLate === null || (outOfUse && daysLate <= 0)) return "";
  if (daysLate === 0) return "today";
  const days = `${Math.abs(daysLate)} day${Math.abs(daysLate) === 1 ? "" : "s"}`;
  return daysLate > 0 ? `${days} late` : `in ${days}`;
}

/** Rows of texts with every column as wide as its widest text. */
export function aligned(texts: readonly (readonly string[])[]): string[] {
  const rows = texts.map((row) => row.map(oneLine));
  const widths = (rows[0] ?? []).map((_, column) =>
    rows.reduce((widest, row) => Math.max(widest, row[column]?.length ?? 0), 0),
  );
  return rows.map((row) =>
    row
      .map((text, column) => text.padEnd(widths[column] ?? 0))
      .join("  ")
      .trimEnd(),
  );
}

/** How the registers were understood: where they are, which column is what, and how sure that is. */
export function matchLines(reading: Reading): string[] {
  return [...registersFound(reading), ...usesLines(reading)];
}

/** The same of the registers alone, where a list below says from where the uses are. */
export function registersFound(reading: Reading): string[] {
  return eachRegister(reading).flatMap(registerLines);
}

/** Remarks that change nothing, since none of their words is known: they are to be read by somebody. */
export function remarkLines(quiet: readonly QuietRemarks[]): string[] {
  return quiet.map(
    ({ sheet, heading, remarks, texts }) =>
      `${counted(remarks, "remark")} on ${sheet} under "${heading}" not understood, so no date changes by it: ${listed(texts)}.`,
  );
}

/** Each sheet that uses were taken from, with its first and last month: a wrong one would lengthen intervals unseen. */
function usesLines({ counts, ours }: Pick<Reading, "counts" | "ours">): string[] {
  const unit = ours.settings.countsBabies ? "babies" : "uses";
  return [...new Set(counts.map(({ sheet }) => sheet))].flatMap((sheet) => {
    const months = counts.flatMap((one) =>
      one.sheet === sheet && one.count !== null ? [one.month] : [],
    );
    if (months.length === 0) return [];
    const monthText = (month: Day): string => isoText(month).slice(0, 7);
    const first = monthText(months.reduce((least, month) => (month < least ? month : least)));
    const last = monthText(months.reduce((most, month) => (month > most ? month : most)));
    const from = first === last ? first : `${first} to ${last}`;
    return [`Uses from ${sheet}: ${counted(months.length, "count")} of ${unit}, ${from}.`];
  });
}

/** Headings of months above counts are used, as usesLines says. */
function isMonth(heading: string): boolean {
  return /^\d{5}$/u.test(heading) || readDateText(heading, "heading") !== null;
}

function registerLines({ register, devices, ours, counts }: RegisterReading): string[] {
  const isCounted = counts.some(({ sheet }) => sheet === register.sheet);
  const unused = register.unmatched.filter((heading) => !isCounted || !isMonth(heading));
  const known = new Set(register.matches.map(({ field }) => fieldOfPart(field)));
  const missing = ours.parts.map(({ code }) => `last:${code}`).filter((field) => !known.has(field));
  return [
    `Register: ${register.sheet}, headings in row ${register.headerRow + 1}; ${counted(devices.length, "device")}, ${counted(register.leftOut.length, "row")} left out.`,
    ...aligned(
      register.matches.map(({ field, column, heading, confidence, by }) => [
        `  ${field}`,
        `column ${columnLetters(column)}`,
        `"${heading}"`,
        by === "heading" ? `${percentText(confidence, 0)} sure` : "chosen",
      ]),
    ),
    ...missing.map((field) => `  ${field}  no column`),
    ...(unused.length === 0
      ? []
      : [`  not used: ${unused.map((heading) => `"${heading}"`).join(", ")}`]),
  ];
}
