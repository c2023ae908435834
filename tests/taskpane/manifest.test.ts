import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { NAMESPACE } from "../../functions/define.ts";
import { VERSION } from "../../taskpane/version.ts";

const root = new URL("../../", import.meta.url);
const manifest = readFileSync(new URL("manifest.xml", root), "utf8");

function all(pattern: RegExp, text = manifest): string[] {
  return [...text.matchAll(pattern)].map((match) => match[1] ?? "");
}

/** The first text between the tags of an element. */
function inside(element: string, text = manifest): string {
  return all(new RegExp(`<${element}[ >]([^]*?)</${element}>`, "g"), text)[0] ?? "";
}

const resources = new Map(
  [...manifest.matchAll(/<bt:(\w+) id="([^"]+)" DefaultValue="([^"]*)"/g)].map((match) => [
    match[2] ?? "",
    { kind: match[1] ?? "", value: match[3] ?? "" },
  ]),
);
const used = all(/ resid="([^"]+)"/g);

describe("the manifest", () => {
  it("defines every resource it uses, uses every one it defines, none twice", () => {
    expect(used.length).toBeGreaterThan(0);
    expect([...new Set(used)].sort()).toEqual([...resources.keys()].sort());
    expect(all(/<bt:\w+ id="([^"]+)"/g).length).toBe(resources.size);
  });
  it("keeps the lengths Office allows", () => {
    const longest: Readonly<Record<string, number>> = { Image: 2048, Url: 2048, String: 250 };
    for (const [id, { kind, value }] of resources) {
      expect(id.length).toBeLessThanOrEqual(32);
      expect(value.length).toBeLessThanOrEqual(longest[kind] ?? 0);
    }
    for (const text of all(/DefaultValue="([^"]*)"/g, inside("bt:ShortStrings"))) {
      expect(text.length).toBeLessThanOrEqual(125);
    }
    expect(all(/<Description DefaultValue="([^"]*)"/g)[0]?.length).toBeLessThanOrEqual(250);
  });
  it("has https addresses of one host only", () => {
    const addresses = all(/"(https?:[^"]+)"/g).filter(
      (address) => !/^http:\/\/(schemas\.microsoft\.com|www\.w3\.org)\//.test(address),
    );
    expect(addresses.length).toBeGreaterThan(10);
    const hosts = new Set(addresses.map((address) => new URL(address).origin));
    expect([...hosts]).toEqual([inside("AppDomain")]);
    expect(inside("AppDomain")).toMatch(/^https:\/\//);
  });
  it("names one page in all four places, or the shared runtime would not load", () => {
    const places = [
      all(/<Runtime resid="([^"]+)" lifetime="long"/g),
      all(/resid="([^"]+)"/g, inside("Page")),
      all(/<FunctionFile resid="([^"]+)"/g),
      all(/resid="([^"]+)"/g, inside("Action")),
    ];
    expect(places).toEqual([["Pane.Url"], ["Pane.Url"], ["Pane.Url"], ["Pane.Url"]]);
    const start = all(/<SourceLocation DefaultValue="([^"]+)"/g);
    expect(start).toEqual([resources.get("Pane.Url")?.value]);
    expect(manifest).not.toContain("TaskpaneId");
  });
  it("asks for the requirement sets that functions in cells need", () => {
    const sets = [...manifest.matchAll(/<Set Name="(\w+)" MinVersion="([\d.]+)"/g)].map((match) =>
      match.slice(1, 3),
    );
    expect(sets).toContainEqual(["CustomFunctionsRuntime", "1.3"]);
    expect(sets).toContainEqual(["SharedRuntime", "1.1"]);
  });
  it("has the namespace of the declarations", () => {
    const [resid = ""] = all(/<Namespace resid="([^"]+)"/g);
    expect(resources.get(resid)?.value).toBe(NAMESPACE);
    expect(NAMESPACE).toMatch(/^[A-Za-z][A-Za-z0-9._]{0,31}$/);
  });
  it("has a version of four numbers that package.json and the pane share, and a well-formed id", () => {
    const { version } = JSON.parse(readFileSync(new URL("package.json", root), "utf8")) as {
      readonly version: string;
    };
    expect(all(/<Version>([^<]+)</g)).toEqual([`${version}.0`]);
    expect(VERSION).toBe(version);
    expect(all(/<Id>([^<]+)</g)[0]).toMatch(/^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/);
  });
});

