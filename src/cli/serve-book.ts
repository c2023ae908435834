import { readFileSync } from "node:fs";
import { basename } from "node:path";
import { openWorkbook } from "../xlsx/index.ts";
import { NODE_CODEC, openElsewhere, readFile, writeFile } from "./files.ts";
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

/** A workbook file to work on; the first saving keeps a dated copy of the file as it was. */
export function shelfFor(path: string, stamp: () => string): Shelf {
  let bytes = readFile(path);
  let count = 1;
  let copy: string | null = null;
  const revision = (): string => String(count);
  return {
    read: () => ({ name: basename(path), revision: revision(), bytes }),
    save(saved, opened) {
      if (opened !== revision()) return null;
      // What arrives must be a workbook; its own check was done where it was made.
      openWorkbook(saved, { codec: NODE_CODEC });
      const elsewhere = openElsewhere(path);
      if (elsewhere !== null) throw new UsageError(`${elsewhere}; nothing was saved`);
      if (copy === null) {
        copy = writeFile(saved, { path, force: true, inPlace: bytes, stamp: stamp() });
      } else {
        checkUnchanged(path, bytes);
        writeFile(saved, { path, force: true, inPlace: null, stamp: stamp() });
      }
      bytes = saved;
      count += 1;
      const kept = copy === null ? "" : ` The file as it was: ${basename(copy)}.`;
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
