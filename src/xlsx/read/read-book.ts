import type { DefinedName, Sheet, Snapshot } from "../../book/workbook/snapshot.ts";
import type { DateSystem } from "../../core/day.ts";
import { WorkbookError } from "../file/errors.ts";
import { shownFormula } from "./formulas.ts";
import { type Comments, readNotes, readThreads } from "./comments.ts";
import { cutSheet } from "./cut-sheet.ts";
import type { Limits } from "../file/limits.ts";
import { type Outline, outlineOf } from "../xml/outline.ts";
import {
  hasPart,
  type Package,
  readPart,
  type Relationship,
  relationsOf,
} from "../package/package.ts";
import { budget, readSheet, type SheetContent } from "./read-sheet.ts";
import { shapeTexts } from "./shapes.ts";
import { readTable, type TablePart } from "./read-table.ts";
import { NO_STRINGS, readStrings } from "./strings.ts";
import { formatOf, readStyles, struckIn, type Styles } from "./styles.ts";
import { attribute, isOn, numberOf, relationId } from "../xml/attributes.ts";
import { content, eachChild, openRoot, readXml } from "../xml/xml.ts";

/** A worksheet and what it was read from. */
interface SheetPart {
  readonly path: string;
  readonly content: SheetContent;
  readonly tables: readonly TablePart[];
  readonly sheet: Sheet;
}

/** A workbook part and what it leads to. */
export interface Book {
  readonly path: string;
  readonly text: string;
  readonly outline: Outline;
  /** Address of the main namespace; strict files have another. */
  readonly space: string;
  readonly strict: boolean;
  /** Names of all sheets, charts and dialogs included, in the order names count them. */
  readonly order: readonly string[];
  readonly sheets: readonly SheetPart[];
  readonly styles: Styles | null;
  readonly relations: readonly Relationship[];
  readonly snapshot: Snapshot;
}

interface SheetEntry {
  readonly name: string;
  readonly id: string;
  readonly visibility: Sheet["visibility"];
}

interface BookText {
  readonly space: string;
  readonly dateSystem: DateSystem;
  readonly fixedSheets: boolean;
  readonly isManual: boolean;
  readonly entries: readonly SheetEntry[];
  readonly names: readonly {
    readonly name: string;
    readonly sheet: number | null;
    readonly refersTo: string;
  }[];
}

const STRICT = "http://purl.oclc.org/ooxml/spreadsheetml/main";
const NOT_A_BOOK =
  "This file holds no workbook: open it in your spreadsheet program and save it as .xlsx.";

/** Reads a whole workbook; only a book about to get its first sheet may have none. */
export function readBook(file: Package, limits: Limits, sheetless = false): Book {
  if (!hasPart(file, "[Content_Types].xml")) throw new WorkbookError(NOT_A_BOOK);
  const root = relationsOf(file, "").find(({ type }) => type === "officeDocument")?.target;
  if (!root || !hasPart(file, root)) throw new WorkbookError(NOT_A_BOOK);
  const text = readPart(file, root);
  const outline = outlineOf(text, root, "workbook");
  const book = readBookText(text, root);
  const relations = relationsOf(file, root);
  const target = (type: string): string | null => {
    const path = relations.find((relation) => relation.type === type)?.target;
    return path && hasPart(file, path) ? path : null;
  };
  const stylesPath = target("styles");
  const styles = stylesPath ? readStyles(readPart(file, stylesPath), stylesPath) : null;
  const stringsPath = target("sharedStrings");
  const strings = stringsPath ? readStrings(readPart(file, stringsPath), stringsPath) : NO_STRINGS;
  const formats = formatList(styles);
  const isStruck = styles === null ? () => false : struckIn(styles);
  const spend = budget(limits.cells);
  const sheets: SheetPart[] = [];
  for (const entry of book.entries) {
    const relation = relations.find(({ id }) => id === entry.id);
    if (relation?.type !== "worksheet" || relation.target === null) continue;
    const source = {
      ...{ strings, dateSystem: book.dateSystem, formatIndex: formats.indexOf, spend },
      isStruck,
    };
    sheets.push(readSheetPart(file, relation.target, entry, source));
  }
  if (sheets.length === 0 && !sheetless) {
    throw new WorkbookError("This workbook has no worksheet: add one in your spreadsheet program.");
  }
  const snapshot = {
    dateSystem: book.dateSystem,
    ...ruledIn(book),
    formats: formats.codes,
    sheets: sheets.map(({ sheet }) => sheet),
    names: shownNames(book),
  };
  const { space } = book;
  const order = book.entries.map(({ name }) => name);
  return {
    path: root,
    text,
    outline,
    space,
    strict: space === STRICT,
    order,
    sheets,
    styles,
    relations,
    snapshot,
  };
}

