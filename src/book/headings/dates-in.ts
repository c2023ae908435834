import type { Day } from "../../core/day.ts";
import { isYearless, readDateText } from "./dates.ts";

/** Words of the longest date. */
const LONGEST_DATE = 5;

/** The dates a text names, each with the days it may be; none of them where it has no year. */
export function datesIn(text: string): (readonly Day[])[] {
  const words = text.split(/[\s,;!()]+/u).filter((word) => word !== "");
  const found: (readonly Day[])[] = [];
  for (let at = 0; at < words.length; at += 1) {
    for (let length = Math.min(LONGEST_DATE, words.length - at); length > 0; length -= 1) {
      const written = words
        .slice(at, at + length)
        .join(" ")
        .replace(/[.:]+$/u, "");
      const days = daysOf(written);
      if (days === null) continue;
      found.push(days);
      at += length - 1;
      break;
    }
  }
  return found;
}

function daysOf(written: string): readonly Day[] | null {
  const said = readDateText(written);
  if (said === null) return isYearless(written) ? [] : null;
  if (said.kind === "day") return [said.date];
  if (said.kind === "month") return [];
  return [said.dmy, said.mdy, said.ymd].filter((day) => day !== null);
}
