import { READ_ME } from "./our-sheets.ts";
import type { Day } from "../../core/day.ts";
import { isoText } from "../../core/day.ts";
import type { Part } from "../records/records.ts";
import { DEFAULT_PARTS } from "../records/parts.ts";
import type { Choices, Edit, Plan } from "../workbook/plan.ts";
import { HOLIDAYS } from "./holidays.ts";
import { type Layout } from "./layout.ts";
import { makeSheet } from "./make-sheet.ts";
import { partRows, PARTS } from "./parts.ts";
import { makeReadMe, PURPOSES } from "./read-me.ts";
import { SETUP } from "./setup.ts";
import { setupRows } from "./setup-rows.ts";
import { SHELF } from "./shelf.ts";
import { SITES } from "./sites.ts";
import { JOB_LOG } from "./job-log.ts";
import { lastDoneTitle } from "../answers/titles.ts";
import { defaultSettings } from "../records/settings.ts";

const DATE_FORMAT = "yyyy-mm-dd";
const UNTIL_TODAY: Choices = { kind: "date", from: "DATE(2000,1,1)", to: "TODAY()" };

const dateColumn = (heading: string, about: string) => ({
  heading,
  width: 16,
  format: DATE_FORMAT,
  choices: UNTIL_TODAY,
  about,
});

/** What heads each field of a register of ours. */
export const REGISTER_HEADINGS = {
  device: "Device",
  site: "Site",
  model: "Model",
  serial: "Serial number",
  commissioned: "In service since",
  status: "Status",
  retiredOn: "Retired on",
  note: "Note",
} as const;

/** A register of ours: a row for each device, a column of dates for each part. */
export const registerLayout = (parts: readonly Part[]): Layout => ({
  name: "Equipment",
  title: "Equipment register",
  table: "SpareEquipment",
  about: "one row for each screening device",
  room: 2000,
  columns: [
    {
      heading: REGISTER_HEADINGS.device,
      width: 16,
      about: "The device's own number; one row per device.",
    },
    { heading: REGISTER_HEADINGS.site, width: 12, about: "Site code as on the Sites sheet." },
    { heading: REGISTER_HEADINGS.model, width: 16, about: "Model as on the label." },
    {
      heading: REGISTER_HEADINGS.serial,
      width: 18,
      format: "@",
      about: "Serial number as on the label.",
    },
    dateColumn(REGISTER_HEADINGS.commissioned, "A date, not in the future."),
    {
      heading: REGISTER_HEADINGS.status,
      width: 14,
      choices: { kind: "list", values: ["In service", "On loan", "Under repair", "Retired"] },
      about: "One of the listed words; Retired takes the device out of service.",
    },
    dateColumn(REGISTER_HEADINGS.retiredOn, "A date, not in the future."),
    ...parts.map((part) =>
      dateColumn(
        lastDoneTitle(part),
        part.task ? "The day it was done." : "The day the complete part was replaced.",
      ),
    ),
    {
      heading: REGISTER_HEADINGS.note,
      width: 30,
      about: "Anything worth keeping; no patient data.",
    },
  ],
});

/** The register of a programme that has no sheet yet. */
const REGISTER = registerLayout(DEFAULT_PARTS);

/** The plan of a new, empty book: the register and our sheets. */
export function newRegisterPlan(reportDate: Day, today: Day): Plan {
  const settings = {
    ...defaultSettings(reportDate),
    matches: new Map([["register", REGISTER.name]]),
  };
  const made = (layout: Layout, rows: Parameters<typeof makeSheet>[2]): Edit[] =>
    makeSheet(layout, layout.name, rows);
  const summary = `an empty register ${REGISTER.name}, with Setup, Parts, Sites, Holidays, Job log, Shelf and Read me`;
  return {
    summary,
    edits: [
      ...made(REGISTER, []),
      ...made(SETUP, setupRows(settings, { dateSystem: 1900 })),
      ...made(PARTS, partRows(DEFAULT_PARTS)),
      ...made(SITES, []),
      ...made(HOLIDAYS, []),
      ...made(JOB_LOG, []),
      ...made(SHELF, []),
      ...makeReadMe(READ_ME.name, PURPOSES.new, `${isoText(today)}: ${summary}`),
    ],
  };
}
