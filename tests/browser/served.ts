import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import { dirname, extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Browser, chromium } from "playwright-core";

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

/** A script that was built. */
interface Script {
  readonly fileName: string;
  readonly code: string;
}

interface Building {
  readonly scriptsOf: (entry: string, options: object) => Promise<readonly Script[]>;
  readonly whole: object;
}

interface PaneBuilding {
  readonly paneScripts: () => Promise<readonly Script[]>;
  readonly compact: (styles: string) => string;
}

/** Builds the pane as it is shipped, and the test pages by the same way. */
export async function bundle(): Promise<void> {
  const at = (name: string): string => new URL(`../../${name}`, import.meta.url).href;
  const { scriptsOf, whole } = (await import(at("rolldown.shared.js"))) as Building;
  const { paneScripts, compact } = (await import(at("rolldown.pane.js"))) as PaneBuilding;
  const settings = { tsconfig: "tests/tsconfig.json", ...whole };
  const made = [
    await paneScripts(),
    await scriptsOf("tests/browser/page.ts", settings),
    await scriptsOf("tests/browser/excel.ts", settings),
  ];
  for (const { fileName, code } of made.flat()) {
    mkdirSync(dirname(join(OUT, fileName)), { recursive: true });
    writeFileSync(join(OUT, fileName), code);
  }
  const styles = readFileSync(join(root, "taskpane", "pane", "pane.css"), "utf8");
  writeFileSync(join(OUT, "pane.css"), compact(styles));
}

const KINDS: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
};

const SCRIPT = "node_modules/@microsoft/office-js/dist/excel-win32-16.01.js";

/** What stands in the place of the script that comes from Excel's maker, and what the pane's own is. */
const PAGES: Readonly<Record<string, string>> = {
  // The pane over a workbook on paper.
  "pane.html": '<script type="module" src="page.js"></script>',
  // The pane as it is shipped, over Excel's own script and a workbook in memory behind it.
  "excel.html":
    '<script src="script.js"></script><script src="excel.js"></script><script type="module" src="pane.js"></script>',
  // The pane as it is shipped, without Excel.
  "alone.html": '<script type="module" src="pane.js"></script>',
};

/** The pane's own page, with other scripts in the place of Excel's. */
function pageHtml(scripts: string): string {
  const html = readFileSync(join(root, "taskpane", "pane", "pane.html"), "utf8");
  const loaded =
    /<script src="https:[^"]*"><\/script>\s*<script type="module" src="pane.js"><\/script>/;
  if (!loaded.test(html)) throw new Error("pane.html no longer loads Excel's script and its own");
  return html.replace(loaded, scripts);
}

/** Where a file of the page lies: the pane's own, and what was bundled. */
function placeOf(name: string): string {
  if (name === "script.js") return join(root, SCRIPT);
  return name.startsWith("icons/") ? join(root, "taskpane", name) : join(OUT, name);
}

/** Serves the test page on this machine; gives its address. */
export async function serve(): Promise<{ readonly server: Server; readonly address: string }> {
  const server = createServer((request, response) => {
    const name = (request.url ?? "/").replace(/^\//, "").replace(/\?.*$/, "");
    const path = placeOf(name);
    const kind = KINDS[extname(path)];
    const scripts = PAGES[name];
    if (scripts !== undefined) {
      response.writeHead(200, { "content-type": "text/html; charset=utf-8" });
      response.end(pageHtml(scripts));
    } else if (kind !== undefined && existsSync(path)) {
      response.writeHead(200, { "content-type": kind }).end(readFileSync(path));
    } else response.writeHead(404).end();
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const address = server.address();
  if (address === null || typeof address === "string") throw new Error("no port");
  return { server, address: `http://127.0.0.1:${address.port}/` };
}
