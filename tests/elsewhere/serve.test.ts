import type * as Crypto from "node:crypto";
import { timingSafeEqual } from "node:crypto";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { connect } from "node:net";
import { networkInterfaces, tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import { day } from "../../src/core/day.ts";
import { serve, type Serving } from "../../src/cli/serve.ts";
import { shelfFor } from "../../src/cli/serve-book.ts";
import { newWorkbook } from "../../src/xlsx/index.ts";

vi.mock("node:crypto", async (original) => {
  const own = await original<typeof Crypto>();
  return { ...own, timingSafeEqual: vi.fn(own.timingSafeEqual) };
});

/** The workbench's server asked as no browser would ask: byte by byte, over a bare socket. */
const folder = mkdtempSync(join(tmpdir(), "serve-"));
const site = join(folder, "site");
const book = join(folder, "equipment.xlsx");
const BYTES = newWorkbook(demoBook(DEMO_SEED, false).plan);
const SECRET = "not to be served";

let serving: Serving;
let port = 0;
let token = "";

beforeAll(async () => {
  mkdirSync(join(site, "inner"), { recursive: true });
  writeFileSync(join(site, "index.html"), "<!doctype html><title>page</title>");
  writeFileSync(join(site, "page.js"), "export {};");
  for (const place of ["secret.txt", "site/inner/secret.txt"]) {
    writeFileSync(join(folder, place), SECRET);
  }
  symlinkSync(join(folder, "secret.txt"), join(site, "link.txt"));
  symlinkSync(folder, join(site, "above"));
  writeFileSync(book, BYTES);
  serving = await serve({ folder: site, book: shelfFor(book, () => day("2026-07-06")) }, 0);
  port = Number(new URL(serving.address).port);
  token = new URL(serving.address).hash.slice(1);
});

afterAll(async () => {
  await serving.stop();
  rmSync(folder, { recursive: true, force: true });
});

interface Answer {
  readonly status: number;
  readonly head: string;
  readonly body: string;
}

/** Sends exactly these lines and gives what comes back until the other side is done. */
function raw(lines: readonly string[], body: Buffer = Buffer.alloc(0)): Promise<Answer> {
  return new Promise((done, fail) => {
    const chunks: Buffer[] = [];
    const socket = connect({ host: "127.0.0.1", port });
    socket.on("data", (chunk) => chunks.push(chunk));
    socket.on("error", fail);
    socket.on("close", () => {
      const [head = "", ...rest] = Buffer.concat(chunks).toString("latin1").split("\r\n\r\n");
      const status = Number(/^HTTP\/1\.1 (\d+)/.exec(head)?.[1] ?? 0);
      done({ status, head: head.toLowerCase(), body: rest.join("\r\n\r\n") });
    });
    socket.write(`${[...lines, "connection: close"].join("\r\n")}\r\n\r\n`, "latin1");
    socket.write(body);
  });
}

const ours = (): string => `host: 127.0.0.1:${port}`;
const known = (): string => `sparespan-token: ${token}`;

function get(path: string, ...lines: readonly string[]): Promise<Answer> {
  return raw([`GET ${path} HTTP/1.1`, ours(), ...lines]);
}

describe("a path", () => {
  const up = ["..", "%2e%2e", "%2E.", "%252e%252e", "..%00", "%c0%ae%c0%ae", "..;", "...."];
  const between = ["/", "%2f", "%252F", "\\", "%5c", "//", "%c0%af"];
  const steps = up.flatMap((step) => between.map((sign) => `${step}${sign}`));
  const paths = [
    ...steps.flatMap((step) => [
      `/${step}secret.txt`,
      `/${step.repeat(9)}etc/passwd`,
      `/page.js/${step}${step}secret.txt`,
      `/inner/${step}${step}secret.txt`,
      step + "secret.txt",
    ]),
    ...["/etc/passwd", "//etc/passwd", "///etc/passwd", "//", "/\\", "\\\\host\\share"],
    ...[
      "file:///etc/passwd",
      "/file:///etc/passwd",
      "/C:/Windows/win.ini",
      "/C:\\Windows\\win.ini",
    ],
    ...["/inner", "/inner/", "/inner/secret.txt", "/link.txt", "/above", "/above/secret.txt"],
    ...["/.", "/..", "/./", "/.git/config", "/page.js%00", "/page.js%00.txt", "/page.js/", "/%"],
    ...[
      "/index.html::$DATA",
      "/page.js.",
      "/page.js%20",
      "/PAGE.JS~1",
      "/__proto__",
      "/constructor",
    ],
    ...["http://velloran.example/", "http://127.0.0.1/book", "*", "/book/", "/book/..", "//book"],
  ];

  it("leads to a file of the page by its very name, or nowhere", async () => {
    expect(paths.length).toBeGreaterThan(300);
    for (const path of paths) {
      const { status, head, body } = await get(path, known());
      // A path that is no path is refused before it comes to us, as is everything with a blank in it.
      expect([path, [400, 404].includes(status)]).toEqual([path, true]);
      expect([path, body.includes(SECRET), /root:|index of|secret/i.exec(body)]).toEqual([
        path,
        false,
        null,
      ]);
      if (status === 404) expect(head).toContain("x-content-type-options: nosniff");
    }
    expect((await get("/page.js?x=../secret.txt")).body).toContain("export {};");
  });

  it("with a control character in it is refused", async () => {
    for (const sign of ["\0", "\u0001", "\u007f", "\t"]) {
      const { status, body } = await get(`/page.js${sign}`);
      expect([status === 400 || status === 404, body.includes("export")]).toEqual([true, false]);
    }
  });
});

describe("a request", () => {
  const hosts: readonly (readonly [string, (at: string) => readonly string[]])[] = [
    ["another name", () => ["host: velloran.example"]],
    ["another name with our port", (at) => [`host: velloran.example:${at}`]],
    ["a name that begins like ours", (at) => [`host: 127.0.0.1.velloran.example:${at}`]],
    ["a name that ends like ours", (at) => [`host: x.localhost:${at}`]],
    ["a name before ours", (at) => [`host: velloran.example@127.0.0.1:${at}`]],
    ["a trailing dot", (at) => [`host: localhost.:${at}`]],
    ["no port", () => ["host: 127.0.0.1"]],
    ["another port", () => ["host: 127.0.0.1:80"]],
    ["a port in front of ours", (at) => [`host: 127.0.0.1:80:${at}`]],
    ["a port with zeros", (at) => [`host: 127.0.0.1:0${at}`]],
    ["the port twice", (at) => [`host: 127.0.0.1:${at},127.0.0.1:${at}`]],
    ["IPv6", (at) => [`host: [::1]:${at}`]],
    ["IPv4 in IPv6", (at) => [`host: [::ffff:127.0.0.1]:${at}`]],
    ["any address", (at) => [`host: 0.0.0.0:${at}`]],
    ["another address of this machine", (at) => [`host: 127.0.0.2:${at}`]],
    ["a decimal address", (at) => [`host: 2130706433:${at}`]],
    ["a short address", (at) => [`host: 127.1:${at}`]],
    ["nothing", () => ["host:"]],
    ["no host at all", () => []],
    ["two hosts, ours first", (at) => [`host: 127.0.0.1:${at}`, "host: velloran.example"]],
    ["two hosts, ours last", (at) => ["host: velloran.example", `host: 127.0.0.1:${at}`]],
    ["our host twice", (at) => [`host: 127.0.0.1:${at}`, `host: 127.0.0.1:${at}`]],
  ];

  it.each(hosts)("for %s is not answered, page and book alike", async (_, lines) => {
    for (const path of ["/", "/page.js", "/book"]) {
      const { status, body } = await raw([
        `GET ${path} HTTP/1.1`,
        ...lines(String(port)),
        known(),
        // What some servers believe instead of the host.
        `x-forwarded-host: 127.0.0.1:${port}`,
      ]);
      expect([400, 403]).toContain(status);
      expect(body).not.toMatch(/<title>|export|PK/);
    }
  });

  const origins: readonly (readonly [string, (at: string) => readonly string[]])[] = [
    ["another site", () => ["http://velloran.example"]],
    ["no name", () => ["null"]],
    ["nothing", () => [""]],
    ["another port", () => ["http://127.0.0.1:1"]],
    ["no port", () => ["http://127.0.0.1"]],
    ["another scheme", (at) => [`https://127.0.0.1:${at}`]],
    ["a page of the disk", () => ["file://"]],
    ["a name that begins like ours", (at) => [`http://127.0.0.1:${at}.velloran.example`]],
    ["a path behind ours", (at) => [`http://127.0.0.1:${at}/`]],
    ["two origins", (at) => [`http://127.0.0.1:${at}`, "http://velloran.example"]],
    ["two origins in one line", (at) => [`http://127.0.0.1:${at} http://velloran.example`]],
  ];

  it.each(origins)(
    "of a page from %s is not answered, and nothing is allowed to it",
    async (_, from) => {
      const lines = from(String(port)).map((origin) => `origin: ${origin}`);
      for (const method of ["GET", "PUT", "OPTIONS"]) {
        const { status, head } = await raw([
          `${method} /book HTTP/1.1`,
          ours(),
          known(),
          ...lines,
          "access-control-request-method: PUT",
          "access-control-request-headers: sparespan-token",
          "access-control-request-private-network: true",
        ]);
        expect([status, head.includes("access-control-")]).toEqual([403, false]);
      }
      expect(Buffer.compare(readFileSync(book), BYTES)).toBe(0);
    },
  );

  it("of its own page is answered, under both names of this machine", async () => {
    for (const name of ["127.0.0.1", "localhost"]) {
      const lines = [`host: ${name}:${port}`, `origin: http://${name}:${port}`, known()];
      expect((await raw(["GET /book HTTP/1.1", ...lines])).status).toBe(200);
    }
  });

  it("with the token anywhere but in its header, or not quite the token, gets no book", async () => {
    const other = token.startsWith("A") ? `B${token.slice(1)}` : `A${token.slice(1)}`;
    const asked: readonly (readonly [string, ...string[]])[] = [
      ["/book"],
      [`/book?token=${token}`],
      [`/book?sparespan-token=${token}`],
      [`/book?#${token}`],
      ["/book", `cookie: sparespan-token=${token}`],
      ["/book", `authorization: Bearer ${token}`],
      ["/book", `x-sparespan-token: ${token}`],
      ["/book", `referer: ${serving.address}`],
      ["/book", "sparespan-token:"],
      ["/book", `sparespan-token: ${other}`],
      ["/book", `sparespan-token: ${token.slice(0, -1)}`],
      ["/book", `sparespan-token: ${token}x`],
      ["/book", `sparespan-token: ${token.toLowerCase()}`],
      ["/book", `sparespan-token: ${token.toUpperCase()}`],
      ["/book", `sparespan-token: "${token}"`],
      ["/book", known(), known()],
      ["/book", `sparespan-token: ${other}`, known()],
      ["/book", `sparespan-token: ${"\u00e9".repeat(token.length)}`],
    ];
    for (const [path, ...lines] of asked) {
      const { status, body } = await get(path, ...lines);
      expect([path, lines, status, body.includes("PK")]).toEqual([path, lines, 403, false]);
    }
    expect((await get("/book", known())).status).toBe(200);
  });

  it("has its token compared in constant time, whichever character of it is wrong", async () => {
    const compared = vi.mocked(timingSafeEqual);
    for (const at of [0, 16, token.length - 1]) {
      compared.mockClear();
      const wrong = `${token.slice(0, at)}!${token.slice(at + 1)}`;
      expect((await get("/book", `sparespan-token: ${wrong}`)).status).toBe(403);
      expect(compared).toHaveBeenCalledTimes(1);
    }
  });

  it("by another method is refused and changes nothing", async () => {
    const methods = "POST DELETE PATCH OPTIONS TRACE PROPFIND MKCOL COPY MOVE LOCK SEARCH".split(
      " ",
    );
    for (const method of methods) {
      for (const path of ["/", "/page.js", "/book", "/nothing.js"]) {
        const { status, head } = await raw([`${method} ${path} HTTP/1.1`, ours(), known()]);
        expect([method, path, status]).toEqual([method, path, 405]);
        expect(head).toMatch(path === "/book" ? /\nallow: get, put\r/ : /\nallow: get, head\r/);
      }
    }
    expect((await raw([`PUT /page.js HTTP/1.1`, ours(), known()])).status).toBe(405);
    expect((await raw([`CONNECT velloran.example:80 HTTP/1.1`, ours()])).status).toBe(0);
    expect(readFileSync(join(site, "page.js"), "utf8")).toBe("export {};");
    expect(Buffer.compare(readFileSync(book), BYTES)).toBe(0);
  });

  it("with more than a workbook is refused, told or not how much it is", async () => {
    const put = ["PUT /book HTTP/1.1", ours(), known(), 'if-match: "1"'];
    const told = await raw([...put, `content-length: ${256 * 1024 * 1024 + 1}`]);
    expect(told.status).toBe(413);
    expect(told.body).toContain("This is larger than any workbook should be.");
    const piece = Buffer.alloc(1024 * 1024);
    const chunk = Buffer.concat([Buffer.from("100000\r\n"), piece, Buffer.from("\r\n")]);
    const body = Buffer.concat(Array.from({ length: 257 }, () => chunk));
    const untold = await raw([...put, "transfer-encoding: chunked"], body);
    expect(untold.status).toBe(413);
    expect(Buffer.compare(readFileSync(book), BYTES)).toBe(0);
  });

  it("that two readers would read as two different ones is refused", async () => {
    const put = ["PUT /book HTTP/1.1", ours(), known()];
    const both = await raw([...put, "content-length: 4", "transfer-encoding: chunked"]);
    const twice = await raw([...put, "content-length: 4", "content-length: 5"]);
    const folded = await raw(["GET / HTTP/1.1", ours(), "x: a", " sparespan-token: b"]);
    expect([both.status, twice.status, folded.status]).toEqual([400, 400, 400]);
    const many = Array.from({ length: 3000 }, (_, at) => `x-${at}: ${"y".repeat(20)}`);
    expect((await get("/", ...many)).status).toBe(431);
  });
});

describe("an answer", () => {
  it("of any kind says how it may be used, and lets no other site use it", async () => {
    const wanted = [
      "x-content-type-options: nosniff",
      "referrer-policy: no-referrer",
      "cache-control: no-store",
      "cross-origin-opener-policy: same-origin",
      "cross-origin-resource-policy: same-origin",
      "frame-ancestors 'none'",
      "default-src 'none'",
      "script-src 'self';",
      "connect-src 'self'",
      "base-uri 'none'",
      "form-action 'none'",
    ];
    const answers = [
      await get("/"),
      await get("/page.js"),
      await get("/book", known()),
      await get("/book"),
      await get("/nothing"),
      await raw(["HEAD / HTTP/1.1", ours()]),
      await raw(["POST / HTTP/1.1", ours()]),
      await raw(["GET / HTTP/1.1", "host: velloran.example"]),
    ];
    expect(answers.map(({ status }) => status)).toEqual([200, 200, 200, 403, 404, 200, 405, 403]);
    for (const { head } of answers) {
      for (const line of wanted) expect(head).toContain(line);
      expect(head).not.toMatch(/access-control-|set-cookie|x-powered-by|\nserver:|unsafe-eval/);
      expect(/script-src[^;]*/.exec(head)?.[0]).toBe("script-src 'self'");
      expect(head.split("content-type:").length).toBe(2);
    }
  });

  it("never holds the token, and a new run has a new one", async () => {
    const answers = [await get("/"), await get("/book"), await get("/nothing")];
    for (const { head, body } of answers) expect(head + body).not.toContain(token.toLowerCase());
    for (const { body } of answers) expect(body).not.toContain(token);
    const next = await serve({ folder: site, book: null }, 0);
    expect(new URL(next.address).hash).not.toBe(`#${token}`);
    expect(token).toMatch(/^[\w-]{32}$/);
    await next.stop();
  });

  it("comes from this machine's own address alone", async ({ skip }) => {
    expect(serving.server.address()).toMatchObject({ address: "127.0.0.1", family: "IPv4" });
    const others = Object.values(networkInterfaces())
      .flatMap((all) => all ?? [])
      .filter(({ address }) => address !== "127.0.0.1" && !address.startsWith("fe80"))
      .map(({ address }) => address);
    if (others.length === 0) skip("this machine has no other address");
    for (const host of others) {
      const reached = await new Promise<boolean>((done) => {
        const socket = connect({ host, port, timeout: 2000 });
        const end = (yes: boolean) => () => {
          socket.destroy();
          done(yes);
        };
        socket.on("connect", end(true)).on("error", end(false)).on("timeout", end(false));
      });
      expect([host, reached]).toEqual([host, false]);
    }
  });
});
