import { LANGUAGES } from "../languages/index.ts";
import { formsOf, wordsIn } from "../languages/words-of.ts";
import { textOf } from "../workbook/cells.ts";
import type { CellValue } from "../workbook/snapshot.ts";

/** Words that plainly leave a device in the programme, folded: no formula compares them. */
const SERVING_WORDS: ReadonlySet<string> = new Set([
  ...["in service", "in use", "active", "current", "operational", "working", "functional"],
  ...["serviceable", "live", "ok", "okay", "good", "fair", "new", "yes", "y", "true", "1"],
  ...["on loan", "loan", "loaned", "lent", "under repair", "in repair", "at repair", "away"],
  ...["spare", "backup", "back up", "reserve", "standby", "stand by", "storage", "in storage"],
  ...LANGUAGES.flatMap((language) =>
    [...language.serving, ...language.yes].flatMap((word) => formsOf(word, language)),
  ).map((word) => wordsIn(word).join(" ")),
]);

/** Whether a cell plainly says that a device is in the programme. */
export function saysServing(cell: CellValue): boolean {
  return SERVING_WORDS.has(wordsIn(textOf(cell)).join(" "));
}
