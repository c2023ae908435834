import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

// Same input, same answer: the suite runs in a fixed order with a fixed seed (tests/seed.ts).
export default defineConfig({
  root: fileURLToPath(new URL("..", import.meta.url)),
  test: {
    include: ["tests/**/*.test.ts"],
    // Files share what they import, for no test changes it; loading it anew for each took a quarter of the time.
    isolate: false,
    // Vitest would leave one of two cores unused.
    maxWorkers: "100%",
    // Long enough for a machine that does other things besides.
    testTimeout: 1_200_000,
    hookTimeout: 1_200_000,
    setupFiles: ["tests/seed.ts"],
    reporters: [
      "default",
      ["json", { outputFile: process.env["REPORT"] ?? "build/report/tests.json" }],
    ],
  },
});
