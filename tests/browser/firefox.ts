import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import WebSocket from "ws";
import { z } from "zod";

/** Firefox as Debian has it, over WebDriver BiDi (W3C), which it speaks by itself; no driver in between. */
const PATHS = ["/usr/bin/firefox-esr", "/usr/bin/firefox"];

/** Where Firefox is; null where there is none. */
export function firefoxPath(): string | null {
  return PATHS.find((path) => existsSync(path)) ?? null;
}

/** A page in Firefox, and what it was heard asking for. */
interface FirefoxPage {
  readonly goto: (address: string) => Promise<void>;
  /** The value of an expression, as JSON knows it; promises are awaited. */
  readonly evaluate: (expression: string) => Promise<unknown>;
  /** Presses a key by its WebDriver code, with Shift held or not. */
  readonly press: (key: string, shift?: boolean) => Promise<void>;
  readonly pick: (selector: string, path: string) => Promise<void>;
  readonly screenshot: (path: string) => Promise<void>;
  /** Addresses that were asked for, other than those inside the page. */
  readonly requests: readonly string[];
  readonly errors: readonly string[];
}

/** Firefox at work, its page, and the folder its downloads go to. */
export interface Firefox {
  readonly page: FirefoxPage;
  readonly folder: string;
  readonly close: () => Promise<void>;
}

/** Nothing of Firefox's own asks the network, and no network is there: what is asked goes to a port nobody listens on. */
const prefs = (folder: string): Readonly<Record<string, string | number | boolean>> => ({
  "app.update.enabled": false,
  "browser.download.dir": folder,
  "browser.download.folderList": 2,
  "browser.download.always_ask_before_handling_new_types": false,
  "browser.shell.checkDefaultBrowser": false,
  "datareporting.policy.dataSubmissionEnabled": false,
  "network.captive-portal-service.enabled": false,
  "network.connectivity-service.enabled": false,
  "network.proxy.type": 1,
  "network.proxy.http": "127.0.0.1",
  "network.proxy.http_port": 9,
  "network.proxy.ssl": "127.0.0.1",
  "network.proxy.ssl_port": 9,
  "remote.active-protocols": 1,
});

/** Starts Firefox without a window. */
export async function openFirefox(path: string, width: number, height: number): Promise<Firefox> {
  const folder = mkdtempSync(join(tmpdir(), "firefox-"));
  const lines = Object.entries(prefs(folder)).map(
    ([name, value]) => `user_pref(${JSON.stringify(name)}, ${JSON.stringify(value)});`,
  );
  writeFileSync(join(folder, "user.js"), lines.join("\n"));
  const args = ["--headless", "--no-remote", "--profile", folder, "--remote-debugging-port", "0"];
  const program = spawn(path, args, { stdio: ["ignore", "ignore", "pipe"] });
  const address = await addressOf(program);
  const line = await lineTo(`${address}/session`);
  await line.send("session.new", { capabilities: {} });
  const page = await pageOver(line, width, height);
  return {
    page,
    folder,
    async close() {
      const gone = once(program, "exit");
      await line.send("browser.close", {});
      await gone;
      rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
    },
  };
}

/** Where it says it listens; what it says later is let go by. */
function addressOf(program: ChildProcess): Promise<string> {
  let said = "";
  return new Promise((done, fail) => {
    program.stderr?.on("data", (piece) => {
      said += String(piece);
      const found = /WebDriver BiDi listening on ws:\/\/(\S+)/.exec(said);
      if (found) done(`ws://${found[1] ?? ""}`);
    });
    program.on("exit", () => {
      fail(new Error(`Firefox ended before it listened: ${said}`));
    });
  });
}

const TREE = z.object({ contexts: z.tuple([z.object({ context: z.string() })]) });
const SCRIPT = z.object({
  type: z.string(),
  result: z.object({ value: z.unknown().optional(), sharedId: z.string().optional() }).optional(),
  exceptionDetails: z.object({ text: z.string() }).optional(),
});
const REQUEST = z.object({ request: z.object({ url: z.string() }) });
const ENTRY = z.object({ level: z.string(), text: z.string().nullable() });
const PICTURE = z.object({ data: z.string() });

