import { strFromU8, unzipSync } from "fflate";
import { address, columnOf } from "../../src/book/workbook/snapshot.ts";

/** What of a stranger's file is no longer as it was, read with nothing of the file engine. */

/** Where a job may have changed something: cells of the stranger's sheets as Sheet!A1. */
export type Allowed = ReadonlySet<string>;

type Parts = ReadonlyMap<string, string>;

/** Attributes that say how much there is, or how far it reaches. */
const COUNTED = / (?:count|uniqueCount|ref|spans|fullCalcOnLoad)="[^"]*"/g;
/** A filter that is widened is a name too, which Excel keeps for itself. */
const FILTER_NAME = /<definedName [^>]*_xlnm\._FilterDatabase[^>]*>[^<]*<\/definedName>/g;
/** Elements told apart elsewhere here, or rebuilt by the program that opens the book. */
const REBUILT = /^<\/?(?:dimension|cols|col|calcPr|sheetData\/?)[ />]/;
const CELL = /<c r="([A-Z]+)(\d+)"[^>]*?(?:\/>|>.*?<\/c>)/gs;

/** Everything of the stranger's that a file no longer holds as it was, a line each. */
export function changedIn(before: Uint8Array, after: Uint8Array, allowed: Allowed): string[] {
  const [old, now] = [partsOf(before), partsOf(after)];
  const names = sheetNames(old);
  return [...old].flatMap(([path, text]) => {
    const found = now.get(path);
    if (found === text) return [];
    if (found === undefined) return [`${path} is gone`];
    if (!/^(?:\[Content|xl\/(?:workbook|styles|worksheets|tables|_rels))/.test(path)) {
      return [`${path} is another one`];
    }
    const sheet = names.get(path);
    if (sheet === undefined) {
      if (path.startsWith("xl/worksheets/sheet")) throw new Error(`${path} is no sheet's`);
      return missing(path, text, found);
    }
    return changedSheet(sheet, { old: text, now: found }, allowed);
  });
}

function partsOf(bytes: Uint8Array): Parts {
  return new Map(
    Object.entries(unzipSync(bytes)).map(([name, content]) => [name, strFromU8(content)]),
  );
}

/** The sheets' names by their parts. */
function sheetNames(parts: Parts): Map<string, string> {
  const relations = parts.get("xl/_rels/workbook.xml.rels") ?? "";
  const targets = new Map(
    (relations.match(/<Relationship [^>]*>/g) ?? []).map((tag) => [
      of(tag, "Id"),
      of(tag, "Target"),
    ]),
  );
  const sheets = (parts.get("xl/workbook.xml") ?? "").match(/<sheet [^>]*>/g) ?? [];
  return new Map(
    sheets.map((tag) => {
      const target = targets.get(of(tag, "r:id")) ?? "";
      return [target.startsWith("/") ? target.slice(1) : `xl/${target}`, of(tag, "name")];
    }),
  );
}

function of(tag: string, name: string): string {
  const value = new RegExp(` ${name}="([^"]*)"`).exec(tag)?.[1] ?? "";
  return value.replaceAll("&apos;", "'").replaceAll("&amp;", "&");
}

/** The first piece of a text that is not found again in its order. */
function missing(path: string, old: string, now: string): string[] {
  const pieces = (text: string): string[] =>
    (text.replace(FILTER_NAME, "").match(/<[^>]*>|[^<]+/g) ?? [])
      // Line breaks between elements are nobody's; texts of cells are compared cell by cell.
      .filter((piece) => piece.trim() !== "" && !REBUILT.test(piece))
      // A list that was empty may hold something now.
      .map((piece) => piece.replace(COUNTED, "").replace(/ ?\/?>$/, ">"));
  const found = pieces(now);
  let at = 0;
  for (const piece of pieces(old)) {
    while (at < found.length && found[at] !== piece) at += 1;
    if (at === found.length) return [`${path} lost ${piece}`];
    at += 1;
  }
  return [];
}

interface Texts {
  readonly old: string;
  readonly now: string;
}

function changedSheet(sheet: string, { old, now }: Texts, allowed: Allowed): string[] {
  const [theirs, ours] = [cellsOf(old), cellsOf(now)];
  const width = Math.max(
    0,
    ...[...theirs.keys()].map((place) => columnOf(place.replace(/\d+/, "")) + 1),
  );
  const isAllowed = (place: string): boolean => allowed.has(`${sheet}!${place}`);
  const written = new Set([...ours.keys()].filter((place) => !theirs.has(place)));
  const beside = (place: string): boolean => columnOf(place.replace(/\d+/, "")) >= width;
  const bare = (text: string): string =>
    text.replaceAll(CELL, (cell: string, letters: string, digits: string) =>
      isAllowed(letters + digits) ? "" : cell,
    );
  return [
    ...[...theirs]
      .filter(([place, cell]) => ours.get(place) !== cell && !isAllowed(place))
      .map(([place, cell]) => `${sheet}!${place} was ${cell} and is ${ours.get(place) ?? "gone"}`),
    ...[...written]
      .filter((place) => !beside(place) && !isAllowed(place))
      .map((place) => `${sheet}!${place} is written among the stranger's cells`),
    ...missing(sheet, bare(old), bare(now)),
    ...changedWidths(sheet, { old, now }, width),
  ];
}

function cellsOf(text: string): Map<string, string> {
  return new Map(
    [...text.matchAll(CELL)].map(([cell, letters = "", digits = ""]) => [letters + digits, cell]),
  );
}

/** Widths and hiding of the stranger's columns. */
function changedWidths(sheet: string, { old, now }: Texts, width: number): string[] {
  const laid = (text: string, column: number): string => {
    const tags = text.match(/<col [^>]*>/g) ?? [];
    const tag = tags.find(
      (one) => Number(of(one, "min")) <= column && column <= Number(of(one, "max")),
    );
    return (tag ?? "").replace(/ (?:min|max)="\d+"/g, "");
  };
  return Array.from({ length: width }, (_, at) => at + 1)
    .filter((column) => laid(old, column) !== laid(now, column))
    .map((column) => `${sheet}: column ${address(0, column - 1)} is laid out otherwise`);
}
