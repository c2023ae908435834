import { spawnSync } from "node:child_process";
import {
  accessSync,
  chmodSync,
  chownSync,
  constants,
  existsSync,
  lstatSync,
  realpathSync,
  statSync,
  type Stats,
} from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import process from "node:process";
import { UsageError } from "./io.ts";

/** Where a file really is: a link is followed, so that the file it leads to is the one written. */
export function realPath(path: string): string {
  const found = lstatSync(path, { throwIfNoEntry: false });
  if (found?.isSymbolicLink() !== true) return path;
  if (statSync(path, { throwIfNoEntry: false }) !== undefined) return realpathSync(path);
  throw new UsageError(`${path} is a link to a file that is not there`);
}

/** The ordinary file at a path, null where nothing is; anything else that may be there is refused. */
export function fileAt(path: string): Stats | null {
  const found = statSync(path, { throwIfNoEntry: false });
  if (found === undefined) return null;
  if (found.isFile()) return found;
  const kind = found.isDirectory()
    ? "a folder"
    : found.isFIFO()
      ? "a pipe"
      : found.isSocket()
        ? "a socket"
        : "a device";
  throw new UsageError(`${path} is ${kind}, no ordinary file`);
}

/** Whether two paths lead to the same file, by whatever links. */
export function isSameFile(one: string, other: string): boolean {
  if (resolve(one) === resolve(other)) return true;
  const [first, second] = [one, other].map((path) =>
    statSync(path, { bigint: true, throwIfNoEntry: false }),
  );
  return first !== undefined && first.ino === second?.ino && first.dev === second.dev;
}

/**
 * Why a workbook must not be written over now, null when nothing speaks against it. Spreadsheet programs
 * lay a file beside a book that is open in them: they would write over our changes, or refuse theirs.
 */
export function barAgainst(path: string): string | null {
  const real = realPath(path);
  for (const place of new Set([real, path])) {
    const name = basename(place);
    const mark = [`~$${name}`, `.~lock.${name}#`].find((one) =>
      existsSync(join(dirname(place), one)),
    );
    if (mark === undefined) continue;
    return `${path} seems to be open in another program (${mark} lies beside it): close it there first, or remove that file if no program has the book open`;
  }
  return isWriteProtected(real) ? `${path} is write-protected: make it writable first` : null;
}

const ANYBODY_WRITES = 0o222;

function isWriteProtected(path: string): boolean {
  // The superuser may write all the same: what the file says counts.
  if ((statSync(path).mode & ANYBODY_WRITES) === 0) return true;
  try {
    accessSync(path, constants.W_OK);
    return false;
  } catch {
    return true;
  }
}

/** Gives a file the owner, mode, access list and extended attributes of another, as far as we may. */
export function protectLike(path: string, other: string): void {
  const wanted = statSync(other);
  const keepsGroup = own(path, wanted);
  // A group that cannot be kept leaves its rights to nobody.
  chmodSync(path, wanted.mode & (keepsGroup ? 0o777 : 0o707));
  if (process.platform !== "linux") return;
  // Node knows neither access lists nor attributes. Where this program does not either, there are none to lose.
  const what = keepsGroup ? "mode,xattr" : "xattr";
  spawnSync("cp", ["--attributes-only", `--preserve=${what}`, "--", other, path], {
    stdio: "ignore",
  });
}

/** Gives a file an owner and a group; whether the group is as wanted then. */
function own(path: string, { uid, gid }: Stats): boolean {
  const now = statSync(path);
  if (now.uid === uid && now.gid === gid) return true;
  for (const owner of [uid, now.uid]) {
    try {
      chownSync(path, owner, gid);
      return true;
    } catch {
      // Only the superuser gives files away; a member of the group may still keep the group.
    }
  }
  return false;
}
