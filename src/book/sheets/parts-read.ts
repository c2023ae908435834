import { DEFAULT_PARTS } from "../records/parts.ts";
import { fault, listed } from "../records/problems.ts";
import type { Part, PartField, Problem, Supply } from "../records/records.ts";
import { keyOf } from "../workbook/cells.ts";
import type { Sheet } from "../workbook/snapshot.ts";
import { shownCell } from "./heard.ts";
import { type InputRow, inputRows, toldOf } from "./input-rows.ts";
import { headingColumn } from "./layout.ts";
import { type Limits, limitsIn } from "./part-limits.ts";
import { PARTS, SERVICE_COLUMNS, type Service } from "./parts.ts";
import { SUPPLY_COLUMNS } from "./supply.ts";

/**
 * The parts of a Parts sheet. None is lost: a code in small letters is the same part, a code that cannot be
 * used is replaced by one made from it, and of a code that stands twice the more careful cells count.
 */
export function readParts(sheet: Sheet): {
  readonly parts: readonly Part[];
  readonly problems: readonly Problem[];
} {
  const supplies = inputRows(sheet, PARTS, SUPPLY_COLUMNS, 1900);
  const services = inputRows(sheet, PARTS, SERVICE_COLUMNS, 1900);
  const problems: Problem[] = [...toldOf(services), ...toldOf(supplies)];
  // A code that shows an error may be the twin of any other.
  const unclear = services.some(({ doubts }) => doubts.has("code"));
  const taken = new Set(services.map(({ record }) => plainCode(record.code)));
  const byCode = new Map<string, Part>();
  services.forEach((service, at) => {
    const supply = supplies[at];
    if (supply === undefined) return;
    const named = codeOf(service, taken);
    problems.push(...codeProblems(sheet, service, named));
    if (named === null) return;
    const limits = limitsIn(service, named.code, sheet);
    problems.push(...limits.problems);
    const part = partOf({ service, supply, named, limits, unclear });
    const twin = byCode.get(named.code);
    if (twin !== undefined) problems.push(isRepeated(sheet, service, named.code));
    byCode.set(named.code, twin === undefined ? part : moreCareful(twin, part));
  });
  const parts = [...byCode.values()];
  const names = parts.map(({ name }) => keyOf(name));
  const isTwice = ({ name }: Part): boolean =>
    names.filter((other) => other === keyOf(name)).length > 1;
  const twice = parts.filter(isTwice);
  if (twice.length > 0) problems.push(sharedName(sheet, twice));
  return { parts: parts.map((part) => (isTwice(part) ? apart(part) : part)), problems };
}

/** A part told from another of the same name: by the usual name of its code, or by the code itself. */
function apart(part: Part): Part {
  const usual = nameOf(part.code);
  return { ...part, name: usual === part.code ? `${part.name} (${part.code})` : usual };
}

function sharedName(sheet: Sheet, parts: readonly Part[]): Problem {
  const { heading } = SERVICE_COLUMNS.name;
  const place = { sheet: sheet.name, row: null, column: headingColumn(sheet, heading), heading };
  const codes = listed(parts.map(({ code }) => code));
  const called = listed(parts.map((part) => apart(part).name));
  const cause = `${codes} have one name; until that is settled they are called ${called}.`;
  return fault("part code", place, cause, "Give each part a name of its own.");
}

interface Named {
  readonly code: string;
  /** The cell holds the code, whatever its case: formulas find it there. */
  readonly stands: boolean;
  readonly plain: boolean;
}

/** The letters of a code that people see; "" where it has others. */
function plainCode(written: string): string {
  const code = keyOf(written).toUpperCase();
  return /^[A-Z]+$/.test(code) ? code : "";
}

