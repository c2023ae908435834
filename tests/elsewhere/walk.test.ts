import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";

/** The walk-throughs are walked as they stand there, one command after the other. */
const folder = mkdtempSync(join(tmpdir(), "sparespan-walk-"));
const MAIN = resolve("build", "src", "cli", "main.js");
const TEXT = readFileSync("docs/walk-throughs.md", "utf8");

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** A command and the lines shown of what it prints; "…" stands for lines left out. */
interface Walked {
  readonly command: string;
  readonly shown: readonly string[];
}

const walked = [...TEXT.matchAll(/```console\n([^]*?)```/g)].flatMap(([, block = ""]) =>
  block
    .split(/^\$ /m)
    .slice(1)
    .map((part): Walked => {
      const [command = "", ...shown] = part.trimEnd().split("\n");
      return { command, shown };
    }),
);

/** The shown lines that are not where they should be: in order, without a gap that is not shown. */
function missing(printed: readonly string[], shown: readonly string[]): string[] {
  let at = 0;
  let gap = false;
  return shown.filter((line) => {
    if (line === "…") {
      gap = true;
      return false;
    }
    const found = gap ? printed.indexOf(line, at) : at;
    if (printed[found] !== line) return true;
    at = found + 1;
    gap = false;
    return false;
  });
}

describe("the walk-throughs", () => {
  it("are for five kinds of people", () => {
    expect(TEXT.match(/^## .+$/gm)).toHaveLength(5);
    expect(walked.length).toBeGreaterThan(15);
  });
  it.each(walked)("$command", ({ command, shown }) => {
    const shell = command.replace(/^npx sparespan/, `"${process.execPath}" "${MAIN}"`);
    const done = spawnSync("bash", ["-c", shell], { cwd: folder, encoding: "utf8" });
    expect({ status: done.status, err: done.status === 2 ? done.stderr : "" }).toEqual({
      status: expect.toSatisfy((status: number) => status === 0 || status === 1) as number,
      err: "",
    });
    expect(missing(done.stdout.split("\n"), shown)).toEqual([]);
  });
  it("would not pass with a line that is not printed", () => {
    expect(missing(["a", "b", "c"], ["a", "…", "c"])).toEqual([]);
    expect(missing(["a", "b", "c"], ["a", "c"])).toEqual(["c"]);
    expect(missing(["a", "b", "c"], ["…", "c", "a"])).toEqual(["a"]);
  });
});
