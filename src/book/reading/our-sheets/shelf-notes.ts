import { mustGo } from "../../headings/job-text.ts";
import { matcherFor } from "../../headings/match.ts";
import { remarkReader } from "../../headings/remark-text.ts";
import { answered } from "../../languages/answers.ts";
import { phraseOf } from "../../languages/words-of.ts";
import { partNamed } from "../../records/parts.ts";
import { positionOf } from "../../records/position-words.ts";
import { fault, notice, wholeSheet } from "../../records/problems.ts";
import type { Ours, Part, Problem, ShelfItem } from "../../records/records.ts";
import { findSheet, HEADING_ROW, headingColumn, headingRow } from "../../sheets/layout.ts";
import { besideColumns } from "../../sheets/lost-headings.ts";
import { readShelf, SHELF } from "../../sheets/shelf.ts";
import { keyOf, quoted, textOf } from "../../workbook/cells.ts";
import { type Sheet, sheetNamed, type Snapshot, valueAt } from "../../workbook/snapshot.ts";
import { firstWords } from "../told/first-words.ts";
import { saidBeside } from "../jobs/job-notes.ts";
import { namesParts } from "../rows/part-rows.ts";
import type { Written } from "../jobs/swapped-jobs.ts";

/** Stock that is there and not to be used, in folded phrases of eight languages. */
const HELD =
  /(?:^| )(?:blocked|locked|reserved|on hold|quarantined?|used|not new|gesperrt\w*|reserviert\w*|(?:zu)?ruckruf|zuruckgerufen\w*|gebrauchte?[nsr]?|bloquee?s?|reservee?s?|rappele?e?s?|usagee?s?|bloquead[oa]s?|reservad[oa]s?|retirad[oa]s?|usad[oa]s?|bloccat[oaie]|riservat[oaie]|richiamat[oaie]|usat[oaie]|geblokkeerde?|gereserveerde?|teruggeroepen|gebruikte?|zablokowan\w+|zarezerwowan\w+|wycofan\w+|uzywan\w+)(?= |$)/u;

/**
 * The programme with its Shelf, and what is told of that sheet. A row has what condemns it: what is damaged or must not
 * be used is no spare. Its part is known by every word that heads dates of the part in a register.
 */
export function withShelf(snapshot: Snapshot, ours: Ours): Written {
  const sheet = findSheet(snapshot, SHELF);
  if (sheet === null) return { ours, problems: lostShelf(snapshot) };
  const { items, problems } = readShelf(sheet, snapshot.dateSystem);
  const saidOf = condemning(sheet, ours);
  const shelf = items.map((item): ShelfItem => {
    const said = saidOf(item);
    const meant = { ...item, part: partMeant(ours.parts, item.part) };
    return said === undefined ? meant : { ...meant, remark: firstWords(said) };
  });
  const told = [...problems, ...strangeRows(sheet, shelf, ours.parts)];
  const faults = told.filter(({ severity }: Problem) => severity === "fault");
  return { ours: { ...ours, shelf, doubts: [...ours.doubts, ...faults] }, problems: told };
}

/** What in a row condemns it: words beside it, with its part or its lot, or a number under such a heading. */
function condemning(sheet: Sheet, ours: Ours): (item: ShelfItem) => string | undefined {
  const { says } = remarkReader(ours.parts);
  const isHeld = (text: string): boolean => HELD.test(phraseOf(text));
  const beside = saidBeside(sheet, SHELF);
  const head = headingRow(sheet);
  const held = besideColumns(sheet, SHELF)
    .map((column) => ({ column, heading: textOf(valueAt(sheet, head, column)) }))
    .filter(({ heading }) => isHeld(heading));
  return ({ row, part, lot }) => {
    const known = partNamed(ours.parts, part) === null ? [part] : [];
    const said = [...beside(row), lot, ...known].find(
      (text) => says(text) === "against" || mustGo(text) || isHeld(text),
    );
    if (said !== undefined) return said;
    return held.flatMap(({ column, heading }) => {
      const cell = textOf(valueAt(sheet, row, column));
      return cell === "" || cell === "0" || answered(cell) === false ? [] : `${heading} ${cell}`;
    })[0];
  };
}

/** The code of the part that a text names by a word of its own; the text where none does. */
function partMeant(parts: readonly Part[], text: string): string {
  if (text === "" || partNamed(parts, text) !== null || positionOf(text) !== null) return text;
  return namesParts(matcherFor(parts), parts)(text)?.code ?? text;
}

/** Rows with a number and no part that anybody knows: what lies there is in no list. */
function strangeRows(sheet: Sheet, shelf: readonly ShelfItem[], parts: readonly Part[]): Problem[] {
  const column = headingColumn(sheet, "Part");
  return shelf.flatMap(({ row, part, onHand, onOrder }) => {
    const isEmpty = (onHand ?? 0) === 0 && (onOrder ?? 0) === 0;
    if (isEmpty || partNamed(parts, part) !== null) return [];
    const what = part === "" ? "No part is named" : `${quoted(part)} is not on the Parts sheet`;
    const cause = `${what}, so what lies there or is on order is not counted.`;
    const place = { sheet: sheet.name, row, column, heading: "Part" };
    return fault("unknown part", place, cause, "Write the code or the name of a part.");
  });
}

/** A sheet that is called and headed like the Shelf, and has lost its title. */
function lostShelf(snapshot: Snapshot): Problem[] {
  const sheet = sheetNamed(snapshot, SHELF.name);
  const texts = new Set(
    (sheet?.values.slice(0, ROWS) ?? []).flat().map((value) => keyOf(textOf(value))),
  );
  const headings = SHELF.columns.filter(({ heading }) => texts.has(keyOf(heading)));
  if (sheet === null || headings.length * 2 < SHELF.columns.length) return [];
  const cause = `${sheet.name} has the headings of our sheet of spares and not its title, so it is not read: nothing of it is in an order or a budget.`;
  const fix = `Put ${quoted(SHELF.title)} into cell A1 and the headings into row ${HEADING_ROW + 1}.`;
  return [notice("sheet not read", wholeSheet(sheet.name), cause, fix)];
}

const ROWS = 5;
