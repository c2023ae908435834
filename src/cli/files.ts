import {
  closeSync,
  constants,
  copyFileSync,
  existsSync,
  fsyncSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  writeSync,
} from "node:fs";
import { basename, dirname, extname, join, resolve } from "node:path";
import { crc32, deflateRawSync, inflateRawSync } from "node:zlib";
import type { Codec } from "../xlsx/index.ts";
import { UsageError } from "./io.ts";

/** Node's own zlib: several times faster than one in script. */
export const NODE_CODEC: Codec = {
  // One chunk of the right size saves a copy of the whole part.
  inflate: (bytes, size) =>
    inflateRawSync(bytes, { maxOutputLength: Math.max(size, 1), chunkSize: Math.max(size, 64) }),
  // Level 4 packs a tenth less tightly than the usual 6, and a third faster.
  deflate: (bytes) => deflateRawSync(bytes, { level: 4 }),
  crc32: (bytes) => crc32(bytes),
};

const EXPECTED = [".xlsx", ".xlsm"];

/** The bytes of a workbook file. */
export function readFile(path: string): Uint8Array {
  if (!EXPECTED.includes(extname(path).toLowerCase())) {
    throw new UsageError(`${path} must be a .xlsx or .xlsm workbook`);
  }
  try {
    return readFileSync(path);
  } catch (error) {
    throw asUsage(error, path);
  }
}

/** Where and how a result is written. */
export interface Target {
  readonly path: string;
  /** Write over a file that is already there. */
  readonly force: boolean;
  /** The input file itself: its bytes as they were read; a dated copy is kept beside it. */
  readonly inPlace: Uint8Array | null;
  /** Date and time for the copy's name, such as 2026-07-06 101500. */
  readonly stamp: string;
}

/**
 * Writes a file whole or not at all: into a temporary file beside it, flushed, then renamed over.
 * Gives the path of the dated copy when one was made.
 */
export function writeFile(bytes: Uint8Array, target: Target): string | null {
  const { path, force, inPlace, stamp } = target;
  try {
    if (inPlace === null && !force && existsSync(path)) {
      throw new UsageError(`${path} already exists; choose another name or give --force`);
    }
    const elsewhere = inPlace === null || force ? null : openElsewhere(path);
    if (elsewhere !== null) throw new UsageError(`${elsewhere}, or give --force`);
    const copy = inPlace === null ? null : keepCopy(path, inPlace, stamp);
    const temporary = join(dirname(resolve(path)), `.${basename(path)}.${process.pid}.tmp`);
    try {
      writeFlushed(temporary, bytes);
      renameSync(temporary, path);
    } catch (error) {
      rmSync(temporary, { force: true });
      throw error;
    }
    return copy;
  } catch (error) {
    throw asUsage(error, path);
  }
}

/**
 * Why a workbook must not be written over now, null when nothing speaks against it. Spreadsheet programs
 * lay a file beside a book that is open in them: they would write over our changes, or refuse theirs.
 */
export function openElsewhere(path: string): string | null {
  const name = basename(path);
  const mark = [`~$${name}`, `.~lock.${name}#`].find((one) => existsSync(join(dirname(path), one)));
  if (mark === undefined) return null;
  return `${path} seems to be open in another program (${mark} lies beside it): close it there first, or remove that file if no program has the book open`;
}

/** The dated copy of a file that is about to be changed, refused when the file changed since it was read. */
function keepCopy(path: string, read: Uint8Array, stamp: string): string {
  if (Buffer.compare(readFileSync(path), read) !== 0) {
    throw new UsageError(
      `${path} has been changed by another program in the meantime; run the command again`,
    );
  }
  const extension = extname(path);
  const copy = join(dirname(path), `${basename(path, extension)} before ${stamp}${extension}`);
  copyFileSync(path, copy, constants.COPYFILE_EXCL);
  return copy;
}

function writeFlushed(path: string, bytes: Uint8Array): void {
  const file = openSync(path, "wx");
  try {
    let written = 0;
    while (written < bytes.length) written += writeSync(file, bytes, written);
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: "does not exist",
  EISDIR: "is a folder",
  ENOTDIR: "is inside something that is not a folder",
  EACCES: "may not be opened (no permission)",
  EPERM: "may not be opened (no permission)",
  EBUSY: "is open in another program",
  EROFS: "is on a disk that cannot be written to",
  ENOSPC: "does not fit: the disk is full",
  EFBIG: "does not fit: files this large are not allowed there",
  EDQUOT: "does not fit: the space allowed is used up",
  EEXIST: "already exists",
};

function asUsage(error: unknown, path: string): Error {
  if (!(error instanceof Error) || !("code" in error)) {
    return error instanceof Error ? error : new Error(String(error));
  }
  const reason = REASONS[String(error.code)];
  return reason === undefined ? error : new UsageError(`${path} ${reason}`);
}

/** A path with words put before its ending, the first that is free. */
export function freePath(path: string, words: string): string {
  const extension = extname(path);
  const stem = join(dirname(path), `${basename(path, extension)} ${words}`);
  let free = `${stem}${extension}`;
  for (let count = 2; existsSync(free); count += 1) free = `${stem} (${count})${extension}`;
  return free;
}
