import type { Day } from "../../../core/day.ts";
import { damageIn } from "../../records/finding-words.ts";
import type { Wording, Work } from "../../records/own-log.ts";
import type { Job } from "../../records/records.ts";
import type { LogLine } from "./own-log-lines.ts";

interface Meant {
  readonly sheet: string;
  readonly wordings: ReadonlyMap<string, Wording>;
  readonly confirmed: boolean;
}

/** The jobs of a line: all that is certain, and of the rest what ends a part's life. */
export function jobsOf(line: LogLine, { sheet, wordings, confirmed }: Meant): Job[] {
  const wording = wordings.get(line.key);
  if (wording === undefined) return [];
  const sure = confirmed && (wording.says === "said" || wording.says === "clear");
  const found = withFinding(wording, line.finding);
  const counted = found.flatMap((work): Work[] => {
    if (line.mended && work.damaged && work.job !== "replaced") return [];
    if (sure) return [work];
    return work.damaged ? [{ ...work, job: "", complete: null }] : [];
  });
  return counted.map((work) => jobOf(work, line, sheet));
}

/** A finding nobody knows is damage, as everywhere, unless a person has said what the line means. */
function withFinding({ says, work }: Wording, finding: string): readonly Work[] {
  if (says === "said" || damageIn(finding) === null || work.some(({ damaged }) => damaged))
    return work;
  const parts = work.filter(({ part }) => part !== "");
  if (parts.length > 0) return work.map((one) => ({ ...one, damaged: one.part !== "" }));
  return [...work, { part: "", job: "", complete: null, damaged: true }];
}

function jobOf({ part, job, complete, damaged }: Work, line: LogLine, sheet: string): Job {
  const { row, device, days, text, finding, lot, by } = line;
  // Of several days the one that shortens: a renewal began early, what was found is of late.
  const day = damaged && job === "" ? Math.max(...days) : Math.min(...days);
  return {
    sheet,
    row,
    date: days.length === 0 ? null : (day as Day),
    device,
    deviceKey: line.deviceKey,
    part,
    job,
    finding: damaged ? (damageIn(finding) === null ? text : finding) : "",
    complete,
    lot,
    by,
    note: text,
    own: true,
  };
}