describe("the marks", () => {
  const folder = new URL("taskpane/icons/", root);
  const files = readdirSync(folder).filter((name) => name.endsWith(".png"));
  it("are there in every size the manifest shows, and no other", () => {
    const shown = all(/icons\/(mark-\d+\.png)"/g);
    expect([...new Set(shown)].sort()).toEqual([...files].sort());
    for (const size of [16, 32, 80]) expect(shown).toContain(`mark-${size}.png`);
    for (const [, size = "", resid = ""] of manifest.matchAll(/size="(\d+)" resid="([^"]+)"/g)) {
      expect(resources.get(resid)?.value).toMatch(new RegExp(`/mark-${size}\\.png$`));
    }
  });
  for (const file of files) {
    it(`${file} is a PNG of that size under 4 kB`, () => {
      const bytes = readFileSync(new URL(file, folder));
      const size = Number(/\d+/.exec(file)?.[0]);
      expect(bytes.subarray(1, 4).toString("latin1")).toBe("PNG");
      expect([bytes.readUInt32BE(16), bytes.readUInt32BE(20)]).toEqual([size, size]);
      expect(bytes.length).toBeLessThan(4096);
    });
  }
});

describe("npm run manifest", () => {
  const folder = mkdtempSync(join(tmpdir(), "sparespan-manifest-"));
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });
  const made = (...args: string[]): string => {
    const out = join(folder, "manifest.xml");
    execFileSync(process.execPath, [
      "taskpane/hosting/manifest.mjs",
      ...args,
      "--out",
      out,
      "--build",
      folder,
    ]);
    return readFileSync(out, "utf8");
  };
  const refused = (...args: string[]): string =>
    spawnSync(process.execPath, ["taskpane/hosting/manifest.mjs", ...args], { encoding: "utf8" })
      .stderr;

  it("puts the host's address everywhere, its host alone into the application domain", () => {
    const text = made("--url", "https://files.example.org/spare/");
    expect(text).not.toContain("sparespan.example");
    expect(inside("AppDomain", text)).toBe("https://files.example.org");
    expect(text).toContain('"https://files.example.org/spare/pane.html"');
    expect(text.replaceAll("https://files.example.org/spare", "https://sparespan.example")).toBe(
      manifest.replace(/<AppDomain>[^<]+/, "<AppDomain>https://files.example.org"),
    );
  });
  it("gives the development variant an id and a name of its own, and the namespace formulas call", () => {
    const text = made("--dev");
    const value = (pattern: RegExp, of: string): string => all(pattern, of)[0] ?? "";
    const namespace = /id="Functions.Namespace" DefaultValue="([^"]+)/g;
    expect(value(namespace, text)).toBe(value(namespace, manifest));
    for (const pattern of [/<Id>([^<]+)</g, /<DisplayName DefaultValue="([^"]+)/g]) {
      expect(value(pattern, text)).not.toBe(value(pattern, manifest));
      expect(value(pattern, text)).not.toBe("");
    }
    expect(text).toContain("https://localhost:3000/pane.html");
  });
  it("refuses an address that Office would not take", () => {
    for (const url of ["http://host/", "host", "https://host/?x=1"]) {
      expect(refused("--url", url)).toContain("--url must be an https address");
    }
    expect(refused()).toContain("--url must be an https address");
  });
  it("writes the host's address into the build, and the headers it must send beside it", () => {
    const build = mkdtempSync(join(folder, "build-"));
    const described = join(build, "functions.json");
    writeFileSync(described, JSON.stringify({ functions: [{ id: "SPAN", helpUrl: "" }] }));
    const args = ["--url", "https://host.example/spare", "--build", build];
    execFileSync(process.execPath, ["taskpane/hosting/manifest.mjs", ...args]);
    const { functions } = JSON.parse(readFileSync(described, "utf8")) as {
      readonly functions: readonly { readonly helpUrl: string }[];
    };
    expect(functions[0]?.helpUrl).toBe("https://host.example/spare/help/span.html");
    const text = (name: string): string => readFileSync(join(build, name), "utf8");
    expect(text("_headers")).toContain("/spare/functions.json\n  Content-Type: application/json\n");
    const azure = JSON.parse(text("staticwebapp.config.json")) as {
      readonly routes: readonly object[];
    };
    expect(azure.routes).toEqual([
      {
        route: "/spare/functions.json",
        headers: { "Content-Type": "application/json", "Access-Control-Allow-Origin": "*" },
      },
    ]);
    expect(text("web.config")).toContain('<location path="functions.json">');
    for (const name of ["_headers", "staticwebapp.config.json", "web.config"]) {
      expect(text(name)).toContain("script-src 'self' https://appsforoffice.microsoft.com");
      expect(text(name)).not.toMatch(/frame/i);
    }
  });
  it("stays well-formed XML", ({ skip }) => {
    const tried = spawnSync("xmllint", ["--version"]);
    if (tried.error !== undefined) skip("xmllint is not installed");
    made("--url", "https://files.example.org/a&b");
    const done = spawnSync("xmllint", ["--noout", "--nonet", join(folder, "manifest.xml")]);
    expect({ status: done.status, said: String(done.stderr) }).toEqual({ status: 0, said: "" });
  });
});
