import { existsSync, mkdirSync, readFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Browser, chromium } from "playwright-core";
import webpack, { type Configuration } from "webpack";

const root = fileURLToPath(new URL("../../", import.meta.url));
const OUT = join(root, "build", "browser");

const CHROMIUM = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

/** Where Chromium is; null where there is none. */
export function chromiumPath(): string | null {
  return CHROMIUM.find((path) => existsSync(path)) ?? null;
}

/** A headless browser that talks to nobody. */
export function openBrowser(executablePath: string): Promise<Browser> {
  return chromium.launch({
    executablePath,
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });
}

/** Bundles the test page as the pane itself is bundled. */
export async function bundle(): Promise<void> {
  const { modules } = (await import(new URL("../../webpack.config.js", import.meta.url).href)) as {
    modules: Configuration;
  };
  mkdirSync(OUT, { recursive: true });
  const compiler = webpack({
    mode: "production",
    context: root,
    target: ["web", "es2022"],
    entry: { page: fileURLToPath(new URL("page.ts", import.meta.url)) },
    output: { path: OUT, filename: "[name].js" },
    performance: false,
    ...modules,
  });
  await new Promise<void>((resolve, reject) => {
    compiler.run((error, stats) => {
      if (error) reject(error);
      else if (stats?.hasErrors() === true) reject(new Error(stats.toString("errors-only")));
      else resolve();
    });
  });
}

const KINDS: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
};

/** The pane's own page, with the script of the tests in the place of Excel's. */
function pageHtml(): string {
  const html = readFileSync(join(root, "taskpane", "pane", "pane.html"), "utf8");
  const office = /<script src="https:[^"]*"><\/script>/;
  if (!office.test(html)) throw new Error("pane.html no longer loads Excel's script");
  return html.replace(office, '<script defer src="page.js"></script>');
}

/** Where a file of the page lies: the pane's own, and what was bundled. */
function placeOf(name: string): string {
  if (name === "pane.css") return join(root, "taskpane", "pane", name);
  return name.startsWith("icons/") ? join(root, "taskpane", name) : join(OUT, name);
}

/** Serves the test page on this machine; gives its address. */
export async function serve(): Promise<{ readonly server: Server; readonly address: string }> {
  const server = createServer((request, response) => {
    const name = (request.url ?? "/").replace(/^\//, "").replace(/\?.*$/, "");
    const path = placeOf(name);
    const kind = KINDS[extname(path)];
    if (name === "pane.html" || name === "") {
      response.writeHead(200, { "content-type": "text/html; charset=utf-8" }).end(pageHtml());
    } else if (kind !== undefined && existsSync(path)) {
      response.writeHead(200, { "content-type": kind }).end(readFileSync(path));
    } else response.writeHead(404).end();
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const address = server.address();
  if (address === null || typeof address === "string") throw new Error("no port");
  return { server, address: `http://127.0.0.1:${address.port}/pane.html` };
}
