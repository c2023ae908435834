import { keyOf } from "./cells.ts";
import type { Site } from "./records.ts";

/** The code of the site meant by a code, a name or an earlier name; the text itself where none fits. */
export function siteOf(sites: readonly Site[], text: string): string {
  const key = keyOf(text);
  if (key === "") return "";
  const named =
    sites.find(({ code }) => keyOf(code) === key) ??
    sites.find(({ name }) => keyOf(name) === key) ??
    sites.find(({ earlierNames }) => earlierNames.some((name) => keyOf(name) === key));
  return named === undefined ? text.trim() : named.code.trim();
}
