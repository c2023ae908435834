import { existsSync } from "node:fs";
import type { Request } from "./arguments.ts";
import { writeFile } from "./files.ts";
import { UsageError } from "./io.ts";

/** A site in a file's name: letters, digits, - and _; what is alike then shares a file. */
export function fileWords(site: string): string {
  return site
    .replaceAll(/[^\p{L}\p{N}_-]+/gu, "_")
    .slice(0, 60)
    .toLowerCase();
}

/** Writes files of one kind, or none where one is there already and --force was not given; gives their paths. */
export function writeEach(
  files: readonly { readonly path: string; readonly text: string }[],
  ending: string,
  request: Request,
): string[] {
  const there = files.find(({ path }) => existsSync(path));
  if (there !== undefined && !request.force) {
    throw new UsageError(`${there.path} already exists; choose another name or give --force`);
  }
  return files.map(({ path, text }) => {
    writeFile(Buffer.from(text), { path, ending, force: request.force, inPlace: null });
    return path;
  });
}
