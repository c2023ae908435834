// What npm run test:all runs: all that npm test leaves out. The other zones are those where days go
// wrong; what other programs do (LibreOffice, a browser) does not depend on ours and runs once.
import process from "node:process";
import { check, QUICK, runAll, tests } from "./run.mjs";

const some = { CASES: "" };
const zones = [
  // All cases of the long random suites in one zone are enough: CASES=all counts here.
  tests("Europe-Berlin", "Europe/Berlin", QUICK),
  tests("America-Los_Angeles", "America/Los_Angeles", QUICK, some),
  tests("Pacific-Apia", "Pacific/Apia", QUICK, some),
];
// Other programs share what they keep: one file after another, each from the beginning.
const alone = ["--isolate", "--maxWorkers=1"];

process.stdout.write(
  "Tests in three more time zones, builds, and what other programs make of it …\n",
);
await runAll([
  [
    check("Types", "tsc", ["-b"]),
    ...zones,
    check("Dead code", "knip", []),
    check("Cycles of imports", "knip", ["--cycles"]),
    // Before the tests that serve it.
    check("The add-in", "webpack", ["--mode", "production"]),
    check("The workbench", "webpack", ["--config", "webpack.workbench.js"]),
    [
      [tests("elsewhere", "UTC", ["tests/elsewhere", ...alone])],
      [tests("browser", "UTC", ["tests/browser", ...alone])],
    ],
  ],
]);
