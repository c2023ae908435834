import { OUR_NAMES } from "../sheets/our-sheets.ts";
import { BookError } from "../workbook/errors.ts";
import type { Plan } from "../workbook/plan.ts";
import { type Decode, readText } from "./encoding.ts";
import { type ListSheet, listSheet } from "./list-sheet.ts";
import type { SeparatorName } from "./separated.ts";

/** A file of text whose lines are rows. */
export interface ListFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** How lists are read where a person says so; null leaves it to the file. */
export interface ListForm {
  readonly encoding: string | null;
  readonly separator: SeparatorName | null;
}

/** A new book made of lists, a sheet each, and how each was read. */
export interface ListBook {
  readonly plan: Plan;
  readonly lines: readonly string[];
}

/** Endings of the files that are read as lists. */
export const LIST_ENDINGS = [".csv", ".tsv", ".tab", ".txt"];
/** Whether a file of that name is read as a list. */
export function isList(name: string): boolean {
  return LIST_ENDINGS.some((ending) => name.toLowerCase().endsWith(ending));
}

const LONGEST_NAME = 31;
const TAKEN = OUR_NAMES.map((name) => name.toLowerCase());

/**
 * The plan of a new book that holds these lists.
 *
 * @throws BookError that names the file and everything that is wrong in it.
 */
export function listBook(files: readonly ListFile[], form: ListForm, decode: Decode): ListBook {
  const taken = new Set(TAKEN);
  const wrong: string[] = [];
  const lists = files.flatMap((file) => {
    const sheet = sheetName(file.name, taken);
    taken.add(sheet.toLowerCase());
    try {
      refuseWorkbook(file.bytes);
      const { text, encoding, example } = readText(file.bytes, decode, form.encoding);
      const list = listSheet(sheet, text, form.separator);
      return [{ list, lines: linesOf(file.name, list, { encoding, example }) }];
    } catch (error) {
      if (!(error instanceof BookError)) throw error;
      wrong.push(`${file.name} cannot be read as a list: ${error.message}`);
      return [];
    }
  });
  if (wrong.length > 0) throw new BookError(wrong.join("; "));
  const lines = lists.flatMap((one) => one.lines);
  const summary = lists.map(({ list }) => `sheet ${list.edit.sheet}`).join(", ");
  return { plan: { summary, edits: lists.map(({ list }) => list.edit) }, lines };
}

/** Bytes that begin as a packed workbook or as one of the older form, whatever the file is called. */
function refuseWorkbook([first, second]: Uint8Array): void {
  if (first === 0x50 && second === 0x4b) {
    throw new BookError("it is a workbook or another packed file: give it its own ending");
  }
  if (first === 0xd0 && second === 0xcf) {
    throw new BookError("it is a workbook of the older form: give it the ending .xls");
  }
}

function linesOf(
  file: string,
  { edit, rows, columns, separator, notes }: ListSheet,
  { encoding, example }: { readonly encoding: string; readonly example: string | null },
): string[] {
  const read = `Sheet ${edit.sheet} from ${file}: ${rows} lines of ${columns} cells, separated by ${separator}, letters of ${encoding}.`;
  const doubt = `Its letters are taken for ${encoding}, such as in "${example ?? ""}"; if that is misspelt, say --encoding.`;
  return [read, ...(example === null ? [] : [doubt]), ...notes];
}

/** A sheet's name after its file: what no sheet may be called goes, a name that is taken gets a number. */
function sheetName(file: string, taken: ReadonlySet<string>): string {
  const stem = file
    .replace(/\.[^.]*$/, "")
    .replaceAll(/[[\]:*?/\\]/g, " ")
    .replaceAll(/^[\s']+|[\s']+$/g, "");
  const wanted = stem === "" ? "List" : stem;
  for (let count = 1; ; count += 1) {
    const tail = count === 1 ? "" : ` ${count}`;
    const name = `${wanted.slice(0, LONGEST_NAME - tail.length).trim()}${tail}`;
    // "Parts (2)" would pass for ours no less than "Parts".
    const bare = wanted.replace(/ \(\d+\)$/, "").toLowerCase();
    const free = TAKEN.includes(bare) ? `${wanted} list${tail}` : name;
    if (!taken.has(free.toLowerCase())) return free;
  }
}
