import { pagesOf, quoted } from "../../workbook/cells.ts";
import { evidenceOf } from "../../headings/column-profile.ts";
import { ANY_PART, partNames } from "../../headings/fields.ts";
import { holdsDates, matcherFor } from "../../headings/match.ts";
import { knownWords, wordsOf } from "../../headings/words.ts";
import { ownTitles } from "../../answers/titles.ts";
import { listed, notice } from "../../records/problems.ts";
import { jobIndex } from "../../records/job-index.ts";
import { allLastColumns } from "../../records/positions.ts";
import type { Problem, Reading } from "../../records/records.ts";
import { isPassed } from "./history-columns.ts";
import { eachRegister, type RegisterReading } from "../../records/registers.ts";
import type { Snapshot } from "../../workbook/snapshot.ts";

const MOST_NAMED = 6;
const KNOWN = new Set(knownWords());

/** Whether a heading has all the words of a name. */
function namesIt(heading: string, name: string): boolean {
  const said = new Set(wordsOf(heading, KNOWN).map(({ text }) => text));
  return wordsOf(name, KNOWN).every(({ text }) => said.has(text));
}

/**
 * Columns of dates that say something was replaced, and from which nothing is read: parts that Parts does not have, or
 * no longer has, and pieces of those it has. Whatever is due by them is in no list, so today's list says so above. It is
 * no fault: batteries and filters are replaced too. Where a part has no column at all they are named with it
 * (missing-columns.ts).
 */
export function strangeParts(snapshot: Snapshot, reading: Reading): Problem[] {
  return eachRegister(reading).flatMap((one) => strangeIn(snapshot, one));
}

function strangeIn(snapshot: Snapshot, { register, ours, devices }: RegisterReading): Problem[] {
  const page = pagesOf(snapshot).find(({ sheet }) => sheet.name === register.sheet);
  const last = register.rows.at(-1);
  const wearing = ours.parts.filter(({ task }) => !task);
  const logged = jobIndex(ours).parts;
  const isNamed = wearing.some(
    (part) => !logged.has(part) && allLastColumns(register, part).length === 0,
  );
  if (page === undefined || last === undefined || isNamed || devices.length === 0) return [];
  const matcher = matcherFor(ours.parts);
  const used = new Set(register.matches.map(({ column }) => column));
  const isOwn = ownTitles(ours.parts)(register.headings);
  const strange = register.headings.flatMap((heading, column) => {
    if (heading === "" || used.has(column) || isOwn(heading)) return [];
    if (!matcher.covers(heading, ANY_PART)) return [];
    const evidence = evidenceOf(page, column, register.headerRow + 1, last);
    // What a later column of the latest dates tells is no other part.
    const ofIt = wearing.flatMap((part) =>
      partNames(part, ours.parts).some((name) => namesIt(heading, name))
        ? allLastColumns(register, part).map((one) => one.column)
        : [],
    );
    if (!holdsDates(evidence) || isPassed(page, register, column, ofIt)) return [];
    return [{ heading, column }];
  });
  const [first] = strange;
  if (first === undefined) return [];
  const names = strange.map(({ heading }) => quoted(heading));
  const { code = "CODE", name = "Part" } = wearing[0] ?? {};
  return [
    notice(
      "unclear column",
      { sheet: register.sheet, row: null, ...first },
      `The dates under ${listed(names, MOST_NAMED)} say that something was replaced, and nothing is read from them: what is due by them is in no list.`,
      `If it is a part of its own, give it a row on Parts; if it is a piece of one that is there, number the headings, such as "${name} 1 replaced"; if it is the right column of one, give --match "last:${code}=${first.heading}".`,
    ),
  ];
}
