import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import process from "node:process";
import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { NODE_CODEC } from "../../src/cli/files.ts";
import { isoText } from "../../src/core/day.ts";
import { applyPlan, openWorkbook } from "../../src/xlsx/index.ts";
import { cases } from "../cases.ts";
import { sparespan } from "../cli/session.ts";
import { fullPlan, workbook, WORKBOOKS } from "../reference/workbooks/full-plan.ts";
import { randomProgramme } from "../scenes/random-programme.ts";
import { TRAITS } from "../scenes/stranger-traits.ts";
import { strangerOf } from "../scenes/strangers.ts";
import { STRANGE } from "../xlsx/strange.ts";
import { cannotOpen, errorsOf, judgeMissing, newErrors } from "./file-judge.ts";
import { bytesOf } from "./roads.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-file-judge-"));
const at = (name: string): string => join(folder, name);

beforeAll(async () => {
  await sparespan("demo", folder);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Fixtures that Excel's own toolkit does not open, whatever they hold: it takes names of parts letter by letter. */
const CLOSED = ["backslash.xlsx", "shouting.xlsx"];

const PROGRAMMES = cases("Programmes of 1904 before the validator", 3, 1);
const STRANGERS = cases("Strangers' books before the validator", 60, 10);

const words = (text: string): string[] => text.split(" ");

/** Jobs on any programme's book: what is typed between the command and the output. */
const ANY: readonly (readonly string[])[] = [
  ...[["rounds"], ["order"], ["ahead"], ["budget"], ["mend"]],
  words("share copy"),
  words("share copy --values"),
];

/** And on the demonstration's, whose devices are known. */
const ALL: readonly (readonly string[])[] = [
  ...ANY,
  words("evidence --from 2026-01-01 --to 2026-06-30"),
  words("summary"),
  words("share order --number 26-07 --buyer BUYER"),
  words("log --device VR-104 --part CUSHION --job replaced --by LS1"),
  words("log --device VR-104 --part CUSHION --job inspected --finding crack --by LS1"),
];

/** Runs a job on a book; gives the bytes it wrote. */
async function written(job: readonly string[], book: string, date: string): Promise<Uint8Array> {
  const out = at("written.xlsx");
  rmSync(out, { force: true });
  const words = job[0] === "share" ? 2 : 1;
  const [first, rest] = [job.slice(0, words), job.slice(words)];
  const said = await sparespan(...first, book, ...rest, "-o", out, "--report-date", date);
  expect(said.code, `${job.join(" ")}: ${said.err}`).toBeLessThan(2);
  // Where there is nothing to do nothing is written.
  return readFileSync(existsSync(out) ? out : book);
}

interface Judged {
  readonly name: string;
  readonly date: string;
  readonly forms: readonly ("portable" | "live" | "values")[];
  readonly jobs: readonly (readonly string[])[];
}

/** The new errors of every job, on the book with each form of the columns. */
async function judged({ name, date, forms, jobs }: Judged): Promise<string[]> {
  const before = await errorsOf(readFileSync(at(name)));
  const found: string[] = [];
  const judge = async (what: string, bytes: Uint8Array): Promise<void> => {
    const errors = await newErrors(before, bytes);
    found.push(...errors.map((line) => `${name}, ${what}: ${line}`));
  };
  for (const form of forms) {
    const columns = await written(["columns", "--as", form], at(name), date);
    const book = at(`${form} ${name}`);
    writeFileSync(book, columns);
    await judge(`columns as ${form}`, columns);
    for (const job of jobs) {
      await judge(`${job.join(" ")} on ${form}`, await written(job, book, date));
    }
  }
  return found;
}

const missing = judgeMissing();
if (missing !== null) process.stdout.write(`Skipped: ${missing}\n`);

describe.skipIf(missing !== null)("the Open XML SDK's validator", () => {
  it("would find a part in the wrong order and a style that is not there", async () => {
    const book = workbook("everything.xlsx");
    const parts = unzipSync(book);
    const name = "xl/worksheets/sheet1.xml";
    const text = strFromU8(parts[name] ?? new Uint8Array());
    const moved = text
      .replace(/<sheetData>/, "<hyperlinks/><sheetData>")
      .replace(/<c r="A2"/, '<c s="9999" r="A2"');
    const spoilt = zipSync({ ...parts, [name]: strToU8(moved) });
    expect((await newErrors(await errorsOf(book), spoilt)).length).toBeGreaterThan(0);
  });

  it.each(WORKBOOKS)(
    "finds nothing in %s that was not there before an edit of every kind",
    async (name) => {
      const before = workbook(name);
      const known = await errorsOf(before);
      expect(cannotOpen(known)).toBe(CLOSED.includes(name));
      for (const live of [false, true]) {
        const book = openWorkbook(before, { codec: NODE_CODEC });
        expect(await newErrors(known, applyPlan(book, fullPlan(book.snapshot, live)))).toEqual([]);
      }
    },
    60_000,
  );

  it.each(Object.keys(STRANGE))(
    "finds nothing new in a book with %s",
    async (name) => {
      const before = STRANGE[name] ?? new Uint8Array();
      const book = openWorkbook(before, { codec: NODE_CODEC });
      const after = applyPlan(book, fullPlan(book.snapshot, false));
      expect(await newErrors(await errorsOf(before), after)).toEqual([]);
    },
    60_000,
  );

  it.each(["clean", "untidy"])(
    "finds nothing in what the jobs make of the %s demonstration",
    async (kind) => {
      const name = `velloran-20260706-${kind}.xlsx`;
      expect([...(await errorsOf(readFileSync(at(name))))]).toEqual([]);
      const forms = ["portable", "live", "values"] as const;
      expect(await judged({ name, date: "2026-07-06", forms, jobs: ALL })).toEqual([]);
    },
    300_000,
  );

  it(`finds nothing in what the jobs make of ${PROGRAMMES} programmes that count days from 1904`, async () => {
    let [seed, done] = [0, 0];
    for (; done < PROGRAMMES; seed += 1) {
      const { plan, system, ours } = randomProgramme(seed);
      if (system === 1900) continue;
      const name = `programme ${seed}.xlsx`;
      writeFileSync(at(name), bytesOf(plan, system));
      const date = isoText(ours.settings.reportDate);
      const forms = ["portable", "values"] as const;
      expect(await judged({ name, date, forms, jobs: ANY })).toEqual([]);
      done += 1;
    }
  }, 600_000);

  it(`finds nothing in what is written into ${STRANGERS} strangers' books`, async () => {
    let written = 0;
    for (const traits of fc.sample(TRAITS, { numRuns: STRANGERS, seed: 20260706 })) {
      const before = strangerOf(traits).bytes;
      writeFileSync(at("stranger.xlsx"), before);
      const args = [at("stranger.xlsx"), "-o", at("after.xlsx"), "--report-date", "2026-07-06"];
      rmSync(at("after.xlsx"), { force: true });
      const { code } = await sparespan("columns", ...args);
      if (code === 2) continue;
      written += 1;
      expect(await newErrors(await errorsOf(before), readFileSync(at("after.xlsx")))).toEqual([]);
    }
    expect(written).toBeGreaterThan(STRANGERS / 3);
  }, 600_000);
});
