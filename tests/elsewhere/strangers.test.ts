import { onlyRegister } from "../scenes/scene.ts";
import { deviceKey } from "../../src/book/records/device-key.ts";
import { mayHaveLeft } from "../../src/book/records/retired-words.ts";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { strFromU8, unzipSync } from "fflate";
import { afterAll, describe, expect, it } from "vitest";
import type { Reading } from "../../src/book/records/records.ts";
import { address } from "../../src/book/workbook/snapshot.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { NODE_CODEC } from "../../src/cli/files.ts";
import { openWorkbook } from "../../src/xlsx/index.ts";
import { documentOf } from "../../taskpane/workbench/document.ts";
import { JOBS } from "../taskpane/contract-jobs.ts";
import { changedIn } from "./foreign.ts";
import { type Said, sparespan } from "../cli/session.ts";
import { FOREIGN, TODAY, TRAITS } from "../scenes/stranger-traits.ts";
import { type Stranger, strangerOf } from "../scenes/strangers.ts";

/** Strangers' registers through check, columns, log, order and share, as files. */
const folder = mkdtempSync(join(tmpdir(), "sparespan-strangers-"));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const BOOKS = 1000;
/** One sentence for people: one line, one full stop at most, and that at its end. */
const SENTENCE = /^sparespan: (?:(?!\. )[^\n])+\n$/;

const trodden = new Map<string, number>();
function tread(path: string): void {
  trodden.set(path, (trodden.get(path) ?? 0) + 1);
}

/** A stranger's book as a file in a folder of its own. */
interface Kept extends Stranger {
  readonly path: (name: string) => string;
}

function kept(book: Stranger): Kept {
  const path = (name: string): string => join(folder, name);
  for (const name of readdirSync(folder)) rmSync(path(name));
  writeFileSync(path("book.xlsx"), book.bytes);
  return { ...book, path };
}

function readAgain(bytes: Uint8Array): Reading {
  const { snapshot } = openWorkbook(bytes, { codec: NODE_CODEC });
  return readWorkbook(snapshot, TODAY, { reportDate: TODAY });
}

/** Every row below the headings is a device's or left out; a row without a name is told, and may be kept. */
async function checkRows(book: Kept): Promise<Reading> {
  const reading = readAgain(book.bytes);
  const { problems } = reading;
  const register = onlyRegister(reading);
  const { out } = await sparespan("check", book.path("book.xlsx"));
  const first = book.headerRow + 1;
  const rowsOf = (isDevice: boolean): number[] =>
    book.rows.flatMap((kind, at) => ((kind === "device") === isDevice ? [first + at] : []));
  const kept = register.rows.filter((row) => !rowsOf(true).includes(row));
  expect([register.sheet, register.headerRow]).toEqual([book.sheet, book.headerRow]);
  expect(register.rows.filter((row) => !kept.includes(row))).toEqual(rowsOf(true));
  const left = rowsOf(false).filter((row) => !kept.includes(row));
  expect(register.leftOut.map(({ row }) => row)).toEqual(left);
  expect(reading.devices.map(({ row }) => row)).toEqual(register.rows);
  const nameless = register.leftOut.filter(({ reason }) => reason === "no device id");
  for (const row of [...nameless.map((one) => one.row), ...kept]) {
    expect(problems.filter((one) => one.row === row && one.severity === "fault")).not.toEqual([]);
    const what = kept.includes(row)
      ? `Row ${row + 1} has no device that can be read; it is kept as "row ${row + 1}".`
      : `Row ${row + 1} has entries but no device; it is left out.`;
    expect(out).toContain(what);
    tread("a row without a device");
  }
  expect(out).toMatch(
    new RegExp(`; ${register.rows.length} devices?, ${left.length} rows? left out\\.`),
  );
  return reading;
}

/** A job that is refused says why in one sentence and leaves no file behind it. */
function expectRefused(said: Said, book: Kept, why: RegExp): void {
  expect(said.err).toMatch(why);
  expect(said.err).toMatch(SENTENCE);
  expect([said.code, said.out]).toEqual([2, ""]);
  expect(readdirSync(folder)).toEqual(["book.xlsx"]);
  expect(readFileSync(book.path("book.xlsx")).equals(book.bytes)).toBe(true);
}

function logArguments(device: string): string[] {
  const job = ["--part", "SET", "--job", "replaced", "--complete", "--by", "LS1"];
  return ["--device", device, ...job];
}

