import { spawnSync } from "node:child_process";
import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { sparesheet } from "./session.ts";

/** Every command README shows is run as it stands there, on the demonstration's book. */
const folder = mkdtempSync(join(tmpdir(), "sparesheet-readme-"));
const README = readFileSync("README.md", "utf8");
const MAIN = resolve("build", "src", "cli", "main.js");

beforeAll(async () => {
  await sparesheet("demo", folder);
  copyFileSync(join(folder, "velloran-20260706-clean.xlsx"), join(folder, "equipment.xlsx"));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Commands in code blocks and in lines of text, comments taken off. */
const commands = [...README.matchAll(/npx (sparesheet [^`\n]*)/g)]
  .map((match) => (match[1] ?? "").replace(/\s+#.*$/, "").trim())
  .filter((command) => !command.includes("COMMAND") && !command.includes("NAME …"));

describe("README's commands", () => {
  it("are many", () => {
    expect(commands.length).toBeGreaterThan(14);
  });
  it.each([...new Set(commands)])("%s", (command) => {
    const shell = command.replace(/^sparesheet/, `"${process.execPath}" "${MAIN}"`);
    const input = /echo '([^']*)'.*calc -/.exec(README)?.[1] ?? "";
    const done = spawnSync("bash", ["-c", shell], {
      cwd: folder,
      encoding: "utf8",
      input: `${input}\n`,
    });
    expect({ status: done.status, err: done.status === 2 ? done.stderr : "" }).toEqual({
      status: expect.toSatisfy((status: number) => status === 0 || status === 1) as number,
      err: "",
    });
    const out = / -o (\S+)/.exec(command)?.[1];
    if (out !== undefined) expect(existsSync(join(folder, out))).toBe(true);
  });
  it("print what README says they print", () => {
    for (const [, command = "", printed = ""] of README.matchAll(
      /`npx (sparesheet calc [^`]*)` \(prints ([^)]*)\)/g,
    )) {
      const shell = command.replace(/^sparesheet/, `"${process.execPath}" "${MAIN}"`);
      expect(spawnSync("bash", ["-c", shell], { encoding: "utf8" }).stdout.trim()).toBe(printed);
    }
  });
});
