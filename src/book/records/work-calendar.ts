import { workCalendar, type WorkCalendar } from "../../core/workday.ts";
import type { Ours } from "./records.ts";

/** The programme's working days; a holiday whose cell cannot be read may be any day. */
export function calendarOf({ settings, holidays, unreadHolidays }: Ours): WorkCalendar {
  return workCalendar(settings.weekend, holidays, unreadHolidays);
}