/** A device that is not retired: a job on one that is would have to be confirmed. */
/** A device that has surely not left, and whose row nobody has to choose. */
function inService({ known }: Kept, devices: Reading["devices"]): string | undefined {
  const unclear = new Set(
    devices.flatMap((one) =>
      mayHaveLeft(one) || one.doubt === "duplicate device" ? [one.key] : [],
    ),
  );
  return known.find((id) => !unclear.has(deviceKey(id)));
}

async function refused(book: Kept, why: RegExp, reading: Reading): Promise<void> {
  const from = book.path("book.xlsx");
  const register = onlyRegister(reading);
  expectRefused(await sparespan("columns", from, "--in-place"), book, why);
  const device = inService(book, reading.devices);
  if (device === undefined || !register.matches.some(({ field }) => field === "last:SET")) return;
  expectRefused(await sparespan("log", from, ...logArguments(device), "--in-place"), book, why);
  tread("a refused log");
}

/**
 * The book saved in place holds everything of the stranger's, and the copy beside it every byte of what
 * was there before; a second time nothing changes.
 */
async function columnsTwice(book: Kept): Promise<void> {
  const path = book.path("columns.xlsx");
  writeFileSync(path, book.bytes);
  const done = await sparespan("columns", path, "--in-place");
  expect(done.code, done.err).toBeLessThan(2);
  const beside = readdirSync(folder).filter((name) => name.startsWith("columns before "));
  expect(beside.map((name) => readFileSync(book.path(name)).equals(book.bytes))).toEqual([true]);
  const written = readFileSync(path);
  expect(changedIn(book.bytes, written, new Set())).toEqual([]);
  const again = await sparespan("columns", path, "--in-place");
  expect(again.out).toMatch(/: nothing to change\n$/);
  expect(readFileSync(path).equals(written)).toBe(true);
}

/** The job logged once, the second time refused; gives where it may have moved the register's date. */
async function loggedTwice(book: Kept, device: string, reading: Reading): Promise<Set<string>> {
  const register = onlyRegister(reading);
  const [from, to] = [book.path("columns.xlsx"), book.path("logged.xlsx")];
  const done = await sparespan("log", from, ...logArguments(device), "-o", to);
  expect(done.code, done.err).toBeLessThan(2);
  const written = readFileSync(to);
  const column = register.matches.find(({ field }) => field === "last:SET")?.column;
  const row = reading.devices.find(({ id }) => id === device)?.row ?? 0;
  const moved = new Set(column === undefined ? [] : [`${book.sheet}!${address(row, column)}`]);
  expect(changedIn(book.bytes, written, moved)).toEqual([]);
  const again = await sparespan("log", to, ...logArguments(device), "--in-place");
  expect(again.err).toContain("is already in the Job log");
  expect(again.err).toMatch(SENTENCE);
  expect(readFileSync(to).equals(written)).toBe(true);
  tread(column === undefined ? "logged without a column of the part" : "logged");
  return moved;
}

async function orderedTwice(book: Kept, from: string, moved: ReadonlySet<string>): Promise<void> {
  const to = book.path("ordered.xlsx");
  const done = await sparespan("order", from, "-o", to);
  expect(done.code, done.err).toBeLessThan(2);
  const written = readFileSync(to);
  expect(changedIn(book.bytes, written, moved)).toEqual([]);
  const again = await sparespan("order", to, "--in-place");
  expect(again.out).toMatch(/: nothing to change\n$/);
  expect(readFileSync(to).equals(written)).toBe(true);
}

function texts(path: string): string {
  return Object.values(unzipSync(readFileSync(path)))
    .map((bytes) => strFromU8(bytes))
    .join("\n");
}

