// What npm test runs: types, looks, rules, and all tests that need nothing but Node, in one time zone.
import { check, QUICK, runAll, tests } from "./run.mjs";

const lint = [".", "--max-warnings", "0", "--cache", "--cache-location", "build/.eslintcache"];

// Tests and rules take longest and begin at once; the others fill what the cores have left.
await runAll([
  [tests("UTC", "UTC", QUICK)],
  [check("Rules", "eslint", lint)],
  [
    check("Types", "tsc", ["-b"]),
    check("Looks", "prettier", ["--check", ".", "--log-level", "warn"]),
  ],
]);
