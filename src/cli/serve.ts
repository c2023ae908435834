import { randomBytes, timingSafeEqual } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import {
  createServer,
  type IncomingMessage,
  type OutgoingHttpHeaders,
  type Server,
  type ServerResponse,
} from "node:http";
import { extname, join } from "node:path";
import { WorkbookError } from "../xlsx/index.ts";
import { UsageError } from "./io.ts";
import type { Shelf } from "./serve-book.ts";
import { fromOf, lengthOf, revisionOf, tokenOf } from "./serve-request.ts";

/** What is served: the built page, and the workbook it was started with. */
export interface Site {
  /** The folder of the built page; its files are served, and nothing else of the disk. */
  readonly folder: string;
  readonly book: Shelf | null;
}

/** A running server. */
export interface Serving {
  /** The page's address; the word behind # lets it ask for the workbook. */
  readonly address: string;
  readonly server: Server;
  readonly stop: () => Promise<void>;
}

const HERE = "127.0.0.1";
const MOST_BYTES = 256 * 1024 * 1024;

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".txt": "text/plain; charset=utf-8",
};
const WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

/** Sent with everything. The grid sets styles while it draws; scripts come from this server alone. */
const GUARDS = {
  "content-security-policy":
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; " +
    "font-src 'self' data:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
  "cross-origin-opener-policy": "same-origin",
  "cross-origin-resource-policy": "same-origin",
  "referrer-policy": "no-referrer",
  "x-content-type-options": "nosniff",
  "cache-control": "no-store",
};

/** A trouble as it is answered: a status and a sentence. */
interface Refusal {
  readonly status: number;
  readonly sentence: string;
  readonly headers?: OutgoingHttpHeaders;
}

/** Serves the page on this machine only; port 0 takes any free one. */
export async function serve(site: Site, port: number): Promise<Serving> {
  const token = randomBytes(24).toString("base64url");
  // A link in the folder could lead anywhere: files alone are served.
  const files = readdirSync(site.folder, { withFileTypes: true }).filter((entry) => entry.isFile());
  const names = new Set(files.map(({ name }) => name));
  const server = createServer((request, response) => {
    void answer(request, response, { ...site, token, names, server });
  });
  await new Promise<void>((done, fail) => {
    server.once("error", fail);
    server.listen(port, HERE, done);
  });
  return {
    address: `http://${HERE}:${String(portOf(server))}/#${token}`,
    server,
    stop: () =>
      new Promise((done) => {
        server.close(() => {
          done();
        });
        server.closeAllConnections();
      }),
  };
}

function portOf(server: Server): number {
  const address = server.address();
  return address === null || typeof address === "string" ? 0 : address.port;
}

interface Desk extends Site {
  readonly token: string;
  readonly names: ReadonlySet<string>;
  readonly server: Server;
}

async function answer(
  request: IncomingMessage,
  response: ServerResponse,
  desk: Desk,
): Promise<void> {
  try {
    const path = pathOf(request);
    const refusal = foreign(request, desk) ?? (path === "/book" ? strange(request, desk) : null);
    if (refusal !== null) refuse(response, refusal);
    else if (path === "/book" && request.method === "PUT") await take(request, response, desk);
    else if (path === "/book") give(request, response, desk);
    else page(request, response, desk, path);
  } catch (error) {
    const told = error instanceof UsageError || error instanceof WorkbookError;
    const sentence = told ? error.message : `This is a fault in Sparespan: ${String(error)}`;
    refuse(response, { status: told ? 409 : 500, sentence });
  }
}

/** The path that is asked for, as it is written: nothing in it is decoded. */
function pathOf({ url = "" }: IncomingMessage): string {
  return url.replace(/[?#].*$/, "");
}

/** Pages of others must not speak to us, by whatever name they found this machine. */
function foreign(request: IncomingMessage, { server }: Desk): Refusal | null {
  const names = [HERE, "localhost"].map((name) => `${name}:${String(portOf(server))}`);
  const from = fromOf(request);
  const isOurs = (origin: string): boolean => names.some((name) => origin === `http://${name}`);
  if (from !== null && names.includes(from.host[0]) && from.origin.every(isOurs)) return null;
  return { status: 403, sentence: "This server answers only its own page." };
}

function strange({ headers }: IncomingMessage, { token }: Desk): Refusal | null {
  const given = Buffer.from(tokenOf(headers));
  const wanted = Buffer.from(token);
  if (given.length === wanted.length && timingSafeEqual(given, wanted)) return null;
  return {
    status: 403,
    sentence: "The address of this page is from an earlier run: use the one npm start printed.",
  };
}

function refuse(response: ServerResponse, { status, sentence, headers }: Refusal): void {
  send(response, status, { "content-type": "text/plain; charset=utf-8", ...headers }, sentence);
}

function send(
  response: ServerResponse,
  status: number,
  headers: OutgoingHttpHeaders,
  body: Uint8Array | string,
): void {
  if (response.headersSent) {
    response.destroy();
    return;
  }
  response.writeHead(status, { ...GUARDS, ...headers });
  response.end(body);
}

function isAsking(request: IncomingMessage, response: ServerResponse, allow: string): boolean {
  if (allow.split(", ").includes(request.method ?? "")) return true;
  refuse(response, { status: 405, sentence: `Only ${allow} is allowed here.`, headers: { allow } });
  return false;
}

/** A file of the built page: one of the names that lie there, so that no path leads elsewhere. */
function page(
  request: IncomingMessage,
  response: ServerResponse,
  { folder, names }: Desk,
  path: string,
): void {
  if (!isAsking(request, response, "GET, HEAD")) return;
  const name = path === "/" ? "index.html" : path.slice(1);
  if (!names.has(name)) {
    refuse(response, { status: 404, sentence: "There is nothing with that name." });
    return;
  }
  const type = TYPES[extname(name)] ?? "application/octet-stream";
  const bytes = readFileSync(join(folder, name));
  send(response, 200, { "content-type": type }, request.method === "HEAD" ? "" : bytes);
}

function give(request: IncomingMessage, response: ServerResponse, { book }: Desk): void {
  if (!isAsking(request, response, "GET, PUT")) return;
  if (book === null) {
    send(response, 204, {}, "");
    return;
  }
  const { name, revision, bytes } = book.read();
  const headers = {
    "content-type": WORKBOOK,
    etag: `"${revision}"`,
    "sparespan-name": encodeURIComponent(name),
  };
  send(response, 200, headers, bytes);
}

async function take(
  request: IncomingMessage,
  response: ServerResponse,
  { book }: Desk,
): Promise<void> {
  if (book === null) {
    refuse(response, { status: 409, sentence: "No workbook was opened with npm start." });
    return;
  }
  const bytes = await bodyOf(request);
  if (bytes === null) {
    refuse(response, { status: 413, sentence: "This is larger than any workbook should be." });
    return;
  }
  const saved = book.save(bytes, revisionOf(request.headers));
  if (saved === null) {
    const sentence =
      "The file was saved from another tab since this one opened it: reload this page to see it; nothing was saved here.";
    refuse(response, { status: 412, sentence });
    return;
  }
  const headers = {
    "content-type": "text/plain; charset=utf-8",
    etag: `"${saved.revision}"`,
  };
  send(response, 200, headers, saved.sentence);
}

async function bodyOf(request: IncomingMessage): Promise<Uint8Array | null> {
  if (lengthOf(request.headers) > MOST_BYTES) return null;
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of request) {
    if (!Buffer.isBuffer(chunk)) continue;
    size += chunk.length;
    if (size > MOST_BYTES) return null;
    chunks.push(chunk);
  }
  return Buffer.concat(chunks);
}