async function pageOver(line: Line, width: number, height: number): Promise<FirefoxPage> {
  const requests: string[] = [];
  const errors: string[] = [];
  line.hear((method, params) => {
    if (method === "network.beforeRequestSent") {
      const { url } = REQUEST.parse(params).request;
      if (!/^(data|blob):/.test(url)) requests.push(url);
    }
    const entry = method === "log.entryAdded" ? ENTRY.parse(params) : null;
    if (entry?.level === "error") errors.push(entry.text ?? "");
  });
  await line.send("session.subscribe", { events: ["network.beforeRequestSent", "log.entryAdded"] });
  const [{ context }] = TREE.parse(await line.send("browsingContext.getTree", {})).contexts;
  await line.send("browsingContext.setViewport", { context, viewport: { width, height } });
  const run = async (expression: string): Promise<z.infer<typeof SCRIPT>["result"]> => {
    const asked = { expression, target: { context }, awaitPromise: true };
    const { result, exceptionDetails } = SCRIPT.parse(await line.send("script.evaluate", asked));
    if (exceptionDetails !== undefined) throw new Error(exceptionDetails.text);
    return result;
  };
  const act = (actions: readonly object[]): Promise<unknown> =>
    line.send("input.performActions", { context, actions: [{ type: "key", id: "keys", actions }] });
  return {
    requests,
    errors,
    async goto(url) {
      await line.send("browsingContext.navigate", { context, url, wait: "complete" });
    },
    async evaluate(expression) {
      const text = (await run(`Promise.resolve(${expression}).then(JSON.stringify)`))?.value;
      return typeof text === "string" ? (JSON.parse(text) as unknown) : undefined;
    },
    async press(value, shift = false) {
      const held = shift ? [{ type: "keyDown", value: "\uE008" }] : [];
      const let_ = shift ? [{ type: "keyUp", value: "\uE008" }] : [];
      await act([...held, { type: "keyDown", value }, { type: "keyUp", value }, ...let_]);
    },
    async pick(selector, path) {
      const element = await run(`document.querySelector(${JSON.stringify(selector)})`);
      const asked = { context, element: { sharedId: element?.sharedId }, files: [path] };
      await line.send("input.setFiles", asked);
    },
    async screenshot(path) {
      const { data } = PICTURE.parse(
        await line.send("browsingContext.captureScreenshot", { context }),
      );
      writeFileSync(path, data, "base64");
    },
  };
}

/** Messages to the browser and from it. */
interface Line {
  readonly send: (method: string, params: object) => Promise<unknown>;
  readonly hear: (heard: (method: string, params: unknown) => void) => void;
}

const MESSAGE = z.object({
  id: z.number().nullish(),
  method: z.string().optional(),
  params: z.unknown().optional(),
  result: z.unknown().optional(),
  error: z.string().optional(),
  message: z.string().optional(),
});

/** A line over a WebSocket. */
async function lineTo(address: string): Promise<Line> {
  const socket = new WebSocket(address);
  await once(socket, "open");
  const waiting = new Map<number, (message: z.infer<typeof MESSAGE>) => void>();
  const heard: ((method: string, params: unknown) => void)[] = [];
  socket.on("message", (bytes: Buffer) => {
    const message = MESSAGE.parse(JSON.parse(bytes.toString()));
    if (typeof message.id === "number") waiting.get(message.id)?.(message);
    else for (const one of heard) one(message.method ?? "", message.params);
  });
  let count = 0;
  return {
    hear: (one) => heard.push(one),
    send: (method, params) =>
      new Promise((done, fail) => {
        const id = (count += 1);
        waiting.set(id, ({ error, message, result }) => {
          if (error === undefined) done(result);
          else fail(new Error(`${method}: ${message ?? error}`));
        });
        socket.send(JSON.stringify({ id, method, params }));
      }),
  };
}
