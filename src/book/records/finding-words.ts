import { endsLife } from "../../core/due.ts";

/** Whether a finding ends the part's life; the column of open findings keeps those only. */
export function isOpenFinding(finding: string): boolean {
  return endsLife(finding);
}

/** Findings that say that a part is good, or nothing about it. */
const HARMLESS: readonly string[] = ["", "clean", "ok", "good", "none", "no finding", "-", "other"];

/** What a finding says of damage; unknown words count as damage until a person has looked. */
export function damageIn(finding: string): string | null {
  if (isOpenFinding(finding)) return finding;
  return isKnownFinding(finding) ? null : `damage? ${finding}`;
}

/** Whether a finding is one of those that are known. */
export function isKnownFinding(finding: string): boolean {
  return isOpenFinding(finding) || HARMLESS.includes(finding.trim().toLowerCase());
}
