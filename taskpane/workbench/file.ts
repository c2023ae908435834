import { isList, listBook } from "../../src/book/lists/list-book.ts";
import type { Day } from "../../src/core/day.ts";
import { newWorkbook } from "../../src/xlsx/index.ts";

/** A file that was opened, and how it is saved. */
export interface OpenedFile {
  readonly name: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** The day it is judged on, where that is not today. */
  readonly day?: Day;
  /** What a person should know of how it was read. */
  readonly told?: string;
  /** Asks for what saving needs, while the press on Save still counts as one. */
  readonly asked?: () => Promise<void>;
  /** Saves the file and gives a sentence on where it is. */
  readonly save: (bytes: Uint8Array) => Promise<string>;
}

export const WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

/** A file that cannot be written in its place: saving hands it to the browser as a download. A list becomes a workbook. */
export async function pickedFile(file: File): Promise<OpenedFile> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  return isList(file.name) ? bookOfList(file.name, bytes) : downloaded(file.name, bytes);
}

/** A list as a workbook that lies nowhere yet. */
function bookOfList(name: string, bytes: Uint8Array): OpenedFile {
  const form = { encoding: null, separator: null };
  const { plan, lines } = listBook([{ name, bytes }], form, decoded);
  const book = name.replace(/\.[^.]*$/, ".xlsx");
  return { ...downloaded(book, new Uint8Array(newWorkbook(plan))), told: lines.join(" ") };
}

function decoded(bytes: Uint8Array, encoding: string): string | null {
  try {
    return new TextDecoder(encoding, { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return null;
  }
}

/** A file that lies nowhere yet. */
export function downloaded(name: string, bytes: Uint8Array<ArrayBuffer>): OpenedFile {
  return {
    name,
    bytes,
    save(saved) {
      download(name, saved);
      return Promise.resolve(`${name} is in your downloads.`);
    },
  };
}

/** Hands a workbook to the browser, which puts it among the downloads. */
export function download(name: string, bytes: Uint8Array): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([new Uint8Array(bytes)], { type: WORKBOOK }));
  link.download = name;
  link.click();
  setTimeout(() => {
    URL.revokeObjectURL(link.href);
  }, 60_000);
}
