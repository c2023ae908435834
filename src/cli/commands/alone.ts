import type { Command } from "../command.ts";

type Load = () => Promise<Command>;

/** Commands of one word, each with nothing but what it needs: loading all of them takes longer than most jobs. */
const ALONE: ReadonlyMap<string, Load> = new Map<string, Load>([
  ["today", async () => (await import("./today.ts")).today],
  ["check", async () => (await import("./check.ts")).check],
  ["mend", async () => (await import("./mend.ts")).mend],
  ["log", async () => (await import("./log.ts")).log],
  ["rounds", async () => (await import("./rounds.ts")).rounds],
  ["calendar", async () => (await import("./calendar.ts")).calendar],
  ["columns", async () => (await import("./columns.ts")).columns],
  ["ahead", async () => (await import("./ahead.ts")).ahead],
  ["budget", async () => (await import("./budget.ts")).budget],
  ["order", async () => (await import("./order.ts")).order],
  ["evidence", async () => (await import("./evidence.ts")).evidence],
  ["lot", async () => (await import("./lot.ts")).lot],
  ["summary", async () => (await import("./summary.ts")).summary],
]);

/** The command that a word names, loaded alone; null where that takes all of them. */
export async function commandAlone(word: string | undefined): Promise<Command | null> {
  return (await ALONE.get(word ?? "")?.()) ?? null;
}
