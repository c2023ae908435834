// What npm run test:all runs: all that npm test leaves out. The other zones are those where days go
// wrong; what other programs do (LibreOffice, a browser) does not depend on ours and runs once.
import process from "node:process";
import { check, runAll, tests } from "./run.mjs";

// Nothing in src/book can see a zone: the rules refuse clocks and Date there, and its tests run longest.
const zoned = ["--exclude", "tests/{elsewhere,browser,book}/**"];
const some = { CASES: "" };
const zones = ["Europe/Berlin", "America/Los_Angeles", "Pacific/Apia"].map((zone) =>
  tests(zone.replace("/", "-"), zone, zoned, some),
);
// Other programs share what they keep: one file after another, each from the beginning.
const alone = ["--isolate", "--maxWorkers=1"];
// Of those that need no program with a memory of its own the longest run beside the others.
const long = ["extremes", "file-judge", "hostile", "mutations", "strangers", "writers"];
const files = long.map((word) => `tests/elsewhere/${word}.test.ts`);
const others = files.flatMap((file) => ["--exclude", file]);

process.stdout.write(
  "Tests in three more time zones, builds, and what other programs make of it …\n",
);
await runAll([
  [
    check("Types", "tsc", ["-b"]),
    // Before the tests that serve it.
    check("The add-in", "pane", []),
    check("The workbench", "workbench", []),
    [
      [tests("elsewhere", "UTC", ["tests/elsewhere", ...others, ...alone])],
      [
        tests("browser", "UTC", ["tests/browser", ...alone]),
        ...zones,
        tests("files", "UTC", [...files, ...alone]),
        check("Dead code", "knip", []),
        check("Cycles of imports", "knip", ["--cycles"]),
      ],
    ],
  ],
]);
