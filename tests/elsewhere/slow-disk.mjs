// Makes the disk of a process slow, at random: loaded before the program by --import. It is held for a
// while before each step, so that another comes in between wherever it could. Two that are given a
// folder to meet in go on only when both have read the book.
import fs from "node:fs";
import { syncBuiltinESMExports } from "node:module";
import { join } from "node:path";
import process from "node:process";

const MOST_MILLISECONDS = 200;
const STEPS = ["openSync", "renameSync", "copyFileSync", "fsyncSync", "rmSync"];
const MEET = process.env["SLOW_DISK_MEET"] ?? "";

function sleep(milliseconds) {
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, milliseconds);
}

for (const name of STEPS) {
  const quick = fs[name];
  fs[name] = (...args) => {
    sleep(Math.random() * MOST_MILLISECONDS);
    return quick(...args);
  };
}

const read = fs.readFileSync;
let met = MEET === "";
fs.readFileSync = (path, ...rest) => {
  const content = read(path, ...rest);
  if (!met && String(path).endsWith("book.xlsx")) {
    met = true;
    fs.writeFileSync(join(MEET, String(process.pid)), "");
    // One that fails before it gets here must not keep the other for ever.
    for (let waits = 0; fs.readdirSync(MEET).length < 2 && waits < 3_000; waits += 1) sleep(5);
  }
  return content;
};
syncBuiltinESMExports();
