import type { Day } from "../../src/core/day.ts";
import { HostError } from "../host.ts";

/** A file that was opened, and how it is saved. */
export interface OpenedFile {
  readonly name: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** The day it is judged on, where that is not today. */
  readonly day?: Day;
  /** Saves the file and gives a sentence on where it is. */
  readonly save: (bytes: Uint8Array) => Promise<string>;
}

const WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";
const TOKEN = "sparespan-token";
const NAME = "sparespan-name";

/** A file somebody picked: saving hands it to the browser as a download. */
export async function pickedFile(file: File): Promise<OpenedFile> {
  return downloaded(file.name, new Uint8Array(await file.arrayBuffer()));
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