/** The code of a row's part; null where the row names no part. */
function codeOf({ record, filled }: InputRow<Service>, taken: Set<string>): Named | null {
  const { code: written, name } = record;
  const plain = plainCode(written);
  if (plain !== "") {
    return { code: plain, stands: written.toUpperCase() === plain, plain: written === plain };
  }
  if (filled.size === 0) return null;
  const usual = DEFAULT_PARTS.find((part) => keyOf(part.name) === keyOf(name))?.code;
  const letters = (text: string): string => text.toUpperCase().replaceAll(/[^A-Z]/g, "");
  let code = usual !== undefined && !taken.has(usual) ? usual : letters(written) || letters(name);
  while (code === "" || taken.has(code)) code = code === "" ? "PART" : `${code}X`;
  taken.add(code);
  return { code, stands: false, plain: false };
}

function codeProblems(
  sheet: Sheet,
  { row, record, filled }: InputRow<Service>,
  named: Named | null,
): Problem[] {
  if (named?.plain === true) return [];
  const place = placeOf(sheet, row);
  if (named === null) {
    return [
      fault(
        "part code",
        place,
        "The row names no part, so it is not used.",
        "Type its code, or clear the row.",
      ),
    ];
  }
  const shown = filled.has("code") ? shownCell(record.code) : "A blank";
  const cause = `${shown} is not a code of capital letters only; it is read as ${named.code}.`;
  return [fault("part code", place, cause, `Type ${named.code}.`)];
}

function isRepeated(sheet: Sheet, { row }: InputRow<Service>, code: string): Problem {
  const cause = `${code} stands more than once; its rows say Check row, and the more careful cells of both count.`;
  return fault("repeated row", placeOf(sheet, row), cause, "Keep one of the rows.");
}

function placeOf(sheet: Sheet, row: number) {
  const heading = SERVICE_COLUMNS.code.heading;
  return { sheet: sheet.name, row, column: headingColumn(sheet, heading), heading };
}

interface Read {
  readonly service: InputRow<Service>;
  readonly supply: InputRow<Supply>;
  readonly named: Named;
  readonly limits: { readonly values: Limits; readonly fields: readonly PartField[] };
  readonly unclear: boolean;
}

function partOf({ service, supply, named, limits, unclear }: Read): Part {
  const { record, doubts } = service;
  const fields = new Set<PartField>([
    ...[...doubts.keys()].filter((field) => field !== "code" && field !== "name"),
    ...limits.fields,
    ...supply.doubts.keys(),
    ...(named.stands && !unclear ? [] : (["code"] as const)),
  ]);
  return {
    ...record,
    ...limits.values,
    code: named.code,
    name: doubts.has("name") ? nameOf(named.code) : record.name || named.code,
    supply: supply.record,
    doubts: [...fields],
  };
}

/** What a part is called whose name cannot be read. */
function nameOf(code: string): string {
  return DEFAULT_PARTS.find((part) => part.code === code)?.name ?? code;
}

/** One part of two rows that bear the same code: what shortens, costs or asks for more. */
function moreCareful(one: Part, other: Part): Part {
  const months = Math.min(
    ...[one, other].flatMap(({ shortest, longest }) =>
      [shortest, longest].filter((end) => end !== null),
    ),
  );
  const [first, second] = [one.supply, other.supply];
  const samePrice = first.packPrice === second.packPrice && first.pack === second.pack;
  return {
    ...one,
    shortest: months,
    longest: months,
    useBudget: null,
    lightUse: null,
    heavyUse: null,
    perWeek: Math.max(one.perWeek, other.perWeek),
    vinyl: true,
    task: one.task && other.task,
    supply: {
      ...first,
      perReplacement: Math.max(first.perReplacement, second.perReplacement),
      pack: Math.min(first.pack, second.pack),
      packPrice: samePrice ? first.packPrice : null,
      earlyCost: first.earlyCost === second.earlyCost ? first.earlyCost : null,
      leadDays: Math.max(first.leadDays, second.leadDays),
      leadSpread: Math.max(first.leadSpread, second.leadSpread),
      shelfMonths:
        first.shelfMonths === null || second.shelfMonths === null
          ? (first.shelfMonths ?? second.shelfMonths)
          : Math.min(first.shelfMonths, second.shelfMonths),
    },
    doubts: [
      ...new Set([
        ...one.doubts,
        ...other.doubts,
        "code" as const,
        ...(samePrice ? [] : (["packPrice"] as const)),
      ]),
    ],
  };
}
