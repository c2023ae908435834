import { OLDEST } from "../../core/due.ts";
import { NAME } from "../records/names.ts";
import { ONE_REPLACEMENT } from "./counted-from.ts";

/** What the formula gives for a cell that shows an error, or TRUE: a text, which is no date. */
export const NO_DATE = "?";

/** What an interval is counted from (counted-from.ts) as a formula of its row; `cell` and `logged` are references. Programs differ on whether TRUE is a number. */
export function countedFromFormula(cell: string, logged: string): string {
  const later = `IF(ABS(${cell}-${logged})<=${ONE_REPLACEMENT},MIN(${cell},${logged}),MAX(${cell},${logged}))`;
  const inRange = `IF(OR(INT(${cell})>${NAME.reportDate},${cell}<${NAME.reportDate}-${OLDEST}),${cell},${later})`;
  const both = `IF(TRIM(${cell})="",${logged},IF(ISNUMBER(${cell}),${inRange},${cell}))`;
  const sound = `IF(ISNUMBER(${logged}),${both},IF(ISBLANK(${cell}),"",${cell}))`;
  return `IF(ISERROR(${cell}),"${NO_DATE}",IF(ISLOGICAL(${cell}),"${NO_DATE}",${sound}))`;
}
