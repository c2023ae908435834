import {
  constants,
  copyFileSync,
  existsSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
} from "node:fs";
import { basename, dirname, extname, join } from "node:path";
import { crc32 } from "node:zlib";
import { type Day, isoText } from "../core/day.ts";
import { isSystemError } from "./file-errors.ts";
import { UsageError } from "./io.ts";
import { protectLike } from "./place.ts";

/** How many dated copies of a book are kept beside it. */
export const MOST_COPIES = 30;

/** What a copy is kept for. */
export interface Occasion {
  readonly command: string;
  readonly today: Day;
}

/** A dated copy, and whether it was made now or is the one of the day. */
export interface Kept {
  readonly path: string;
  readonly isNew: boolean;
}

/**
 * Keeps a book as it is before a command changes it for the first time in a day. The copy's name ends in
 * the checksum of its bytes: one that somebody changed since is no copy of ours any more.
 */
export function keepCopy(
  path: string,
  read: Uint8Array,
  occasion: Occasion,
  temporary: string,
): Kept {
  const { command, today } = occasion;
  const words = `${command.replaceAll(" ", "-")} ${isoText(today)}`;
  const known = copiesOf(path).find((copy) => copy.words === words && isWhole(copy));
  if (known !== undefined) return { path: known.path, isNew: false };
  const copy = copyPath(path, `${words} ${checksum(read)}`);
  if (existsSync(copy)) {
    throw new UsageError(
      `${copy} is in the way of a copy of the book as it is: move it elsewhere; nothing was changed`,
    );
  }
  copyFileSync(path, temporary, constants.COPYFILE_EXCL);
  protectLike(temporary, path);
  renameSync(temporary, copy);
  return { path: copy, isNew: true };
}

/** Removes the oldest copies beyond the number kept; a file that is not surely one of ours stays. */
export function removeOldCopies(path: string): void {
  const byAge = copiesOf(path).sort((one, other) => other.day.localeCompare(one.day, "en"));
  for (const copy of byAge.slice(MOST_COPIES)) {
    try {
      if (isWhole(copy)) rmSync(copy.path, { force: true });
    } catch (error) {
      // The book is saved; one copy too many is no reason to say otherwise.
      if (!isSystemError(error)) throw error;
    }
  }
}

interface Copy {
  readonly path: string;
  /** Command and day. */
  readonly words: string;
  readonly day: string;
  readonly checksum: string;
}

function copyPath(path: string, words: string): string {
  const extension = extname(path);
  return join(dirname(path), `${basename(path, extension)} before ${words}${extension}`);
}

/** The files beside a book that are named as its copies are. */
function copiesOf(path: string): Copy[] {
  const folder = dirname(path);
  return readdirSync(folder).flatMap((name) => {
    const found = / before ([a-z-]+ (\d{4}-\d{2}-\d{2})) ([0-9a-f]{8})\.\w+$/.exec(name);
    const [, words = "", day = "", sum = ""] = found ?? [];
    const copy = join(folder, name);
    return found !== null && copy === copyPath(path, `${words} ${sum}`)
      ? [{ path: copy, words, day, checksum: sum }]
      : [];
  });
}

function isWhole({ path, checksum: sum }: Copy): boolean {
  return checksum(readFileSync(path)) === sum;
}

function checksum(bytes: Uint8Array): string {
  return crc32(bytes).toString(16).padStart(8, "0");
}
