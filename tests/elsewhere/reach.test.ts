import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

/** How far our own code reaches: who may speak, listen, start a program, keep something, make markup. */
const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const ROOMS = ["src", "functions", "taskpane"];

const sources = ROOMS.flatMap((room) =>
  readdirSync(join(ROOT, room), { recursive: true, encoding: "utf8" })
    .filter((name) => /\.(ts|tsx|js|mjs|html)$/.test(name))
    .map((name) => [`${room}/${name}`, readFileSync(join(ROOT, room, name), "utf8")] as const),
);

/** The files a pattern is found in, comments aside. */
function files(pattern: RegExp): string[] {
  const bare = (text: string): string => text.replaceAll(/\/\*[^]*?\*\/|^\s*\/\/.*$/gm, "");
  return sources.flatMap(([name, text]) => (pattern.test(bare(text)) ? [name] : [])).sort();
}

describe("our own source", () => {
  it("is all of it looked at", () => {
    expect(sources.length).toBeGreaterThan(200);
  });

  it.each<readonly [string, RegExp, readonly string[]]>([
    [
      "asks the network for nothing, but the workbench its own server, an installed page its own files, and a developer's probe the host it is told",
      /\bfetch\(|XMLHttpRequest|WebSocket|EventSource|sendBeacon|RTCPeer|importScripts|new Image\(/,
      [
        "taskpane/hosting/probe.mjs",
        "taskpane/workbench/served.ts",
        "taskpane/workbench/worker.js",
      ],
    ],
    [
      "listens in two places: the workbench's server, and a developer's for Excel",
      /(?:from|import|import\(|require\() ?["'](?:node:)?(?:https?|http2|net|tls|dns|dgram|inspector|cluster|worker_threads)["'/]/,
      ["src/cli/serve.ts", "taskpane/hosting/serve.mjs"],
    ],
    [
      "starts programs in five: LibreOffice for files of other forms, cp for a file's attributes, the build, the browser, a developer's Excel",
      /child_process|process\.binding|\bexecSync|\bfork\(/,
      [
        ...["src/cli/office.ts", "src/cli/place.ts", "src/cli/ready.mjs", "src/cli/serve-page.ts"],
        "taskpane/hosting/excel.mjs",
      ],
    ],
    [
      "keeps one word in the browser, that the guide was put away, and the page itself where it is installed",
      /localStorage|sessionStorage|indexedDB|document\.cookie|caches\./,
      ["taskpane/workbench/guide.ts", "taskpane/workbench/worker.js"],
    ],
    [
      "makes no element of a text",
      /innerHTML|outerHTML|insertAdjacentHTML|document\.write|InnerHTML|createContextualFragment|DOMParser|setHTMLUnsafe|srcdoc/,
      [],
    ],
    ["runs no text", /\beval\(|new Function\(|setTimeout\(\s*["'`]|node:vm|javascript:/, []],
  ])("%s", (_, pattern, expected) => {
    expect(files(pattern)).toEqual(expected);
  });

  it("asks Excel for the workbook that is open and no more", () => {
    const manifest = readFileSync(join(ROOT, "manifest.xml"), "utf8");
    expect(manifest.match(/<Permissions>.*<\/Permissions>/g)).toEqual([
      "<Permissions>ReadWriteDocument</Permissions>",
    ]);
    expect(manifest).not.toMatch(/<WebApplicationInfo>|<Scopes>|<ExtendedPermissions>/);
  });

  it("loads scripts of one other address: Excel's own, on the pane's page", () => {
    const loading = sources.flatMap(([name, text]) => {
      const found = name.endsWith(".html")
        ? [...text.matchAll(/(?:src|href)="(https?:[^"]*)"/g)].map(([, address]) => address)
        : [];
      return found.map((address) => [name, address]);
    });
    expect(loading).toEqual([
      ["taskpane/pane/pane.html", "https://appsforoffice.microsoft.com/lib/1/hosted/office.js"],
    ]);
    const pane = sources.find(([name]) => name === "taskpane/pane/pane.html")?.[1] ?? "";
    const policy = /Content-Security-Policy"\s+content="([^"]*)"/.exec(pane)?.[1] ?? "";
    expect(policy.split("; ")).toEqual(
      expect.arrayContaining([
        "default-src 'self'",
        "script-src 'self' https://appsforoffice.microsoft.com",
        "connect-src 'self'",
        "object-src 'none'",
        "base-uri 'none'",
        "form-action 'none'",
      ]),
    );
    expect(policy).not.toMatch(/unsafe|\*|data:/);
  });
});
