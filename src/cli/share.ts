import { extname } from "node:path";
import type { Request } from "./arguments.ts";
import { UsageError } from "./io.ts";
import { isSameFile } from "./place.ts";

/** Identifier of the add-in, as manifest.xml says it; files note it where a pane of it was open. */
export const ADD_IN = "ee229c22-7f3f-4844-8a52-15fb6711eda2";

/** Where what leaves the programme is written; null when nothing is to be. It is never the workbook itself. */
export function shareTarget(
  { output, dryRun, inPlace }: Request,
  path: string,
  { named, taken }: { readonly named: readonly string[]; readonly taken: readonly string[] },
): string | null {
  if (inPlace) throw new UsageError("share never changes the workbook itself; give -o");
  if (output === null && !dryRun) {
    throw new UsageError(`give somewhere to write: -o OUT${named.join(" or -o OUT")}`);
  }
  if (output === null) return null;
  if (isSameFile(output, path)) {
    throw new UsageError("-o names the workbook itself; choose another name");
  }
  if (!taken.includes(endingOf(output))) {
    throw new UsageError(`${output} must end in ${taken.join(", ")}`);
  }
  return output;
}

/** The ending of a file's name. */
export function endingOf(path: string): string {
  return extname(path).toLowerCase();
}
