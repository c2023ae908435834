import { readdirSync, readFileSync } from "node:fs";
import { runInNewContext } from "node:vm";
import { describe, expect, it } from "vitest";
import { functions } from "../../functions/index.ts";
import * as core from "../../src/core/index.ts";

interface Shown {
  readonly call: string;
  readonly value: string;
}

/** The lines "call // => value" of a file's comments. */
function examplesOf(text: string): Shown[] {
  return [...text.matchAll(/^ \* (.+) \/\/ => (.+)$/gm)].map((match) => ({
    call: match[1] ?? "",
    value: match[2] ?? "",
  }));
}

const folder = new URL("../../src/core/", import.meta.url);

for (const file of readdirSync(folder).filter((name) => name.endsWith(".ts"))) {
  const text = readFileSync(new URL(file, folder), "utf8");
  const shown = examplesOf(text);
  describe(`examples in src/core/${file}`, () => {
    it("are all read: as many as there are arrows", () => {
      expect(shown.length).toBe(text.split("// =>").length - 1);
    });
    for (const { call, value } of shown) {
      it(`${call} gives ${value}`, () => {
        const scope = { ...core };
        const found: unknown = runInNewContext(`(${call})`, scope);
        expect(found).toEqual(runInNewContext(`(${value})`, scope));
      });
    }
  });
}

for (const { id, examples, args, call } of functions) {
  describe(`examples of ${id}`, () => {
    it("are there, and need no more arguments than there are", () => {
      expect(examples.length).toBeGreaterThan(0);
      for (const { cells } of examples) expect(cells.length).toBeLessThanOrEqual(args.length);
    });
    for (const { cells, gives } of examples) {
      it(`${JSON.stringify(cells)} gives ${JSON.stringify(gives)}`, () => {
        expect(call(cells)).toEqual(gives);
      });
    }
  });
}
