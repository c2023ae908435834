// Makes the disk of a process slow, at random: loaded before the program by --import. A writer is held
// for a while before each of its steps, so that another comes in between wherever it could.
import fs from "node:fs";
import { syncBuiltinESMExports } from "node:module";

const MOST_MILLISECONDS = 60;

/** Only files beside a book in a folder of the test are slow, not the program's own. */
const isSlow = (path) => typeof path !== "string" || /slow-disk-book/.test(path);

for (const name of [
  "openSync",
  "renameSync",
  "copyFileSync",
  "fsyncSync",
  "readFileSync",
  "rmSync",
]) {
  const quick = fs[name];
  fs[name] = (...args) => {
    if (isSlow(args[0])) {
      const wait = new Int32Array(new SharedArrayBuffer(4));
      Atomics.wait(wait, 0, 0, Math.random() * MOST_MILLISECONDS);
    }
    return quick(...args);
  };
}
syncBuiltinESMExports();
