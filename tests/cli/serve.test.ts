import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { crc32 } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import { type Day, day } from "../../src/core/day.ts";
import { serve, type Serving } from "../../src/cli/serve.ts";
import { shelfFor } from "../../src/cli/serve-book.ts";
import { newWorkbook } from "../../src/xlsx/index.ts";
import { sparespan } from "./session.ts";

const folder = mkdtempSync(join(tmpdir(), "workbench-"));
const site = join(folder, "site");
const book = join(folder, "equipment.xlsx");
const BYTES = newWorkbook(demoBook(DEMO_SEED, false).plan);
const OTHER = newWorkbook(demoBook(DEMO_SEED + 1, false).plan);

let serving: Serving;
let port = 0;
let token = "";

/** An answer of the server. */
interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly body: Buffer;
}

interface Asked {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: Uint8Array;
}

/** Asks as anybody could: path and headers go out exactly as they are written here. */
function ask(path: string, { method = "GET", headers = {}, body }: Asked = {}): Promise<Answer> {
  return new Promise((done, fail) => {
    const sent = request({ host: "127.0.0.1", port, path, method, headers }, (response) => {
      const chunks: Buffer[] = [];
      response.on("data", (chunk: Buffer) => chunks.push(chunk));
      response.on("end", () => {
        const { statusCode: status = 0, headers: given } = response;
        done({ status, headers: given, body: Buffer.concat(chunks) });
      });
    });
    sent.on("error", fail);
    sent.end(body);
  });
}

const known = (): Record<string, string> => ({ "sparespan-token": token });

beforeAll(async () => {
  mkdirSync(site);
  writeFileSync(join(site, "index.html"), "<!doctype html><title>page</title>");
  writeFileSync(join(site, "page.js"), "export {};");
  writeFileSync(join(folder, "secret.txt"), "not to be served");
  writeFileSync(book, BYTES);
  serving = await serve({ folder: site, book: shelfFor(book, today) }, 0);
  const address = new URL(serving.address);
  port = Number(address.port);
  token = address.hash.slice(1);
});

/** The dated copy of the book as it was; its name ends in the checksum of its bytes. */
const COPY = `equipment before start 2026-07-06 ${crc32(BYTES).toString(16).padStart(8, "0")}.xlsx`;
const today = (): Day => day("2026-07-06");

afterAll(async () => {
  await serving.stop();
  rmSync(folder, { recursive: true, force: true });
});

