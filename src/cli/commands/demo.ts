import { z } from "zod";
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { demoBook, DEMO_SEED } from "../../book/demo/workbook.ts";
import type { Request } from "../arguments.ts";
import { command, oneWord } from "../command.ts";
import { writeFile } from "../files.ts";
import { firstRunSheet } from "../first-run.ts";
import { writeNew } from "../job.ts";
import { list } from "../result.ts";

/** Writes the demonstration programme: a clean book, an untidy one and what is wrong in it. */
export const demo = command({
  name: "demo",
  moment: "The book",
  brief: "the invented demonstration programme",
  about: `Writes the demonstration programme: a clean workbook, an untidy one, what is wrong in it, and the clean one
with a sheet that tries every worksheet function in a real Excel (docs/first-run.md).`,
  words: oneWord("DIR", "folder"),
  writes: "",
  common: [],
  examples: ["demo velloran"],
  options: {},
  result: z.strictObject({ written: list(z.string()) }),
  run({ words: folder, request, say }) {
    const written = writeDemo(folder, request);
    say(
      () => written,
      () => ({ written }),
    );
    return 0;
  },
});

/** The demonstration's files; gives their paths, the clean book first. */
export function writeDemo(folder: string, request: Request): string[] {
  mkdirSync(folder, { recursive: true });
  const name = (words: string): string => join(folder, `velloran-${DEMO_SEED}-${words}`);
  const untidy = demoBook(DEMO_SEED, true);
  const { plan } = demoBook(DEMO_SEED, false);
  const paths = [
    name("clean.xlsx"),
    name("untidy.xlsx"),
    name("untidy-answers.json"),
    name("first-run.xlsx"),
  ] as const;
  writeNew(paths[0], plan, request);
  writeNew(paths[3], { ...plan, edits: [...plan.edits, firstRunSheet()] }, request);
  writeNew(paths[1], untidy.plan, request);
  writeFile(Buffer.from(`${JSON.stringify(untidy.answers, null, 2)}\n`), {
    path: paths[2],
    ending: ".json",
    force: request.force,
    inPlace: null,
  });
  return [...paths];
}
