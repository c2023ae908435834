import { spawn, spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createServer, type OutgoingHttpHeaders, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import process from "node:process";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

/** A build in small, and a host on this machine that serves it as it is told to. */
const folder = mkdtempSync(join(tmpdir(), "sparespan-hosting-"));
const FILES: Readonly<Record<string, readonly [text: string, type: string]>> = {
  "functions.json": ['{"functions":[]}', "application/json; charset=utf-8"],
  "functions.js": ["1;", "text/javascript"],
  "pane.html": ["<p>", "text/html"],
  "help/index.html": ["<p>help", "text/html"],
  "icons/mark-16.png": ["png", "image/png"],
};
const CORS = { "Access-Control-Allow-Origin": "*" };

interface Served {
  readonly status?: number;
  readonly headers?: OutgoingHttpHeaders;
  readonly text?: string;
}

/** What differs from a good host, by path. */
let different: Readonly<Record<string, Served>> = {};
let server: Server;

beforeAll(async () => {
  for (const [path, [text]] of Object.entries(FILES)) {
    mkdirSync(join(folder, path, ".."), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  writeFileSync(join(folder, "web.config"), "not asked for");
  server = createServer((request, response) => {
    const path = (request.url ?? "").slice("/spare/".length);
    const [text = "", type = ""] = FILES[path] ?? [];
    const other = different[path] ?? {};
    const known = path in FILES ? 200 : 404;
    const usual = { "Content-Type": type, ...(path === "functions.json" ? CORS : {}) };
    response.writeHead(other.status ?? known, { ...usual, ...other.headers });
    response.end(other.text ?? text);
  });
  await new Promise<void>((done) => {
    server.listen(0, "localhost", done);
  });
});
afterAll(() => {
  server.close();
  rmSync(folder, { recursive: true, force: true });
});

/** What the probe says, by lines, with its exit code. */
function probed(served: Readonly<Record<string, Served>>): Promise<readonly (string | number)[]> {
  different = served;
  const address = `http://localhost:${(server.address() as AddressInfo).port}/spare`;
  const args = ["taskpane/hosting/manifest.mjs", "--probe", address, "--build", folder];
  return new Promise((done) => {
    const run = spawn(process.execPath, args);
    let out = "";
    run.stdout.on("data", (text: Buffer) => (out += text.toString()));
    run.on("exit", (code) => {
      done([code ?? 2, ...out.trimEnd().replaceAll(address, "HOST").split("\n")]);
    });
  });
}

describe("npm run manifest -- --probe", () => {
  it("says that all is as Excel needs it", async () => {
    expect(await probed({})).toEqual([0, "5 files of HOST asked for: all as Excel needs them."]);
  });

  it.each([
    [
      "a file is missing",
      { "functions.js": { status: 404 } },
      "functions.js: the answer must be 200, got 404",
    ],
    [
      "the description is text",
      { "functions.json": { headers: { "Content-Type": "text/plain" } } },
      "functions.json: Content-Type must be application/json, got text/plain",
    ],
    [
      "another origin may not read the description",
      { "functions.json": { headers: { "Access-Control-Allow-Origin": "https://host.example" } } },
      "functions.json: Access-Control-Allow-Origin must be *, got https://host.example",
    ],
    [
      "the page may not be framed",
      { "pane.html": { headers: { "X-Frame-Options": "SAMEORIGIN" } } },
      "pane.html: X-Frame-Options must be absent, or Office cannot show the page, got SAMEORIGIN",
    ],
    [
      "a policy bars frames",
      {
        "pane.html": {
          headers: {
            "Content-Security-Policy":
              "script-src 'self' https://appsforoffice.microsoft.com; frame-ancestors 'none'",
          },
        },
      },
      "pane.html: Content-Security-Policy must be without frame-ancestors, got \"script-src 'self' " +
        "https://appsforoffice.microsoft.com; frame-ancestors 'none'\"",
    ],
    [
      "a policy bars Excel's script",
      { "pane.html": { headers: { "Content-Security-Policy": "default-src 'self'" } } },
      "pane.html: Content-Security-Policy must be open for scripts of appsforoffice.microsoft.com, got " +
        "\"default-src 'self'\"",
    ],
    [
      "the host holds an earlier build",
      { "functions.js": { text: "0; " } },
      "functions.js: the content must be what this build made, got 3 other bytes",
    ],
    [
      "an address is moved",
      {
        "help/index.html": { status: 302, headers: { Location: "/spare/pane.html" } },
      },
      "help/index.html: the address must be answered without a redirection, got HOST/pane.html",
    ],
  ])("names it when %s", async (_, served, sentence) => {
    const [code, ...lines] = await probed(served);
    expect(code).toBe(1);
    expect(lines).toContain(sentence);
  });

  it("names every fault, not the first", async () => {
    const gone = Object.fromEntries(Object.keys(FILES).map((path) => [path, { status: 500 }]));
    expect(await probed(gone)).toHaveLength(7);
  });

  it("refuses an address that is neither https nor this machine's, and a missing build", () => {
    const said = (...args: string[]): string =>
      spawnSync(process.execPath, ["taskpane/hosting/manifest.mjs", ...args], { encoding: "utf8" })
        .stderr;
    expect(said("--probe", "http://host.example")).toBe(
      '--probe must be an https address such as https://host/folder, got "http://host.example"\n',
    );
    expect(said("--probe", "https://localhost", "--build", join(folder, "none"))).toContain(
      "run npm run build first",
    );
  });
});
