import { HostError } from "../host.ts";
import { type OpenedFile, WORKBOOK } from "./file.ts";

const TOKEN = "sparespan-token";
const NAME = "sparespan-name";

/** The file that npm start was given; null when it was given none, or the page comes from elsewhere. */
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
