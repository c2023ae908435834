import type { AddName, Expectation, Plan } from "./plan.ts";
import { sameFormula } from "./same-formula.ts";
import {
  type Area,
  areaText,
  address,
  type CellValue,
  isCellError,
  type Sheet,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "./snapshot.ts";
import { finished, type Steps } from "./steps.ts";

const FNV_OFFSET = 0x811c9dc5;
const FNV_PRIME = 0x01000193;

/** A short text that changes when any of the values changes (FNV-1a over their written form). */
export function fingerprint(values: Iterable<CellValue>): string {
  let hash = FNV_OFFSET;
  for (const value of values) {
    const text = isCellError(value) ? value.error : `${typeof value}:${String(value)}`;
    for (let at = 0; at < text.length; at += 1) {
      hash = Math.imul(hash ^ text.charCodeAt(at), FNV_PRIME);
    }
    hash = Math.imul(hash ^ 0x1f, FNV_PRIME);
  }
  return (hash >>> 0).toString(16).padStart(8, "0");
}

/** Why a plan cannot be applied to the workbook as it stands now: one sentence a reason, none when it can. */
export function refusals(snapshot: Snapshot, plan: Plan): string[] {
  return finished(refusalSteps(snapshot, plan));
}

/** The same in steps. */
export function* refusalSteps(snapshot: Snapshot, plan: Plan): Steps<string[]> {
  const reasons: string[] = [];
  const added = new Set<string>();
  // The columns of one plan share their key: it is looked at once.
  const checked = new Set<Expectation["key"]>();
  for (const edit of plan.edits) {
    yield;
    if (edit.kind === "addSheet") {
      if (sheetNamed(snapshot, edit.sheet))
        reasons.push(`a sheet named ${edit.sheet} is already there`);
      added.add(edit.sheet.toLowerCase());
    } else if (edit.kind === "addName") {
      reasons.push(...nameTaken(snapshot, edit));
    } else {
      const sheet = sheetNamed(snapshot, edit.sheet);
      if (sheet && "expects" in edit) reasons.push(...broken(sheet, edit.expects, checked));
      if (sheet && edit.kind === "growFilter" && !isFilteredAt(sheet, edit.from)) {
        reasons.push(`the filter of ${edit.sheet} has changed since it was read`);
      }
      if (!sheet && !added.has(edit.sheet.toLowerCase()))
        reasons.push(`the sheet ${edit.sheet} is gone`);
    }
  }
  return [...new Set(reasons)];
}

/** A name that refers to something else already; one that leads nowhere is free. */
function nameTaken({ names }: Snapshot, { name, refersTo }: AddName): string[] {
  const there = names.find(
    (one) => one.sheet === null && one.name.toLowerCase() === name.toLowerCase(),
  );
  if (there === undefined || there.refersTo.includes("#REF!")) return [];
  if (sameFormula(there.refersTo, refersTo)) return [];
  return [`the name ${name} already refers to ${there.refersTo}`];
}

function broken(sheet: Sheet, expects: Expectation, checked: Set<Expectation["key"]>): string[] {
  const reasons: string[] = [];
  for (const header of expects.headers ?? []) {
    const found = valueAt(sheet, header.row, header.column);
    if (found !== header.text) {
      reasons.push(
        `${sheet.name}!${address(header.row, header.column)} no longer reads "${header.text}"`,
      );
    }
  }
  if (expects.key && !checked.has(expects.key)) {
    const { column, rows, fingerprint: wanted } = expects.key;
    checked.add(expects.key);
    if (fingerprint(rows.map((row) => valueAt(sheet, row, column))) !== wanted) {
      reasons.push(`the rows of ${sheet.name} have changed since they were read`);
    }
  }
  if (expects.empty) {
    if (anyFilled(sheet, expects.empty)) {
      reasons.push(`${sheet.name}!${areaText(expects.empty)} is not empty`);
    }
  }
  if (expects.unfiltered && isFiltered(sheet)) {
    reasons.push(
      `${sheet.name} is filtered: clear the filter first; nothing is written into a filtered block`,
    );
  }
  return reasons;
}

function anyFilled(sheet: Sheet, area: Area): boolean {
  const { firstRow, lastRow, firstColumn, lastColumn } = area;
  for (let row = firstRow; row <= Math.min(lastRow, sheet.values.length - 1); row += 1) {
    for (let column = firstColumn; column <= lastColumn; column += 1) {
      if (valueAt(sheet, row, column) !== null) return true;
    }
  }
  return false;
}

/** What a plan would change although it is protected: a sentence each for sheets and structure. */
export function protectedIn(snapshot: Snapshot, { edits }: Plan): string[] {
  const sheets = edits.flatMap((edit) =>
    "sheet" in edit && edit.kind !== "addSheet" ? [sheetNamed(snapshot, edit.sheet)] : [],
  );
  const adds = edits.some(({ kind }) => kind === "addSheet");
  return [
    ...(adds && snapshot.fixedSheets === true
      ? ["the workbook's structure is protected and allows no new sheet; unprotect it first"]
      : []),
    ...[...new Set(sheets)].flatMap((sheet) =>
      sheet?.protected === true ? [`${sheet.name} is protected; unprotect it first`] : [],
    ),
  ];
}

/** Whether the sheet's filter still covers an area and hides nothing. */
function isFilteredAt({ filter }: Sheet, area: Area): boolean {
  return filter !== null && !filter.active && areaText(filter.area) === areaText(area);
}

/** Whether a filter hides rows of the sheet. */
export function isFiltered(sheet: Sheet): boolean {
  return sheet.filter?.active ?? false;
}
