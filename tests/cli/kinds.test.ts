import { mkdtempSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { bytesOfKind, type KindOfBook, KINDS } from "../scenes/kinds.ts";
import { isLessCalm, type KindTold, LISTED_KINDS, type Outcome } from "../kinds.ts";
import { sparespan } from "./session.ts";

/**
 * Workbooks of people's habits through every job. What comes of each stands in tests/reference/kinds.json, from
 * which docs/workbooks.md is made; a change of it is seen in the review. The states are held against the tidy
 * list of the same true programme: none may be calmer.
 */
const folder = mkdtempSync(join(tmpdir(), "sparespan-kinds-"));
const FOUND = "build/report/kinds.json";
const found: Record<string, KindTold> = {};

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
  mkdirSync("build/report", { recursive: true });
  writeFileSync(FOUND, `${JSON.stringify(found, null, 2)}\n`);
});

/** Each job as it is given for a book; "OUT" is a new file. */
const JOBS: Readonly<Record<string, readonly string[]>> = {
  today: ["today", "BOOK"],
  check: ["check", "BOOK"],
  columns: ["columns", "BOOK", "-o", "OUT"],
  log: [
    ...["log", "BOOK", "--device", "DEVICE", "--part", "SET", "--job", "replaced", "--complete"],
    ...["--by", "ab", "-o", "OUT"],
  ],
  rounds: ["rounds", "BOOK", "-o", "OUT"],
  calendar: ["calendar", "BOOK", "-o", "ICS"],
  ahead: ["ahead", "BOOK", "-o", "OUT"],
  order: ["order", "BOOK", "-o", "OUT"],
  budget: ["budget", "BOOK", "-o", "OUT"],
  evidence: ["evidence", "BOOK", "-o", "OUT"],
  "share copy": ["share", "copy", "BOOK", "-o", "OUT"],
};

interface Listed {
  readonly device: string;
  readonly part: string;
  readonly state: string;
}

interface Printed {
  readonly problems?: readonly { readonly kind: string }[];
  readonly items?: readonly Listed[];
}

/** What a job printed; nothing where it was refused. */
function printed(text: string): Printed {
  return text === "" ? {} : (JSON.parse(text) as Printed);
}

let made = 0;
async function outcomesOf(book: KindOfBook): Promise<{ told: KindTold; items: readonly Listed[] }> {
  const path = join(folder, `book ${(made += 1)}.xlsx`);
  writeFileSync(path, bytesOfKind(book));
  const jobs: Record<string, Outcome> = {};
  let refused = "";
  for (const [job, words] of Object.entries(JOBS)) {
    const out = join(folder, `${made} ${job}`);
    const names: Readonly<Record<string, string>> = {
      BOOK: path,
      OUT: `${out}.xlsx`,
      ICS: `${out}.ics`,
      DEVICE: "VR-101",
    };
    const { code, err } = await sparespan(...words.map((word) => names[word] ?? word));
    jobs[job] = code === 0 ? "ok" : code === 1 ? "told" : "refused";
    if (code === 2 && refused === "") refused = err.replace("sparespan: ", "").trim();
  }
  const check = await sparespan("check", path, "--json");
  const today = await sparespan("today", path, "--json");
  const { problems = [], items = [] } = { ...printed(check.out), ...printed(today.out) };
  const told = [...new Set(problems.map(({ kind }) => kind))].sort();
  return { told: { jobs, told, refused: refused.replaceAll(folder, "…") }, items };
}

describe("workbooks that people keep", () => {
  const listed = JSON.parse(readFileSync(LISTED_KINDS, "utf8")) as Record<string, KindTold>;
  let tidy: readonly Listed[] = [];

  it.each(KINDS.map((book) => [book.kind, book] as const))("%s", async (kind, book) => {
    const { told, items } = await outcomesOf(book);
    found[kind] = told;
    if (book === KINDS[0]) tidy = items;
    expect(tidy.length).toBeGreaterThan(5);
    if (told.jobs["today"] !== "refused") expect(isLessCalm(items, tidy)).toEqual([]);
    expect(told).toEqual(listed[kind]);
  });

  it("are all in the list, and no others", () => {
    expect(Object.keys(listed)).toEqual(KINDS.map(({ kind }) => kind));
    expect(KINDS.length).toBeGreaterThanOrEqual(12);
  });
});