describe("the server of the workbench", () => {
  it("listens on this machine only", () => {
    expect(serving.server.address()).toMatchObject({ address: "127.0.0.1" });
  });

  it("serves the files of the page with their types and guards", async () => {
    const page = await ask("/");
    expect(page.status).toBe(200);
    expect(page.body.toString()).toContain("<title>page</title>");
    expect(page.headers["content-type"]).toBe("text/html; charset=utf-8");
    expect(page.headers["x-content-type-options"]).toBe("nosniff");
    expect(page.headers["content-security-policy"]).toContain("script-src 'self';");
    expect(page.headers["content-security-policy"]).toContain("frame-ancestors 'none'");
    const script = await ask("/page.js");
    expect(script.headers["content-type"]).toBe("text/javascript; charset=utf-8");
  });

  it.each([
    "/../secret.txt",
    "/%2e%2e/secret.txt",
    "/..%2fsecret.txt",
    "/..\\secret.txt",
    "/site/../../secret.txt",
    "//etc/passwd",
    "/page.js/../../secret.txt",
    "/page.js%00",
    "/nothing.js",
    "/.",
  ])("has nothing at %s", async (path) => {
    const answer = await ask(path);
    expect(answer.body.toString()).not.toContain("not to be served");
    expect(answer.status === 404 || answer.body.toString().includes("<title>page</title>")).toBe(
      true,
    );
  });

  it.each([
    ["another host", { host: "workbench.example" }],
    ["another port of this host", { host: "127.0.0.1:1" }],
    ["another origin", { origin: "http://workbench.example" }],
    ["an origin without a name", { origin: "null" }],
  ])("does not answer %s", async (_, headers) => {
    const answer = await ask("/book", { headers: { ...known(), ...headers } });
    expect([answer.status, answer.body.toString()]).toEqual([
      403,
      "This server answers only its own page.",
    ]);
  });

  it.each([
    ["no token", {}],
    ["a wrong token", { "sparespan-token": "x".repeat(32) }],
    ["a part of the token", { "sparespan-token": "x" }],
  ])("keeps the workbook from a request with %s", async (_, headers) => {
    for (const method of ["GET", "PUT", "DELETE"]) {
      const answer = await ask("/book", { method, headers });
      expect([answer.status, answer.body.toString()]).toEqual([
        403,
        "The address of this page is from an earlier run: use the one npm start printed.",
      ]);
    }
  });

  it("takes no other methods", async () => {
    const page = await ask("/", { method: "POST" });
    expect([page.status, page.headers["allow"]]).toEqual([405, "GET, HEAD"]);
    const data = await ask("/book", { method: "DELETE", headers: known() });
    expect([data.status, data.headers["allow"]]).toEqual([405, "GET, PUT"]);
    expect((await ask("/", { method: "HEAD" })).body).toHaveLength(0);
  });

  it("hands out the workbook, and saves it with a dated copy of what it was", async () => {
    const given = await ask("/book", { headers: known() });
    expect(given.status).toBe(200);
    expect(given.headers["sparespan-name"]).toBe("equipment.xlsx");
    expect(Buffer.compare(given.body, BYTES)).toBe(0);
    const headers = { ...known(), "if-match": String(given.headers["etag"]) };
    const saved = await ask("/book", { method: "PUT", headers, body: OTHER });
    expect([saved.status, saved.body.toString()]).toEqual([
      200,
      `Saved in ${book}. The file as it was: ${COPY}.`,
    ]);
    expect(Buffer.compare(readFileSync(book), OTHER)).toBe(0);
    const copy = join(folder, COPY);
    expect(Buffer.compare(readFileSync(copy), BYTES)).toBe(0);

    const older = await ask("/book", { method: "PUT", headers, body: BYTES });
    expect([older.status, older.body.toString()]).toEqual([
      412,
      "The file was saved from another tab since this one opened it: reload this page to see it; nothing was saved here.",
    ]);
    expect(Buffer.compare(readFileSync(book), OTHER)).toBe(0);

    const next = { ...known(), "if-match": String(saved.headers["etag"]) };
    expect((await ask("/book", { method: "PUT", headers: next, body: BYTES })).status).toBe(200);
    expect(readdirSync(folder).filter((name) => name.includes("before"))).toHaveLength(1);
  });

  it("saves nothing that is no workbook, nor over another program's changes", async () => {
    const given = await ask("/book", { headers: known() });
    const headers = { ...known(), "if-match": String(given.headers["etag"]) };
    const body = new Uint8Array([1, 2, 3]);
    const broken = await ask("/book", { method: "PUT", headers, body });
    expect(broken.status).toBe(409);
    expect(broken.body.toString()).toMatch(/^[A-Z].*[.]$/);
    writeFileSync(book, OTHER);
    const late = await ask("/book", { method: "PUT", headers, body: BYTES });
    expect([late.status, late.body.toString()]).toEqual([
      409,
      `${book} has been changed by another program in the meantime; nothing was saved: reopen it`,
    ]);
    expect(Buffer.compare(readFileSync(book), OTHER)).toBe(0);
  });

  it("saves nothing while the book is open in another program, and then all", () => {
    writeFileSync(join(folder, "open.xlsx"), BYTES);
    const path = join(folder, "open.xlsx");
    const shelf = shelfFor(path, today);
    const mark = join(folder, "~$open.xlsx");
    writeFileSync(mark, "somebody");
    expect(() => shelf.save(OTHER, "1")).toThrow(
      `${path} seems to be open in another program (~$open.xlsx lies beside it): close it there first, or remove that file if no program has the book open; nothing was saved`,
    );
    expect(Buffer.compare(readFileSync(path), BYTES)).toBe(0);
    rmSync(mark);
    const saved = shelf.save(OTHER, "1");
    expect(saved?.revision).toBe("2");
    writeFileSync(mark, "somebody");
    expect(() => shelf.save(BYTES, "2")).toThrow(
      "close it there first, or remove that file if no program has the book open; nothing was saved",
    );
    expect(Buffer.compare(readFileSync(path), OTHER)).toBe(0);
  });

  it("says so when it was started without a workbook, and stops", async () => {
    const alone = await serve({ folder: site, book: null }, 0);
    const address = new URL(alone.address);
    const headers = { "sparespan-token": address.hash.slice(1) };
    const asked = await fetch(new URL("/book", address), { headers });
    expect(asked.status).toBe(204);
    await alone.stop();
    await expect(fetch(new URL("/", address))).rejects.toThrow("fetch failed");
  });
});

describe("sparespan start", () => {
  it("with --once prints the summary, writes the copy and ends", async () => {
    const path = join(folder, "once.xlsx");
    writeFileSync(path, BYTES);
    const { code, out } = await sparespan("start", path, "--once");
    expect(code).toBe(0);
    expect(out).toContain("Report date 2026-07-06: 35 devices.");
    expect(readdirSync(folder)).toContain("once with columns.xlsx");
    expect(out).not.toContain("http://");
  });

  it.each(["x", "-1", "65536", "80.5"])("refuses --port %s", async (said) => {
    const { code, err } = await sparespan("start", "--once", `--port=${said}`);
    expect([code, err]).toEqual([
      2,
      `sparespan: --port must be a number from 0 to 65535, got "${said}"\n`,
    ]);
  });
});
