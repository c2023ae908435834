import { civilDayOrNull, type Day, isoText } from "../../../core/day.ts";

const IN_NOTE = "done before on";

/** A note that keeps the date which the register no longer shows. */
export function noteBefore(note: string, date: Day): string {
  return [note, `${IN_NOTE} ${isoText(date)}`].filter((text) => text !== "").join("; ");
}

/** The date a note keeps; null where there is none, or not one before the job. */
export function notedBefore({
  note,
  date,
}: {
  readonly note: string;
  readonly date: Day;
}): Day | null {
  const found = new RegExp(`${IN_NOTE} (\\d{4})-(\\d{2})-(\\d{2})`).exec(note);
  if (found === null) return null;
  const [, year, month, dayOfMonth] = found.map(Number);
  const day = civilDayOrNull(year ?? 0, month ?? 0, dayOfMonth ?? 0);
  return day !== null && day < date ? day : null;
}
