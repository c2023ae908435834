import { sheetNamed } from "../../book/workbook/snapshot.ts";
import { type Draft, newDraft, relationSpace } from "../package/draft.ts";
import { WorkbookError } from "../file/errors.ts";
import type { Package } from "../package/package.ts";
import type { Book } from "../read/read-book.ts";
import { draftOf, type SheetDraft } from "./sheet-draft.ts";
import { emptyStyles } from "../read/looks.ts";
import { wholeStyles } from "../read/whole-styles.ts";
import { readStyles, type Styles } from "../read/styles.ts";

/** A workbook while a plan is applied to it. */
export interface Change {
  readonly book: Book;
  readonly draft: Draft;
  /** Sheets the plan touches or adds, by lower-case name. */
  readonly sheets: Map<string, SheetDraft>;
  /** Names of all sheets in the order names count them, added ones included. */
  readonly order: string[];
  readonly styles: Styles;
  /** Names and numbers of all tables, lower case; two tables never share either. */
  readonly tables: Map<string, { readonly id: number; readonly path: string }>;
}

/** A change with nothing in it yet. */
export function newChange(file: Package, book: Book): Change {
  const tables = book.sheets.flatMap((sheet) => sheet.tables);
  return {
    book,
    draft: newDraft(file, book.strict),
    sheets: new Map(),
    order: [...book.order],
    // Read again: what one plan adds must not show in the next one on the same book.
    styles: book.styles
      ? readStyles(wholeStyles(book.styles.text, book.styles.path, book.space), book.styles.path)
      : readStyles(emptyStyles(book.space), "styles.xml"),
    tables: new Map(tables.map(({ id, path, table }) => [table.name.toLowerCase(), { id, path }])),
  };
}

/** The draft of a sheet that is there or was added by the plan. */
export function sheetDraft(change: Change, name: string): SheetDraft {
  const key = name.toLowerCase();
  const known = change.sheets.get(key);
  if (known) return known;
  const part = change.book.sheets.find(({ sheet }) => sheet.name.toLowerCase() === key);
  const before = sheetNamed(change.book.snapshot, name);
  if (!part || !before) {
    throw new WorkbookError(`The sheet ${name} is not there: make the plan again.`);
  }
  const made = draftOf(before.name, part.path, { content: part.content, before });
  change.sheets.set(key, made);
  return made;
}

/** The attribute that declares the prefix r for an element pointing to a relationship. */
export function relationAttribute(change: Change, id: string): string {
  return `xmlns:r="${relationSpace(change.book.strict)}" r:id="${id}"`;
}

/** Folder of the workbook part, with its slash. */
export function bookFolder(change: Change): string {
  return change.book.path.slice(0, change.book.path.lastIndexOf("/") + 1);
}
