import { run } from "../../src/cli/run.ts";
import { nationalDay } from "./national.ts";

/** One job of the year in a process of its own, its result printed for machines and thrown away. */
const [job = "", book = ""] = process.argv.slice(2);
const begun = performance.now();
await run([job, book, "--json"], {
  out: () => undefined,
  err: () => undefined,
  lines: async function* () {
    // Nothing is typed here.
  },
  today: nationalDay,
  clock: () => performance.now(),
});
process.stdout.write(
  JSON.stringify({
    seconds: Math.round(performance.now() - begun) / 1000,
    megabytes: Math.round(process.resourceUsage().maxRSS / 1024),
  }),
);
