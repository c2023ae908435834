// Runs checks of the project, one after another or side by side, and says how each went.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { rmSync } from "node:fs";
import process from "node:process";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("..", import.meta.url));
const at = (path) => fileURLToPath(new URL(`../node_modules/${path}`, import.meta.url));

const PROGRAMS = {
  eslint: at("eslint/bin/eslint.js"),
  knip: at("knip/bin/knip.js"),
  prettier: at("prettier/bin/prettier.cjs"),
  tsc: at("typescript/bin/tsc"),
  vitest: at("vitest/vitest.mjs"),
  pane: at("../rolldown.pane.js"),
  workbench: at("../rolldown.workbench.js"),
};

/** A check by one of the programs. */
export function check(name, program, args, env = {}) {
  return { name, args: [PROGRAMS[program], ...args], env };
}

/** Tests in a time zone; their report lies in build/report. */
export function tests(name, zone, args, env = {}) {
  const report = `build/report/${name}.json`;
  rmSync(new URL(`../${report}`, import.meta.url), { force: true });
  const all = ["run", "--config", "tests/vitest.config.ts", ...args];
  return check(`Tests, ${name}`, "vitest", all, { ...env, TZ: zone, REPORT: report });
}

/** What vitest leaves out of the tests that need nothing but Node. */
export const QUICK = ["--exclude", "tests/{elsewhere,browser}/**"];

/** Runs one check; what it says is shown when it has ended, so that checks side by side do not mix. */
async function run({ name, args, env }) {
  const began = performance.now();
  const child = spawn(process.execPath, args, {
    cwd: root,
    env: { ...process.env, ...env },
    stdio: ["ignore", "pipe", "pipe"],
  });
  const said = [];
  child.stdout.on("data", (piece) => said.push(piece));
  child.stderr.on("data", (piece) => said.push(piece));
  const [status] = await once(child, "close");
  const seconds = ((performance.now() - began) / 1000).toFixed(0);
  const outcome = status === 0 ? "passed" : "failed";
  process.stdout.write(`\n${name}: ${outcome} after ${seconds} s\n${Buffer.concat(said)}`);
  return { name, passed: status === 0 };
}

/** The rows run side by side, each row in its order; a step of a row is a check or again rows. */
async function sideBySide(rows) {
  const done = await Promise.all(
    rows.map(async (row) => {
      const outcomes = [];
      for (const step of row) {
        outcomes.push(...(Array.isArray(step) ? await sideBySide(step) : [await run(step)]));
      }
      return outcomes;
    }),
  );
  return done.flat();
}

/** Runs rows of checks; ends with 1 where one failed. */
export async function runAll(rows) {
  const failed = (await sideBySide(rows)).filter(({ passed }) => !passed);
  const names = failed.map(({ name }) => name).join("; ");
  process.stdout.write(failed.length === 0 ? "\nAll passed.\n" : `\nFailed: ${names}\n`);
  process.exitCode = failed.length === 0 ? 0 : 1;
}
