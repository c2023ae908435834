import { copyFileSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { z } from "zod";
import { COMMANDS } from "../../src/cli/commands/list.ts";
import { newWorkbook } from "../../src/xlsx/index.ts";
import { randomProgramme } from "../scenes/random-programme.ts";
import { sparespan } from "./session.ts";

/** What --json prints against the schema of its command, which names every key there may be. */
const folder = mkdtempSync(join(tmpdir(), "sparespan-results-"));
const at = (...names: string[]): string => join(folder, ...names);
const SEEDS = [3, 14, 15, 92, 65, 35];

beforeAll(async () => {
  await sparespan("demo", at("demo"));
  for (const kind of ["clean", "untidy"]) {
    copyFileSync(at("demo", `velloran-20260706-${kind}.xlsx`), at(`${kind}.xlsx`));
  }
  for (const seed of SEEDS) {
    const { plan, system } = randomProgramme(seed);
    writeFileSync(at(`random ${seed}.xlsx`), newWorkbook(plan, { dateSystem: system }));
  }
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const seen = new Set<string>();

function schemaOf(name: string): z.ZodType {
  const result = COMMANDS.find((one) => one.name === name)?.result ?? null;
  if (result === null) throw new Error(`${name} has no result`);
  return result;
}

/** Runs a command with --json; gives what it printed, null where it refused. */
async function printed(name: string, ...args: readonly string[]): Promise<unknown> {
  const { code, out } = await sparespan(...name.split(" "), ...args, "--json");
  if (code === 2) return null;
  seen.add(name);
  return JSON.parse(out) as unknown;
}

async function fits(name: string, ...args: readonly string[]): Promise<unknown> {
  const json = await printed(name, ...args);
  if (json !== null) expect(schemaOf(name).safeParse(json).error?.issues).toBeUndefined();
  return json;
}

const DEVICE = ["--device", "VR-104", "--part", "SET", "--job", "replaced", "--by", "LS1"];
const jobs: readonly (readonly [name: string, ...more: string[]])[] = [
  ["today"],
  ["check"],
  ["columns", "-n"],
  ["columns", "-o", "columns.xlsx", "--as", "values"],
  ["ahead"],
  ["ahead", "--months", "5", "--volume", "30", "--wear", "none", "-n"],
  ["budget"],
  ["budget", "--level", "0.95", "--pool", "--births", "-o", "budget.xlsx"],
  ["order"],
  ["order", "--pool", "-n"],
  ["share order", "-n"],
  ["share order", "-o", "order.csv"],
  ["share mail"],
  ["summary"],
  ["summary", "-o", "summary.xlsx"],
  ["share copy", "-n"],
  ["share copy", "-o", "copy.xlsx", "--values"],
  ["evidence"],
  ["evidence", "--from", "2026-01-01", "-o", "evidence.xlsx"],
  ["lot", "L2452"],
  ["lot", "--device", "VR-105", "-n"],
  ["rounds"],
  ["rounds", "-o", "rounds.xlsx"],
  ["calendar"],
  ["calendar", "-o", "due.ics"],
  ["mend", "-n"],
  ["mend", "-o", "mended.xlsx"],
  ["log", "-n", ...DEVICE],
  ["log", "-o", "logged.xlsx", "--complete", ...DEVICE],
  ["log", "-n", "--rounds", "rounds.xlsx"],
  ["own-log"],
  ["own-log", "--none", "-n"],
];

/** A job on a book; its output lies in the folder, whatever was there. */
function onBook(book: string, [name, ...more]: (typeof jobs)[number]): Promise<unknown> {
  const placed = more.map((word, place) =>
    ["-o", "--rounds"].includes(more[place - 1] ?? "") ? at(word) : word,
  );
  return fits(name, at(book), ...placed, "--force");
}

describe("what --json prints on the demonstration", () => {
  it.each(["clean.xlsx", "untidy.xlsx"])(
    "is of its schema: %s",
    async (book) => {
      for (const job of jobs) expect([job, await onBook(book, job)]).not.toEqual([job, null]);
    },
    120_000,
  );
  it("is of its schema where no book is read", async () => {
    await fits("new", at("new.xlsx"));
    await fits("new", at("newer.xlsx"), "-n");
    await fits("demo", at("demo"), "--force");
    await fits("schema");
    for (const name of COMMANDS.flatMap((one) => (one.result === null ? [] : [one.name]))) {
      await fits("schema", ...name.split(" "));
    }
    for (const call of ["NEXTDUE 2026-02-17 3", "SPAN -5 3 6", "SPAN [50,120] 3 6 600"]) {
      await fits("calc", ...call.split(" "));
    }
  });
  it("was tried of every command that prints any", () => {
    const named = COMMANDS.flatMap(({ name, result }) => (result === null ? [] : [name]));
    expect([...seen].sort()).toEqual(named.sort());
  });
});

describe("what --json prints on invented programmes", () => {
  it.each(SEEDS)(
    "is of its schema: programme %i",
    async (seed) => {
      const found = [];
      for (const job of jobs) found.push(await onBook(`random ${seed}.xlsx`, job));
      expect(found.filter((json) => json !== null).length).toBeGreaterThan(8);
    },
    120_000,
  );
});

describe("a schema", () => {
  it("refuses a key it does not name, a key left out, and another kind of value", async () => {
    const json = (await printed("ahead", at("clean.xlsx"))) as Record<string, unknown>;
    const result = schemaOf("ahead");
    const { level, ...less } = json;
    expect(result.safeParse(json).success).toBe(true);
    expect(result.safeParse({ ...json, more: 1 }).success).toBe(false);
    expect(result.safeParse(less).success).toBe(false);
    expect(result.safeParse({ ...json, level: String(level) }).success).toBe(false);
    expect(result.safeParse({ ...json, reportDate: "6 July" }).success).toBe(false);
  });
  it("names every key there may be, in all its depth", () => {
    for (const { name, result } of COMMANDS) {
      if (result === null || name === "schema") continue;
      for (const one of objectsIn(z.toJSONSchema(result))) {
        expect([name, one["additionalProperties"]]).toEqual([name, false]);
      }
    }
  });
  it("is printed as JSON Schema, and refused where there is none", async () => {
    const { out } = await sparespan("schema", "share", "order");
    expect(JSON.parse(out)).toMatchObject({
      $schema: "https://json-schema.org/draft/2020-12/schema",
      title: "sparespan share order --json",
      type: "object",
      additionalProperties: false,
    });
    const said = await sparespan("schema", "start");
    expect(said.err).toBe(
      'sparespan: "start" prints no JSON; sparespan schema names the commands that do\n',
    );
  });
});

/** Every schema of an object inside a schema. */
function objectsIn(schema: unknown): Record<string, unknown>[] {
  if (typeof schema !== "object" || schema === null) return [];
  const own = "type" in schema && schema.type === "object" ? [{ ...schema }] : [];
  return [...own, ...Object.values(schema).flatMap(objectsIn)];
}
