import { isList, listBook } from "../../src/book/lists/list-book.ts";
import type { Day } from "../../src/core/day.ts";
import { newWorkbook } from "../../src/xlsx/index.ts";
import { HostError } from "../host.ts";

/** A file that was opened, and how it is saved. */
export interface OpenedFile {
  readonly name: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** The day it is judged on, where that is not today. */
  readonly day?: Day;
  /** What a person should know of how it was read. */
  readonly told?: string;
  /** Saves the file and gives a sentence on where it is. */
  readonly save: (bytes: Uint8Array) => Promise<string>;
}

const WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";
const TOKEN = "sparespan-token";
const NAME = "sparespan-name";

/** A file somebody picked: saving hands it to the browser as a download. A list becomes a workbook. */
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
      const link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([new Uint8Array(saved)], { type: WORKBOOK }));
      link.download = name;
      link.click();
      setTimeout(() => {
        URL.revokeObjectURL(link.href);
      }, 60_000);
      return Promise.resolve(`${name} is in your downloads.`);
    },
  };
}

/** The file the page was started with, null when it was started without one or is served by others. */
export async function servedFile(): Promise<OpenedFile | null> {
  const token = location.hash.slice(1);
  if (token === "") return null;
  const headers = { [TOKEN]: token };
  const answer = await ask("book", { headers });
  if (answer.status === 204) return null;
  if (!answer.ok) throw new HostError(await answer.text());
  const name = decodeURIComponent(answer.headers.get(NAME) ?? "workbook.xlsx");
  let revision = answer.headers.get("etag") ?? "";
  return {
    name,
    bytes: new Uint8Array(await answer.arrayBuffer()),
    async save(saved) {
      const body = new Uint8Array(saved);
      const sent = await ask("book", {
        method: "PUT",
        headers: { ...headers, "if-match": revision, "content-type": WORKBOOK },
        body,
      });
      const sentence = await sent.text();
      if (!sent.ok) throw new HostError(sentence);
      revision = sent.headers.get("etag") ?? "";
      return sentence;
    },
  };
}

async function ask(path: string, request: RequestInit): Promise<Response> {
  try {
    return await fetch(path, { ...request, cache: "no-store" });
  } catch {
    throw new HostError(
      "The workbench's own server is not answering. Has it been stopped? Start it again with npm start; until then nothing is saved.",
    );
  }
}
