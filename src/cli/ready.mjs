// Makes a fresh clone usable: installs and builds what is missing, and is quiet when all is there.
// With --packages it installs alone. Plain JavaScript on purpose: it runs before anything is installed.
import { spawnSync } from "node:child_process";
import { chmodSync, existsSync, statSync, utimesSync } from "node:fs";
import { dirname, join } from "node:path";
import process from "node:process";
import { fileURLToPath } from "node:url";

const root = join(dirname(fileURLToPath(import.meta.url)), "..", "..");
const at = (...path) => join(root, ...path);
const say = (text) => process.stderr.write(`${text}\n`);

const [major = 0, minor = 0] = process.versions.node.split(".").map(Number);
if (major < 20 || (major === 20 && minor < 19)) {
  say(`Sparespan needs Node 20.19 or newer, this is ${process.versions.node}.`);
  process.exit(2);
}

/** Runs a command in the project; its output is shown only when it fails. */
function run(what, command, args) {
  const done = spawnSync(command, args, {
    cwd: root,
    encoding: "utf8",
    shell: process.platform === "win32",
  });
  if (done.status === 0) return;
  say(`${what} failed:\n${done.stdout ?? ""}${done.stderr ?? ""}${done.error?.message ?? ""}`);
  process.exit(2);
}

const lock = at("package-lock.json");
const installed = at("node_modules", ".package-lock.json");
const isInstalled = existsSync(installed) && statSync(installed).mtimeMs >= statSync(lock).mtimeMs;
if (!isInstalled) {
  say("Installing the packages Sparespan is built with (once, about a minute) …");
  run("Installing", "npm", ["ci", "--no-audit", "--no-fund"]);
  const now = new Date();
  utimesSync(installed, now, now);
}

if (process.argv.includes("--packages")) process.exit(0);

const command = at("build", "command", "sparespan.js");
if (!existsSync(command)) say("Building Sparespan (once, some seconds) …");
run("Building", process.execPath, [
  at("node_modules", "typescript", "bin", "tsc"),
  "-b",
  "src/cli",
]);
// The compiler writes these whenever it has written anything of a room.
const rooms = ["src/core", "src/book", "src/xlsx", "src/cli", "functions"];
const built = rooms.map((room) => statSync(at("build", room, ".tsbuildinfo")).mtimeMs);
if (!existsSync(command) || statSync(command).mtimeMs < Math.max(...built)) {
  run("Building", process.execPath, [at("rolldown.command.js")]);
}
// npx runs it as a program; it sets this itself only where it has not met the folder before.
chmodSync(command, 0o755);
