import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { rolldown } from "rolldown";

/** The package as others get it: packed, unpacked in a clean folder, used by its name. */
const folder = mkdtempSync(join(tmpdir(), "sparespan-pack-"));
const unpacked = join(folder, "node_modules", "sparespan");
const run = (command: string, ...args: string[]): string =>
  execFileSync(command, args, { cwd: folder, encoding: "utf8" });

beforeAll(() => {
  execFileSync(process.execPath, ["src/cli/ready.mjs"]);
  // What CI packs is what was built: the scripts of the package run nothing here.
  execFileSync("npm", ["pack", "--ignore-scripts", "--pack-destination", folder], {
    encoding: "utf8",
    stdio: "pipe",
  });
  const [tarball = ""] = readdirSync(folder).filter((name) => name.endsWith(".tgz"));
  mkdirSync(unpacked, { recursive: true });
  run("tar", "-xzf", tarball, "-C", unpacked, "--strip-components=1");
  // Its dependencies, as an installer would put them beside it.
  for (const name of ["@stdlib"]) {
    symlinkSync(resolve("node_modules", name), join(folder, "node_modules", name), "dir");
  }
  writeFileSync(join(folder, "package.json"), '{ "type": "module" }');
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe("the packed library", () => {
  it("holds no tests, no sources of the pane and no paths of the machine it was built on", () => {
    const files = run("find", unpacked, "-type", "f").trim().split("\n");
    const inside = files.map((file) => file.slice(unpacked.length + 1));
    expect(inside.length).toBeGreaterThan(20);
    expect(inside).toContain("build/command/LICENCES.txt");
    for (const file of inside) {
      expect(file).toMatch(
        /^(?:build\/(?:command|src\/core)\/|README\.md|LICENSE|CHANGELOG\.md|package\.json)/,
      );
    }
  });

  it("answers when imported by its name", () => {
    writeFileSync(
      join(folder, "use.js"),
      'import { reorderPoint, day, nextDue, workCalendar, isoText } from "sparespan";\n' +
        "console.log(reorderPoint({ mean: 0.8 }, {}));\n" +
        'console.log(isoText(nextDue(day("2026-02-17"), 3, workCalendar(1, []))));\n',
    );
    expect(run(process.execPath, "use.js")).toBe("2\n2026-05-15\n");
  });

  it("runs from the shell", () => {
    const main = join(unpacked, "build", "command", "sparespan.js");
    expect(run(process.execPath, main, "calc", "REORDERPOINT", "0.4", "2")).toBe("2\n");
  });

  it("carries types that hold a caller to the arguments", () => {
    writeFileSync(
      join(folder, "good.ts"),
      'import { reorderPoint, type Spread } from "sparespan";\n' +
        "const demand: Spread = { mean: 0.8 };\nexport const point: number = reorderPoint(demand, { serviceLevel: 0.95 });\n",
    );
    writeFileSync(
      join(folder, "bad.ts"),
      'import { reorderPoint } from "sparespan";\nexport const point: string = reorderPoint({ mean: "0.8" }, {});\n',
    );
    const check = (file: string): string => {
      const tsc = resolve("node_modules", "typescript", "bin", "tsc");
      const options = ["--noEmit", "--strict", "--module", "nodenext", "--target", "es2022"];
      try {
        return run(process.execPath, tsc, ...options, file);
      } catch (error) {
        return String((error as { stdout?: unknown }).stdout);
      }
    };
    expect(check("good.ts")).toBe("");
    expect(check("bad.ts").match(/error TS\d+/g)).toEqual(["error TS2322", "error TS2322"]);
  });

  it("leaves out of a bundle what is not used: due dates need no special functions", async () => {
    writeFileSync(
      join(folder, "small.js"),
      'import { addMonths, day } from "sparespan";\nglobalThis.found = addMonths(day("2026-01-31"), 1);\n',
    );
    const bundled = await bundle("small.js");
    expect(bundled).toBeLessThan(20_000);
  });
});

/** Bytes of a minified bundle. */
async function bundle(entry: string): Promise<number> {
  const made = await rolldown({ input: join(folder, entry), platform: "browser" });
  const { output } = await made.generate({ format: "es", minify: true });
  await made.close();
  return output.reduce((sum, one) => sum + (one.type === "chunk" ? one.code.length : 0), 0);
}
