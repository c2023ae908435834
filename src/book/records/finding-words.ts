import { endsLife } from "../../core/due.ts";
import { type CellValue, isCellError } from "../workbook/snapshot.ts";

/**
 * Words that say that a part is good, or nothing about it; whatever their case. Formulas hold them too.
 * Every other word ends the part's life: what nobody knows is taken for damage until a person has settled it.
 */
export const HARMLESS: readonly string[] = [
  ...["clean", "ok", "okay", "good", "intact", "pass", "passed"],
  ...["none", "no finding", "no findings", "nothing found", "-", "other"],
];

/** A finding as people wrote it, without spaces that TRIM would take away: formulas see it so. */
function wordsOf(finding: string): string {
  return finding.replaceAll(/ +/g, " ").replaceAll(/^ | $/g, "");
}

/** What a finding says of damage, null for none; an unknown word is marked as such. */
export function damageIn(finding: string): string | null {
  if (endsLife(finding)) return finding;
  return isKnownFinding(finding) ? null : `${UNKNOWN} ${wordsOf(finding)}`;
}

/** The same of a cell: what is no text at all counts as an unknown word. */
export function damageInCell(cell: CellValue): string | null {
  return cell === null ? null : damageIn(findingText(cell));
}

/** A finding's cell as text; an error is never nothing. */
export function findingText(cell: CellValue | undefined): string {
  if (cell === undefined || cell === null) return "";
  return isCellError(cell) ? cell.error : String(cell);
}

/** What stands before an unknown word; it holds the stem of damage, which the worksheet function knows. */
export const UNKNOWN = "damage?";

/** Whether a finding is one of those that are known. */
export function isKnownFinding(finding: string): boolean {
  const words = wordsOf(finding).toLowerCase();
  return words === "" || endsLife(finding) || HARMLESS.includes(words);
}
