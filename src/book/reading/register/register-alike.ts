import { deviceKey } from "../../records/device-key.ts";
import { numbersItsOwn } from "./own-numbers.ts";
import type { Day } from "../../../core/day.ts";
import { folded } from "../../languages/words-of.ts";
import { periodOf } from "../../headings/period.ts";
import { monthsIn } from "../../headings/months.ts";
import { fieldOfPart, isLastDone } from "../../records/positions.ts";
import { identifierAt } from "../../workbook/cells.ts";
import type { Matching, Scored } from "./register-sheet.ts";

/** Above this share of known devices a sheet is a copy, or a list about them. */
const COPY = 0.5;
const MOSTLY = 0.8;

/** Whether a sheet holds further devices of the programme, kept as those of the first one are. */
export function isAnother(one: Scored, picked: readonly Scored[]): boolean {
  const [main] = picked;
  return main !== undefined && isKeptAs(one, main) && !isCopy(one, picked);
}

/** Words by which a name says that its sheet was copied, or set aside, in eight languages; Excel numbers its copies. */
const SET_ASIDE =
  /(?<!\p{L})(?:cop(?:y|ies|ie|ia|ias)|kopi[ea]|old|last year|vorjahr|back-?up|bak|archiv\p{L}*|previous|draft|alte?|sicherung|entwurf|ancien\p{L}*|sauvegarde|brouillon|viej[oa]|antigu[oa]|antig[oa]|respaldo|borrador|vecchi[oa]|bozza|oude?|star[aey])(?!\p{L})|\(\d+\)$/u;

/** Whether a sheet's name says that it is a copy, or an old one. */
export function isSetAside({ page }: Matching): boolean {
  return SET_ASIDE.test(folded(page.sheet.name.trim()));
}

/** The sheet that another one, named as a copy, was copied from; the one itself where there is none. */
function originalOf(main: Scored, scored: readonly Scored[]): Scored {
  const isOriginal = (one: Scored): boolean =>
    !isSetAside(one.found) &&
    isKeptAs(one, main) &&
    // Either may have further rows.
    (isCopy(one, [main]) || isCopy(main, [one]));
  return isSetAside(main.found) ? (scored.find(isOriginal) ?? main) : main;
}

/**
 * The register of today among copies that people begin anew each month or year: the sheet whose name says the latest
 * period that has begun. The main one itself where names say no periods, or its original where it is named as a copy.
 */
export function latestOf(likest: Scored, scored: readonly Scored[], reportDate: Day): Scored {
  const main = originalOf(likest, scored);
  const from = (one: Scored): Day | null => periodOf(one.found.page.sheet.name);
  return scored.reduce((best, one) => {
    const [than, own] = [from(best), from(one)];
    if (than === null || own === null || own > reportDate) return best;
    // One that has begun goes before one that has not.
    if (own <= than && than <= reportDate) return best;
    return isKeptAs(one, main) && isCopy(one, [main]) ? one : best;
  }, main);
}

/** Half the fields of the main register, and dates of parts as there, in rows that name a device once or are headed as there. */
export function isKeptAs({ found }: Scored, main: Scored): boolean {
  const fields = fieldsOf(found);
  const wanted = fieldsOf(main.found);
  const shared = [...wanted].filter((field) => fields.has(field)).length;
  return (
    shared * 2 >= wanted.size &&
    hasDates(found) === hasDates(main.found) &&
    (hasDates(found) || !isCounts(found)) &&
    (namesEachOnce(found) || isSister(found, main.found))
  );
}

/**
 * Whether a sheet has the devices and dates of another below the same headings. Then its rows are devices, even where
 * their names cannot be read or stand twice: no site may drop out by that.
 */
function isSister(found: Matching, main: Matching): boolean {
  const headed = main.matches.filter(({ field }) => field === "device" || isLastDone(field));
  const isDated = ({ column }: { readonly column: number }): boolean =>
    found.candidates.some((one) => one.column === column && (one.evidence?.dates ?? 0) > 0);
  return (
    headed.every(({ field, heading }) =>
      found.matches.some((own) => own.field === field && folded(own.heading) === folded(heading)),
    ) && found.matches.some((own) => isLastDone(own.field) && isDated(own))
  );
}

/** Whether its headings are months. */
export function isCounts({ page, heading }: Matching): boolean {
  return monthsIn(page, heading).length >= 2;
}

function fieldsOf({ matches }: Matching): ReadonlySet<string> {
  return new Set(
    matches.flatMap(({ field }) =>
      field === "site" || field === "note" ? [] : fieldOfPart(field),
    ),
  );
}

/** Whether it has dates of parts. */
export function hasDates({ matches }: Matching): boolean {
  return matches.some(({ field }) => isLastDone(field));
}

/** Whether its rows name a device each. */
export function namesEachOnce({ matches, candidates }: Matching): boolean {
  const device = matches.find(({ field }) => field === "device");
  const evidence = candidates.find(({ column }) => column === device?.column)?.evidence;
  return device !== undefined && (evidence?.filled ?? 0) > 0 && (evidence?.distinct ?? 0) >= MOSTLY;
}

/** Whether most devices of a sheet are on those picked. */
export function isCopy(one: Scored, picked: readonly Scored[]): boolean {
  const own = keysIn(one.found).length;
  return (own - strangers(one, picked).length) / Math.max(1, own) > COPY;
}

/**
 * The rows of a sheet whose devices are on none of those picked, by what they are called, neither by their own number nor by their serial one. Where
 * each site numbers its own, number 1 of one is not number 1 of another.
 */
export function strangers({ found }: Scored, picked: readonly Scored[]): string[] {
  const isOwn = (other: Matching): boolean =>
    !isSetAside(found) && !isSetAside(other) && numbersItsOwn(found, other);
  const known = new Set(
    picked.flatMap((one) => (isOwn(one.found) ? [] : keysIn(one.found).flat())),
  );
  const strange = keysIn(found).filter((keys) => !keys.some((key) => known.has(key)));
  return strange.flatMap(([key]) => key ?? []);
}

const gathered = new WeakMap<Matching, readonly (readonly string[])[]>();

/** What each row names its device by. */
function keysIn(found: Matching): readonly (readonly string[])[] {
  const there = gathered.get(found);
  if (there !== undefined) return there;
  const { page, heading, lastRow, matches } = found;
  const column = matches.find(({ field }) => field === "device")?.column ?? 0;
  const serial = matches.find(({ field }) => field === "serial")?.column ?? column;
  const rows: string[][] = [];
  for (let row = heading.last + 1; row <= lastRow; row += 1) {
    const key = deviceKey(identifierAt(page, row, column));
    const other = deviceKey(identifierAt(page, row, serial));
    if (key !== "") rows.push(other === "" ? [key] : [key, other]);
  }
  gathered.set(found, rows);
  return rows;
}