/** What is laid down for the whole workbook, where it is not as usual. */
function ruledIn({
  fixedSheets,
  isManual,
}: BookText): Pick<Snapshot, "fixedSheets" | "calculation"> {
  return {
    ...(fixedSheets ? { fixedSheets } : {}),
    ...(isManual ? { calculation: "manual" } : {}),
  };
}

function readBookText(text: string, path: string): BookText {
  const xml = readXml(text, path);
  openRoot(xml, "workbook");
  const prefix = /^<([^\s:>]+):/.exec(xml.text.slice(xml.start, xml.end))?.[1];
  const space = attribute(xml, prefix ? `xmlns:${prefix}` : "xmlns") ?? "";
  let dateSystem: DateSystem = 1900;
  let fixedSheets = false;
  let isManual = false;
  const entries: SheetEntry[] = [];
  const names: { name: string; sheet: number | null; refersTo: string }[] = [];
  eachChild(xml, () => {
    if (xml.name === "workbookPr" && isOn(xml, "date1904")) dateSystem = 1904;
    else if (xml.name === "workbookProtection") fixedSheets = isOn(xml, "lockStructure");
    else if (xml.name === "calcPr") isManual = attribute(xml, "calcMode") === "manual";
    else if (xml.name === "sheets") {
      eachChild(xml, () => {
        const state = attribute(xml, "state");
        const visibility = state === "hidden" || state === "veryHidden" ? state : "visible";
        entries.push({ name: attribute(xml, "name") ?? "", id: relationId(xml) ?? "", visibility });
      });
    } else if (xml.name === "definedNames") {
      eachChild(xml, () => {
        const name = attribute(xml, "name") ?? "";
        const sheet = numberOf(xml, "localSheetId");
        names.push({ name, sheet, refersTo: content(xml) });
      });
    }
  });
  return { space, dateSystem, fixedSheets, isManual, entries, names };
}

/** Names people can see: what a program keeps for itself (print titles, filters) is left out. */
function shownNames(book: BookText): DefinedName[] {
  return book.names
    .filter(({ name }) => !/^_xlnm\./i.test(name))
    .map(({ name, sheet, refersTo }) => ({
      name,
      sheet: sheet === null ? null : (book.entries[sheet]?.name ?? null),
      refersTo: shownFormula(refersTo),
    }));
}

function readSheetPart(
  file: Package,
  path: string,
  entry: SheetEntry,
  source: Parameters<typeof readSheet>[1],
): SheetPart {
  const content = cutSheet(file, path, (cut) => readSheet(cut, source));
  const tables = relationsOf(file, path).flatMap(({ type, target }) =>
    type === "table" && target !== null ? [readTable(readPart(file, target), target)] : [],
  );
  const comments = commentsOf(file, path);
  const shapes = shapesOf(file, path);
  const filters = [content.filter, ...tables.map(({ filter }) => filter)];
  const sheet: Sheet = {
    name: entry.name,
    visibility: entry.visibility,
    protected: content.protected,
    values: content.values,
    formats: content.formats,
    formulas: content.formulas,
    hiddenRows: content.hiddenRows,
    hiddenColumns: content.hiddenColumns,
    merges: content.merges,
    filter:
      filters.find((filter) => filter?.active) ?? content.filter ?? filters.find(Boolean) ?? null,
    tables: tables.map(({ table }) => table),
    ...(comments.size > 0 ? { comments } : {}),
    ...(shapes.length > 0 ? { shapes } : {}),
    ...(content.struck.size === 0 ? {} : { struck: content.struck }),
  };
  return { path, content, tables, sheet };
}

/** What people wrote to the cells of a sheet: notes, and threads, which the notes repeat in other words. */
function commentsOf(file: Package, path: string): Comments {
  const parts = relationsOf(file, path).flatMap(({ type, target }) =>
    target === null || !hasPart(file, target) ? [] : [{ type, target }],
  );
  const read = (wanted: string, reader: typeof readNotes): (readonly [number, string])[] =>
    parts.flatMap(({ type, target }) =>
      type === wanted ? [...reader(readPart(file, target), target)] : [],
    );
  return new Map([...read("comments", readNotes), ...read("threadedComment", readThreads)]);
}

/** What people wrote in the shapes of a sheet. */
function shapesOf(file: Package, path: string): string[] {
  return relationsOf(file, path).flatMap(({ type, target }) =>
    type === "drawing" && target !== null && hasPart(file, target)
      ? shapeTexts(readPart(file, target))
      : [],
  );
}

/** The book's format codes, each once, and the code of each cell format. */
function formatList(styles: Styles | null): {
  codes: string[];
  indexOf: (style: number) => number;
} {
  const codes = ["General"];
  const indices: number[] = [];
  for (const style of styles ? styles.cells.keys() : []) {
    const code = styles ? formatOf(styles, style) : "General";
    const known = codes.indexOf(code);
    indices.push(known >= 0 ? known : codes.push(code) - 1);
  }
  // A cell may point to format 0 without saying so, and that one need not be General.
  return { codes, indexOf: (style) => indices[style] ?? 0 };
}
