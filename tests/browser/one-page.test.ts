import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import { extname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { gunzipSync } from "node:zlib";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { pageFolder } from "../../src/cli/serve-page.ts";
import { newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import { randomBook } from "../scenes/random-book.ts";
import { differences } from "../taskpane/contract.ts";
import { PATIENCE, settled, TEST } from "./driver.ts";
import { type Firefox, firefoxPath, openFirefox } from "./firefox.ts";
import { chromiumPath, openBrowser } from "./served.ts";
import { BYTES, SCREENS, snapshotOf, told, type } from "./workbench-scene.ts";

/** The workbench in one file, opened as a file, without a network. */
const DIST = fileURLToPath(new URL("../../dist/", import.meta.url));
const PAGE = join(DIST, "sparespan.html");
const ADDRESS = pathToFileURL(PAGE).href;
const chromium = chromiumPath();
const firefox = firefoxPath();
if (chromium === null)
  process.stderr.write("The one page is not driven: Chromium is not installed.\n");
if (firefox === null) {
  process.stderr.write("The one page is not driven in Firefox: firefox-esr is not installed.\n");
}

beforeAll(() => {
  pageFolder({ err: () => undefined });
  mkdirSync(SCREENS, { recursive: true });
}, 300_000);

/** The policy a page brings along, by its directives. */
function policyOf(html: string): Readonly<Record<string, string>> {
  const [, content = ""] =
    /http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(html) ?? [];
  const rules = content.split("; ").map((rule) => rule.split(/ (.*)/));
  return Object.fromEntries(rules.map(([name = "", sources = ""]) => [name, sources]));
}

/** The script that a page carries packed. */
function unpacked(html: string): string {
  const [, packed = ""] =
    /<script type="application\/gzip" id="packed">([^<]*)<\/script>/.exec(html) ?? [];
  return gunzipSync(Buffer.from(packed, "base64")).toString("utf8");
}

describe("the page in one file", () => {
  it("may run its one script and what unpacks it, told by their hashes, and ask nobody for anything", () => {
    const html = readFileSync(PAGE, "utf8");
    const scripts = [...html.matchAll(/<script>([^]*?)<\/script>/g)].map(([, code = ""]) => code);
    expect(scripts).toHaveLength(1);
    const hashed = (script: string): string =>
      `'sha256-${createHash("sha256").update(script).digest("base64")}'`;
    expect(policyOf(html)).toEqual({
      "default-src": "'none'",
      "script-src": [...scripts, unpacked(html)].map(hashed).join(" "),
      "style-src": "'unsafe-inline'",
      "img-src": "data: blob:",
      "base-uri": "'none'",
      "form-action": "'none'",
    });
    const [head = ""] = html.split("<script>");
    expect(head.replaceAll(/<style>[^]*?<\/style>/g, "")).not.toMatch(/ (?:src|srcset)=|url\(/);
    expect([...head.matchAll(/ href="([^"]{0,20})/g)].map(([, at]) => at)).toEqual([
      "data:image/svg+xml,%",
    ]);
  });

  it("carries the licences of the packages that are inside", () => {
    const html = readFileSync(PAGE, "utf8");
    for (const name of ["@univerjs/core 0.25.1, Apache-2.0", "preact ", "fflate ", "react-dom "]) {
      expect([name, html.includes(name)]).toEqual([name, true]);
    }
    expect(html).toContain("Apache License\n                           Version 2.0");
    expect(html).toContain("MIT License");
  });

  it("is the build that npm start serves, packed, and weighs less than three million bytes", () => {
    const html = readFileSync(PAGE, "utf8");
    expect(unpacked(html)).toBe(readFileSync(join(DIST, "workbench", "workbench.js"), "utf8"));
    expect(Buffer.byteLength(html)).toBeLessThan(3_000_000);
  });
});

describe.skipIf(chromium === null)("the page in one file, in Chromium", TEST, () => {
  let browser: Browser | null = null;
  let context: BrowserContext | null = null;
  const asked: string[] = [];
  const errors: string[] = [];
  const opened = async (address = ADDRESS): Promise<Page> => {
    if (context === null) throw new Error("the browser is not open yet");
    const page = await context.newPage();
    page.setDefaultTimeout(PATIENCE);
    page.on("pageerror", (error) => errors.push(error.message));
    page.on("console", (message) => {
      if (message.type() === "error") errors.push(message.text());
    });
    await page.goto(address);
    await page.getByText("35 devices on Equipment.", { exact: true }).waitFor();
    return page;
  };

  beforeAll(async () => {
    browser = await openBrowser(chromium ?? "");
    context = await browser.newContext({ viewport: { width: 1366, height: 768 }, locale: "en-GB" });
    await context.setOffline(true);
    context.on("request", (request) => {
      if (!/^(data|blob):/.test(request.url())) asked.push(request.url());
    });
  }, 300_000);
  afterAll(() => browser?.close());

  it("opens the demonstration on its own day, and keeps its hands off the keyboard", async () => {
    const page = await opened();
    await told(page, /invented.*its own report date/);
    await settled(page);
    expect(await page.locator("#pane").innerText()).toMatch(
      /\b2\s+(parts\s+)?overdue\b|\boverdue\s+2\b/i,
    );
    expect(await page.evaluate("document.activeElement.tagName")).toBe("BODY");
    await page.screenshot({ path: join(SCREENS, "one-page.png") });
    await page.close();
  });

  it("leads the keys from room to room and out of the grid again", async () => {
    const page = await opened();
    const room = (): Promise<string> =>
      page.evaluate<string>(
        `(({ activeElement: at }) => at.closest("#bar, #pane, #guide")?.id ??
          (at.closest('#grid, [id^="univer-doc-selection"]') ? "grid" : at.tagName))(document)`,
      );
    const pressed = async (key: string): Promise<string> => {
      await page.keyboard.press(key);
      return room();
    };
    const round = ["F6", "F6", "F6", "F6", "Shift+F6", "Shift+F6", "Shift+F6"];
    const rooms: string[] = [];
    for (const key of round) rooms.push(await pressed(key));
    expect(rooms).toEqual(["bar", "grid", "pane", "bar", "pane", "grid", "bar"]);
    await page.keyboard.press("F6");
    for (const key of ["Tab", "Tab"]) expect(await pressed(key)).toBe("grid");
    const cell = page.locator("#grid input").first();
    await expect.poll(() => cell.inputValue(), { timeout: PATIENCE }).toBe("C1");
    expect(await pressed("F6")).toBe("pane");
    const nameless = await page.evaluate<string[]>(
      `[...document.querySelectorAll("#grid :is(button, input, a, [role=tab])")]
         .filter((one) => one.getClientRects().length > 0)
         .filter((one) => (one.getAttribute("aria-label") ?? one.innerText.trim()) === "")
         .map((one) => one.outerHTML.slice(0, 200))`,
    );
    expect(nameless).toEqual([]);
    await page.close();
  });

  it("opens ten thousand rows, and gives them back as a download", async () => {
    const page = await opened();
    const bytes = Buffer.from(newWorkbook(randomBook(10_000, 5, 1900)));
    const began = performance.now();
    await page.locator("#pick").setInputFiles({ name: "many.xlsx", mimeType: "", buffer: bytes });
    await told(page, /^many.xlsx is open/);
    process.stderr.write(`10,000 rows shown after ${seconds(began)} s\n`);
    await settled(page);
    const coming = page.waitForEvent("download");
    await page.locator("#save").click();
    const saved = readFileSync(await (await coming).path());
    expect(Buffer.compare(saved, bytes)).toBe(0);
    await page.close();
  });

  it("says not saved after the pane changed something, and saved after that", async () => {
    const page = await opened();
    await page.getByRole("button", { name: "Columns", exact: true }).click();
    await page.getByRole("button", { name: "Preview the columns" }).click();
    await page.getByRole("button", { name: "Do it" }).click();
    await page.locator("#file", { hasText: "(not saved)" }).waitFor();
    await settled(page);
    const coming = page.waitForEvent("download");
    await page.locator("#save").click();
    const { sheets } = snapshotOf(await (await coming).path());
    expect(sheets[0]?.values[2]).toContain("Ear cushion: state");
    await told(page, /is in your downloads/);
    expect(await page.locator("#file").textContent()).not.toContain("not saved");
    await page.close();
  });

  it("writes the file in its place where the browser lets it, and keeps the first as it was", async () => {
    const page = await opened();
    await page.evaluate(picker(BYTES, "granted"));
    await page.locator("label", { hasText: "Open a workbook" }).click();
    await told(page, /^mine.xlsx is open/);
    await settled(page);
    await type(page, "L5", "seen");
    const coming = page.waitForEvent("download");
    await page.locator("#save").click();
    const copy = await coming;
    const today = new Date().toISOString().slice(0, 10);
    expect(copy.suggestedFilename()).toBe(`mine before saving ${today}.xlsx`);
    expect(Buffer.compare(readFileSync(await copy.path()), Buffer.from(BYTES))).toBe(0);
    await told(page, /^Saved in mine.xlsx[.] The file as it was is in your downloads/);
    const text = await page.evaluate<string>(`btoa(String.fromCharCode(...held))`);
    const found = differences(
      openWorkbook(BYTES).snapshot,
      openWorkbook(Buffer.from(text, "base64")).snapshot,
    );
    expect(found).toEqual(['Equipment!L5: blank / string "seen" General']);
    await type(page, "L6", "too");
    await page.locator("#save").click();
    await told(page, /^Saved in mine.xlsx[.]$/);
    await page.evaluate("held = new Uint8Array([1])");
    await type(page, "L7", "late");
    await page.locator("#save").click();
    await told(
      page,
      /^The file mine.xlsx has been changed by another program in the meantime; nothing was saved/,
    );
    expect(await page.evaluate("held.length")).toBe(1);
    await page.close();
  });

  it("hands the file over as a download where the browser may not write it", async () => {
    const page = await opened();
    await page.evaluate(picker(BYTES, "denied"));
    await page.locator("label", { hasText: "Open a workbook" }).click();
    await told(page, /^mine.xlsx is open/);
    await settled(page);
    const coming = page.waitForEvent("download");
    await page.locator("#save").click();
    expect((await coming).suggestedFilename()).toBe("mine.xlsx");
    await told(page, /does not let this page write mine.xlsx: it is in your downloads/);
    await page.close();
  });

  it("asked for nothing but itself, and complained of nothing", () => {
    expect(new Set(asked)).toEqual(new Set([ADDRESS]));
    expect(errors).toEqual([]);
  });

  describe("from a static host", () => {
    let host: Hosting | null = null;
    beforeAll(async () => {
      host = await hosting(join(DIST, "hosted"));
    });
    afterAll(() => host?.stop());

    it("is kept when it was opened once, and opens without the host", async () => {
      await context?.setOffline(false);
      asked.length = 0;
      const page = await opened(host?.address);
      await page.evaluate("navigator.serviceWorker.ready.then(() => true)");
      await expect
        .poll(() => page.evaluate("caches.keys()"), { timeout: PATIENCE })
        .toHaveLength(1);
      await host?.stop();
      await page.goto(host?.address ?? "");
      await page.getByText("35 devices on Equipment.", { exact: true }).waitFor();
      expect(asked.filter((address) => !address.startsWith(host?.address ?? " "))).toEqual([]);
      const manifest = JSON.parse(
        readFileSync(join(DIST, "hosted", "sparespan.webmanifest"), "utf8"),
      ) as { readonly icons: readonly { readonly src: string }[] };
      // What browsers ask of a page to be installed (W3C Application Manifest; from memory).
      expect(manifest).toMatchObject({ start_url: "./", display: "standalone" });
      expect(manifest.icons.map(({ src }) => existsSync(join(DIST, "hosted", src)))).toEqual([
        true,
      ]);
      await page.close();
    });
  });
});

describe.skipIf(firefox === null)("the page in one file, in Firefox", TEST, () => {
  let held: Firefox | null = null;
  const page = (): Firefox["page"] => {
    if (held === null) throw new Error("Firefox is not open yet");
    return held.page;
  };
  const says = async (words: RegExp): Promise<void> => {
    const text = `document.getElementById("status").textContent + document.getElementById("pane").innerText`;
    await expect.poll(() => page().evaluate(text), { timeout: PATIENCE }).toMatch(words);
  };

  beforeAll(async () => {
    held = await openFirefox(firefox ?? "", 1366, 768);
  }, 300_000);
  afterAll(() => held?.close());

  it("opens the demonstration on its own day", async () => {
    const began = performance.now();
    await page().goto(ADDRESS);
    await says(/\b2\s+(parts\s+)?overdue\b|\boverdue\s+2\b/i);
    process.stderr.write(`Firefox: the list after ${seconds(began)} s\n`);
    expect(await page().evaluate("document.activeElement.tagName")).toBe("BODY");
    await page().screenshot(join(SCREENS, "one-page-firefox.png"));
  });

  it("opens a workbook that is picked, and gives it back as a download", async () => {
    const path = join(held?.folder ?? "", "picked.xlsx");
    writeFileSync(path, BYTES);
    await page().pick("#pick", path);
    await says(/picked.xlsx is open/);
    // Once the pane has read it, and not before.
    const busy = `document.querySelector('#pane [aria-busy="true"]') !== null`;
    await expect.poll(() => page().evaluate(busy), { timeout: PATIENCE }).toBe(false);
    await page().evaluate(`document.getElementById("save").click()`);
    await says(/picked.xlsx is in your downloads/);
    // The name is taken by what was picked, so the browser counts on.
    const there = (): string[] =>
      readdirSync(held?.folder ?? "").filter((name) => /^picked.+[.]xlsx$/.test(name));
    await expect.poll(there, { timeout: PATIENCE }).toHaveLength(1);
    const saved = join(held?.folder ?? "", there()[0] ?? "");
    await expect.poll(() => readFileSync(saved).length, { timeout: PATIENCE }).toBe(BYTES.length);
    expect(Buffer.compare(readFileSync(saved), Buffer.from(BYTES))).toBe(0);
  });

  it("asked nobody for anything, which would have been heard", async () => {
    expect(page().requests).toEqual([]);
    expect(page().errors).toEqual([]);
    const other = join(held?.folder ?? "", "asking.html");
    writeFileSync(other, '<img src="http://asked.invalid/x.png">');
    await page().goto(pathToFileURL(other).href);
    expect(page().requests).toEqual([
      expect.stringMatching(/^https?:[/][/]asked[.]invalid[/]x[.]png$/),
    ]);
  });
});

function seconds(began: number): string {
  return ((performance.now() - began) / 1000).toFixed(1);
}

/** A picker whose file lies in the page itself: nobody can press on the browser's own. */
function picker(bytes: Uint8Array, permission: string): string {
  return `(() => {
    globalThis.held = Uint8Array.from(atob("${Buffer.from(bytes).toString("base64")}"), (c) => c.charCodeAt(0));
    const handle = {
      kind: "file",
      getFile: async () => new File([held], "mine.xlsx"),
      requestPermission: async () => "${permission}",
      createWritable: async () => {
        let coming = null;
        return { write: async (bytes) => { coming = bytes; }, close: async () => { held = coming; } };
      },
    };
    globalThis.showOpenFilePicker = async () => [handle];
  })()`;
}

/** A host that serves the files of a folder and knows nothing of them. */
interface Hosting {
  readonly address: string;
  readonly stop: () => Promise<void>;
}

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html",
  ".js": "text/javascript",
  ".svg": "image/svg+xml",
  ".webmanifest": "application/manifest+json",
};

async function hosting(folder: string): Promise<Hosting> {
  const server: Server = createServer((request, response) => {
    const name = (request.url ?? "/").replace(/^\//, "") || "index.html";
    if (!readdirSync(folder).includes(name)) response.writeHead(404).end();
    else {
      response.writeHead(200, { "content-type": TYPES[extname(name)] ?? "" });
      response.end(readFileSync(join(folder, name)));
    }
  });
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  const address = server.address();
  const port = typeof address === "object" && address !== null ? address.port : 0;
  return {
    address: `http://127.0.0.1:${port}/`,
    stop: () =>
      new Promise((done) => {
        server.close(() => {
          done();
        });
        server.closeAllConnections();
      }),
  };
}
