import process from "node:process";

const ALL = process.env["CASES"] === "all";

/** How many cases a long suite runs: a part of them, which it says, or all of them with CASES=all. */
export function cases(suite: string, all: number, part: number): number {
  if (ALL) return all;
  const [some, every] = [part, all].map((count) => count.toLocaleString("en"));
  process.stdout.write(`${suite}: ${some} of ${every} cases; CASES=all runs them all\n`);
  return part;
}
