import { readFileSync } from "node:fs";
import { basename } from "node:path";
import { bookEnding, openWorkbook } from "../xlsx/index.ts";
import type { Day } from "../core/day.ts";
import { NODE_CODEC, readFile, writeFile } from "./files.ts";
import { barAgainst } from "./place.ts";
import { UsageError } from "./io.ts";

/** The one workbook a server hands out and takes back. */
export interface Shelf {
  readonly read: () => {
    readonly name: string;
    readonly revision: string;
    readonly bytes: Uint8Array;
  };
  /** Saves the workbook and says where; null when it is not the revision that was opened. */
  readonly save: (
    bytes: Uint8Array,
    revision: string,
  ) => { readonly revision: string; readonly sentence: string } | null;
}

/** A workbook file to work on; the first saving of a day keeps a dated copy of the file as it was. */
export function shelfFor(path: string, today: () => Day): Shelf {
  let bytes = readFile(path);
  let count = 1;
  const revision = (): string => String(count);
  return {
    read: () => ({ name: basename(path), revision: revision(), bytes }),
    save(saved, opened) {
      if (opened !== revision()) return null;
      // What arrives must be a workbook; its own check was done where it was made.
      const ending = bookEnding(openWorkbook(saved, { codec: NODE_CODEC }));
      const bar = barAgainst(path);
      if (bar !== null) throw new UsageError(`${bar}; nothing was saved`);
      checkUnchanged(path, bytes);
      const inPlace = { read: bytes, command: "start", today: today() };
      const copy = writeFile(saved, { path, ending, force: false, inPlace });
      bytes = saved;
      count += 1;
      const which = copy?.isNew === true ? "as it was" : "before the day's first saving";
      const kept = copy === null ? "" : ` The file ${which}: ${basename(copy.path)}.`;
      return { revision: revision(), sentence: `Saved in ${path}.${kept}` };
    },
  };
}

function checkUnchanged(path: string, read: Uint8Array): void {
  if (Buffer.compare(readFileSync(path), read) === 0) return;
  throw new UsageError(
    `${path} has been changed by another program in the meantime; nothing was saved: reopen it`,
  );
}
