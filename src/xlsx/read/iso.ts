import { civilDayOrNull, type DateSystem, toSerial } from "../../core/day.ts";

const ISO = /^(?:(\d{4})-(\d{2})-(\d{2}))?T?(?:(\d{2}):(\d{2})(?::(\d{2}(?:\.\d+)?))?)?Z?$/;
const SECONDS_A_DAY = 86_400;

/** The serial number of a date, a time or both as ISO 8601 writes them, or null. */
export function isoSerial(text: string, system: DateSystem): number | null {
  const match = ISO.exec(text.trim());
  if (!match || text.trim() === "") return null;
  const [, year, month, dayOfMonth, hour = "0", minute = "0", second = "0"] = match;
  const time = (Number(hour) * 3600 + Number(minute) * 60 + Number(second)) / SECONDS_A_DAY;
  if (year === undefined) return time;
  const day = civilDayOrNull(Number(year), Number(month), Number(dayOfMonth));
  return day === null ? null : toSerial(day, system) + time;
}
