import type { Work } from "./own-log.ts";
import { NOTHING } from "./work.ts";

/** A meaning in words, as a person may write it: "SET replaced; CUSHION damaged". */
export function workText(work: readonly Work[]): string {
  const texts = work.flatMap(({ part, job, complete, damaged }) => {
    const done = job === "replaced" && complete === false ? "partial" : job;
    return [done, ...(damaged ? ["damaged"] : [])]
      .filter((word) => word !== "")
      .map((word) => `${part} ${word}`.trim());
  });
  return texts.length === 0 ? NOTHING : texts.join("; ");
}
