import { answered } from "../languages/answers.ts";
import { ownTitles } from "../answers/titles.ts";
import { isLastDone } from "../records/positions.ts";
import { type CellPlace, fault, listed, notice } from "../records/problems.ts";
import type { Part, Problem } from "../records/records.ts";
import { type RemarkReader, remarkReader } from "../headings/remark-text.ts";
import { wordsOf } from "../headings/words.ts";
import { keyOf, textOf } from "../workbook/cells.ts";
import { cellAt } from "../workbook/snapshot.ts";
import { firstWords, placeIn, unweighed, wordsSaid } from "./comments.ts";
import type { Named } from "./devices.ts";
import type { Found } from "./register.ts";

/** What people wrote beside devices: rows it speaks against, and what is told. */
interface Remarks {
  readonly rows: ReadonlySet<number>;
  /** By row the codes of parts that they speak against, where they say nothing of the rest. */
  readonly parts: ReadonlyMap<number, readonly string[]>;
  readonly problems: readonly Problem[];
}

const SETTLE =
  "Settle it, correct the row (Retired for a device that has left), and clear the remark or move what it says to the Job log.";

/**
 * Remarks in columns of notes and states, and comments to other cells of their rows than dates. A remark that withdraws or condemns
 * puts its row in doubt, or the parts alone that it names; one that speaks of a part in words that are not weighed is told.
 */
export function readRemarks(
  found: Found,
  named: readonly Named[],
  parts: readonly Part[],
): Remarks {
  const { says, onlyOf } = remarkReader(parts);
  const rows = new Set<number>();
  const doubted = new Map<number, readonly string[]>();
  const serving = named.filter(({ retired }) => !retired);
  const told = new Set<string>();
  const heard = [
    ...inComments(found, serving, says),
    ...inNames(found, serving, says),
    ...inColumns(found, serving, { says, parts }),
  ];
  const problems = heard.flatMap(
    ({ device: { id, row }, column, text, said = text, heard }): Problem[] => {
      const place = placeIn(found, row, column);
      if (heard === "comment") return [unweighed(place, text)];
      if (heard === "against") {
        const codes = onlyOf(said);
        if (codes === null) rows.add(row);
        else doubted.set(row, [...(doubted.get(row) ?? []), ...codes]);
        const only = codes === null ? "" : ` In doubt is ${listed(codes)} alone.`;
        const kind = codes === null ? "remark" : "part remark";
        return [fault(kind, place, `Of ${id} it says ${firstWords(text)}.${only}`, SETTLE)];
      }
      const before = told.size;
      return told.add(keyOf(text)).size > before ? [openRemark(place, text)] : [];
    },
  );
  return { rows, parts: doubted, problems };
}

/** What is said of a device in a cell of its row, or in the comment to one. */
interface Heard {
  readonly device: Named;
  readonly column: number;
  readonly text: string;
  /** The text without whoever wrote it, where that stands before it. */
  readonly said?: string;
  readonly heard: "against" | "open" | "comment";
}

type Says = RemarkReader["says"];

/** Comments to the cells of a device's row; those to its dates are heard with the dates. */
function inComments({ page, register }: Found, serving: readonly Named[], says: Says): Heard[] {
  const { comments } = page.sheet;
  if (comments === undefined) return [];
  const dated = new Set(
    register.matches.flatMap(({ field, column }) => (isLastDone(field) ? [column] : [])),
  );
  const byRow = new Map(serving.map((device) => [device.row, device]));
  return [...comments].flatMap(([key, text]): Heard[] => {
    const { row, column } = cellAt(key);
    const device = byRow.get(row);
    if (device === undefined || dated.has(column)) return [];
    const said = wordsSaid(text);
    const heard = says(said) === "against" ? "against" : "comment";
    return [{ device, column, text, said, heard }];
  });
}

/** What stands behind a device's name in its own cell: "Screener 3 (retired 1/9/26)". */
const BEHIND = /(?<=[([]).*(?=[)\]])|(?<=\s[–—-]\s).*$|(?<=[,;]).*$/u;

function inNames({ columns }: Found, serving: readonly Named[], says: Says): Heard[] {
  const column = columns.get("device") ?? 0;
  return serving.flatMap((device): Heard[] => {
    const text = BEHIND.exec(device.id)?.[0] ?? "";
    return says(text) === "against" ? [{ device, column, text, heard: "against" }] : [];
  });
}

function inColumns(
  found: Found,
  serving: readonly Named[],
  { says, parts }: { readonly says: Says; readonly parts: readonly Part[] },
): Heard[] {
  const { page, register, columns } = found;
  return [...remarkColumns(found, parts), ...unheaded(found)].flatMap((column) => {
    const isStatus = column === columns.get("status");
    const asksSure = SURE.test(register.headings[column] ?? "");
    return serving.flatMap((device): Heard[] => {
      const text = textOf(page.sheet.values[device.row]?.[column] ?? null);
      // What a status says of leaving is told with the other statuses, and so is what is not weighed.
      const heard = asksSure && answered(text) === false ? "against" : says(text, isStatus);
      if (heard === "nothing" || (heard === "open" && isStatus)) return [];
      return [{ device, column, text, heard }];
    });
  });
}

/** Columns without a heading beside the devices: what stands there is a note. */
function unheaded({ page, register: { rows, headings } }: Found): number[] {
  const width = rows.reduce((most, row) => Math.max(most, page.sheet.values[row]?.length ?? 0), 0);
  return Array.from({ length: width }, (_, at) => at).filter((at) => (headings[at] ?? "") === "");
}

function openRemark(place: CellPlace, text: string): Problem {
  const cause = `The remark ${firstWords(text)} may change a date and is not weighed.`;
  return notice("unweighed remark", place, cause, "See whether it changes a date.");
}

/** Headings under which people say how a device is. */
const OF_STATE = new Set([
  "condition",
  "state",
  "status",
  "problem",
  "problems",
  "issue",
  "issues",
]);
const SURE = /^(?:sure|certain|are you sure|date sure|date certain|reliable)\b/iu;

/** Columns of notes, of states and of "sure?"; those that are taken for something else are not among them. */
export function remarkColumns(
  { register }: Pick<Found, "register">,
  parts: readonly Part[],
): number[] {
  const isOurs = ownTitles(parts)(register.headings);
  const taken = new Map(register.matches.map(({ column, field }) => [column, field]));
  return register.headings.flatMap((heading, column) => {
    const field = taken.get(column);
    if (field !== undefined) return field === "note" || field === "status" ? [column] : [];
    if (isOurs(heading)) return [];
    const words = wordsOf(heading, null).map(({ text }) => text);
    const isRemark = words.some((word) => word === "note" || OF_STATE.has(word));
    return isRemark || SURE.test(heading) ? [column] : [];
  });
}
