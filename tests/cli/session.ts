import { readFileSync } from "node:fs";
import { strFromU8, unzipSync } from "fflate";
import { type Sheet, sheetNamed } from "../../src/book/workbook/snapshot.ts";
import { run } from "../../src/cli/run.ts";
import { day } from "../../src/core/day.ts";
import { openWorkbook } from "../../src/xlsx/index.ts";

/** What a command said. */
export interface Said {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** The command line in this process on 6 July 2026, with a calendar and a clock of its own. */
export async function sparespan(...args: readonly string[]): Promise<Said> {
  let [out, err] = ["", ""];
  const code = await run(args, {
    out: (text) => (out += text),
    err: (text) => (err += text),
    lines: async function* () {
      // Nothing is typed here.
    },
    today: () => day("2026-07-06"),
    clock: () => 0,
  });
  return { code, out, err };
}

/** The text of every part of a package, by name. */
export function partsOf(path: string): Map<string, string> {
  return new Map(
    Object.entries(unzipSync(readFileSync(path))).map(([name, bytes]) => [name, strFromU8(bytes)]),
  );
}

/** A sheet of a workbook file. */
export function sheetAt(path: string, name: string): Sheet {
  const sheet = sheetNamed(openWorkbook(readFileSync(path)).snapshot, name);
  if (sheet === null) throw new Error(`no sheet ${name} in ${path}`);
  return sheet;
}