/** What purchasing gets: no formula, nothing of the stranger's own columns. */
async function sharedOrder(book: Kept, from: string): Promise<void> {
  const asText = book.traits.seed % 8 === 0;
  const order = book.path(asText ? "order.csv" : "order.xlsx");
  const said = await sparespan("share", "order", from, "-o", order);
  expect(said.code, said.err).toBeLessThan(2);
  if (!existsSync(order)) {
    expect(said.out).toMatch(/^Nothing needs to be ordered now; no order was written\.\n/);
    return;
  }
  const text = asText ? readFileSync(order, "utf8") : texts(order);
  expect(text).not.toContain(FOREIGN);
  expect(text).not.toMatch(asText ? /(?:^|,)"?[=+@-]/m : /<f[ >/]/);
  tread(asText ? "an order as CSV" : "an order as workbook");
}

/** The whole book for somebody else: everything of the stranger's, no call of ours, as values no formula of ours. */
async function sharedCopy(book: Kept, from: string, moved: ReadonlySet<string>): Promise<void> {
  const copy = book.path("copy.xlsx");
  const asValues = book.traits.seed % 8 === 2;
  const values = asValues ? ["--values"] : [];
  const said = await sparespan("share", "copy", from, "-o", copy, ...values);
  expect(said.code, said.err).toBeLessThan(2);
  expect(changedIn(book.bytes, readFileSync(copy), moved)).toEqual([]);
  const text = texts(copy);
  expect(text).not.toContain("_xldudf");
  const theirs = texts(book.path("book.xlsx")).match(/<f[ >/]/g) ?? [];
  if (asValues) expect(text.match(/<f[ >/]/g) ?? []).toHaveLength(theirs.length);
  tread(asValues ? "a copy as values" : "a copy with formulas");
}

/** The workbench does three jobs on the file and takes each back: every byte is as it was. */
function takenBack({ bytes }: Stranger): void {
  const truth = documentOf(bytes);
  const steps = ["columns with formulas", "a logged job", "the order list"].map((name) => {
    const before = truth.bytes();
    const plan = JOBS[name]?.(truth.open().snapshot);
    if (plan === undefined) throw new Error(`there is no job ${name}`);
    return { before, receipt: truth.apply(plan) };
  });
  for (const { before, receipt } of steps.reverse()) {
    expect(truth.bytes()).not.toEqual(before);
    truth.takeBack(receipt);
    expect(Buffer.compare(truth.bytes(), before)).toBe(0);
  }
  tread("three jobs taken back");
}

/** From the book with columns on: a job logged where there is a device for it, an order, what is shared. */
async function onwards(book: Kept, reading: Reading): Promise<void> {
  const device = inService(book, reading.devices);
  const moved = device === undefined ? new Set<string>() : await loggedTwice(book, device, reading);
  const from = book.path(device === undefined ? "columns.xlsx" : "logged.xlsx");
  await orderedTwice(book, from, moved);
  if (book.traits.seed % 4 === 0) await sharedOrder(book, book.path("ordered.xlsx"));
  else await sharedCopy(book, book.path("ordered.xlsx"), moved);
  tread("the whole chain");
}

async function through(stranger: Stranger): Promise<void> {
  const { traits } = stranger;
  const book = kept(stranger);
  for (const [name, value] of Object.entries(traits)) {
    if (!["seed", "devices"].includes(name)) tread(`${name}: ${value}`);
  }
  const reading = await checkRows(book);
  const bars = [
    ...(traits.filter === "active" ? ["is filtered[;:] clear the filter first"] : []),
    ...(traits.isProtected ? ["is protected; unprotect it first, or give --force"] : []),
  ];
  if (traits.filter === "active") tread("refused: filtered");
  else if (traits.isProtected) tread("refused: protected");
  if (bars.length > 0) await refused(book, new RegExp(bars.join("|")), reading);
  else {
    await columnsTwice(book);
    if (traits.seed % 2 === 0) await onwards(book, reading);
    else takenBack(book);
  }
}

/** Ways through the jobs that must have been gone; the traits a book may have are listed by themselves. */
const WAYS = [
  "a refused log",
  "a row without a device",
  "a copy as values",
  "a copy with formulas",
  "an order as CSV",
  "an order as workbook",
  "logged",
  "logged without a column of the part",
  "refused: filtered",
  "refused: protected",
  "the whole chain",
  "three jobs taken back",
  ...[
    "system: 1900",
    "system: 1904",
    "styles: true",
    "shared: true",
    "table: true",
    "hidden: true",
  ],
  ...[
    "dates: serial",
    "dates: text",
    "dates: mixed",
    "counts: wide",
    "counts: long",
    "counts: none",
  ],
  ...["filter: idle", "filter: active", "isProtected: true", "formulas: stored", "formulas: bare"],
  ...["named: true", "dressed: true", "between: true", "titles: 3", "extras: 3"],
];

describe("strangers' registers", () => {
  afterAll(() => {
    const told = WAYS.map((way) => `${way} ${trodden.get(way) ?? 0}`).join("; ");
    process.stdout.write(`Strangers' registers by way: ${told}.\n`);
  });

  it(`go through every job, or are refused in a sentence: ${BOOKS} of them`, async () => {
    const property = fc.asyncProperty(TRAITS, async (traits) => {
      await through(strangerOf(traits));
    });
    await fc.assert(property, { numRuns: BOOKS });
  });

  it.each(WAYS)("have trodden the way: %s", (way) => {
    expect(trodden.get(way) ?? 0).toBeGreaterThanOrEqual(3);
  });
});
