import { closeSync, openSync, readFileSync, readlinkSync, rmSync, writeSync } from "node:fs";
import { hostname } from "node:os";
import { basename, dirname, join } from "node:path";
import process from "node:process";
import { isSystemError } from "./file-errors.ts";
import { UsageError } from "./io.ts";

/**
 * Does a piece of work while no other run of ours writes that file: a lock lies beside it meanwhile.
 * One left behind by a run that is dead is cleared away; one of another machine never is, for nobody
 * here knows whether that run lives.
 */
export function locked<T>(path: string, work: () => T): T {
  const lock = join(dirname(path), `.${basename(path)}.sparespan-lock`);
  take(lock, path);
  try {
    return work();
  } finally {
    rmSync(lock, { force: true });
  }
}

function take(lock: string, path: string): void {
  if (create(lock)) return;
  // Of two runs that find the same dead lock only the one that holds this clears it, or it might be new.
  const clearing = `${lock}-clearing`;
  if (isDead(lock) && create(clearing)) {
    try {
      if (isDead(lock)) rmSync(lock, { force: true });
    } finally {
      rmSync(clearing, { force: true });
    }
    if (create(lock)) return;
  }
  throw new UsageError(
    `${path} is being written by another run of sparespan: run the command again; if none is at work, remove ${basename(lock)} beside it first`,
  );
}

/** Makes the file, saying who did; false where it is there. */
function create(path: string): boolean {
  let file: number;
  try {
    file = openSync(path, "wx");
  } catch (error) {
    if (isSystemError(error, "EEXIST")) return false;
    throw error;
  }
  try {
    writeSync(file, [process.pid, birthOf("self"), placeOfRuns()].join("\n"));
  } finally {
    closeSync(file);
  }
  return true;
}

/** Whether the run that made a lock is known to be over. */
function isDead(lock: string): boolean {
  let text: string;
  try {
    text = readFileSync(lock, "utf8");
  } catch (error) {
    if (isSystemError(error, "ENOENT")) return true;
    throw error;
  }
  const [pid = "", birth, place] = text.split("\n");
  if (place !== placeOfRuns() || !/^\d+$/.test(pid)) return false;
  try {
    process.kill(Number(pid), 0);
  } catch (error) {
    if (isSystemError(error, "ESRCH")) return true;
  }
  // Numbers of processes come again: another one was born at another time.
  const now = birthOf(pid);
  return now !== "" && now !== birth;
}

/** Machine, and on it the space in which numbers of processes count: containers have their own. */
function placeOfRuns(): string {
  return `${hostname()} ${told(() => readlinkSync("/proc/self/ns/pid"))}`;
}

/** When a process began, in ticks since the machine did (field 22 of proc(5)); "" where nobody tells. */
function birthOf(pid: string): string {
  const stat = told(() => readFileSync(`/proc/${pid}/stat`, "utf8"));
  // The name in brackets may hold anything; 20 fields on from it.
  return stat.slice(stat.lastIndexOf(")") + 2).split(" ")[19] ?? "";
}

function told(read: () => string): string {
  try {
    return read();
  } catch {
    return "";
  }
}
