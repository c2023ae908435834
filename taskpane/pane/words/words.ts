import { registerNames } from "../../../src/book/records/registers.ts";
import { counted } from "../../../src/book/records/problems.ts";
import type { Reading } from "../../../src/book/records/records.ts";

/** A workbook as it was read; `begun` is null once all is told. */
interface Read {
  readonly reading: Reading;
  readonly begun: object | null;
}

/** What the pane says, but for the sentences of the book itself. */
export const WORDS = {
  name: "Sparespan",
  skip: "Go to the section",
  sections: "Sections",
  starting: "Waiting for Excel…",
  reading: "Reading the workbook…",
  planning: "Working out what would change…",
  applying: "Changing the workbook…",
  takingBack: "Undoing the change…",
  working: "Calculating…",
  alone: {
    "a page outside Excel": "This page is open outside Excel: it shows the help, but no workbook.",
    "a page without Office":
      "Excel's own script did not load, so the functions cannot run. Check the connection, then open the pane again.",
  },
  offline: "This section could not be loaded. Check the connection, then try again.",
  again: "Try again",
  noWorkbook: "This page has no workbook; only Functions can be used.",
  stopped: "Stopped; nothing was changed.",
  stop: "Stop",
  read: ({ reading, begun }: Read): string => {
    const faults = reading.problems.filter(({ severity }) => severity === "fault").length;
    const told = begun === null ? `, ${counted(faults, "fault")}` : "";
    return `Read: ${counted(reading.devices.length, "device")} on ${registerNames(reading)}${told}.`;
  },
  readAgain: "Read the workbook again",
  stale: "Cells have changed since the workbook was read.",
  nothing: "Nothing needs to be changed.",
  proposed: (lines: number): string => `${counted(lines, "line")} of proposed changes, below.`,
  dropped: "Nothing was changed.",
  applied: (summary: string): string => `Done: ${summary}.`,
  takenBack: (summary: string, left: readonly string[]): string =>
    left.length === 0
      ? `Undone: ${summary}.`
      : `Undone: ${summary}. Somebody else changed ${left.join(", ")} at the same moment, so that stays.`,
  takeBack: "Undo this change",
  meanwhile:
    "The workbook has changed in the meantime. Look at what would change now, then press again.",
  fault: (text: string): string => `This is a fault in the add-in. Please report it: ${text}`,
  noBook: {
    host: "The workbook could not be read",
    register: "No register to work on",
    patients: "Stopped: this looks like patient data",
    fault: "Something went wrong",
  },
  patients: "Nothing was stored or changed. Remove the column, then read the workbook again.",
  startup: "Start with this workbook",
  copy: {
    press: "Copy",
    done: "Copied.",
    byHand: "Selected: copy it with Ctrl+C or ⌘C.",
  },
  more: (left: number): string => `Show more (${left} left)`,
  today: {
    lead: (devices: number, sheet: string): string => `${counted(devices, "device")} on ${sheet}.`,
    tiles: "What there is to decide",
    overdue: (parts: number): string => `${parts === 1 ? "part" : "parts"} overdue`,
    toCheck: (parts: number): string => `${parts === 1 ? "part" : "parts"} to check`,
    dueSoon: (parts: number): string => `${parts === 1 ? "part" : "parts"} due soon`,
    inspect: (devices: number): string =>
      `${devices === 1 ? "device" : "devices"} to inspect this week`,
    spares: (places: number): string => `${places === 1 ? "place" : "places"} short of spares`,
    asOf: (date: string): string => `As of ${date}`,
    date: "Report date",
    useToday: "Use today",
    setup: (date: string): string => `Setup still says ${date}; the columns use that date.`,
    list: "What needs a decision, worst first",
    empty: (parts: number): string => `Nothing is due: ${counted(parts, "part")} judged.`,
    noDevices: (sheet: string): string =>
      `No device can be judged yet: fill in the rows of ${sheet}, a device a row.`,
    toSheet: "Go to the first row",
    noDates:
      "No date can be judged: the register has no column of last replacements that is known.",
    toColumns: "Choose the columns",
    site: "Site",
    allSites: "all sites",
    tickAll: (lines: number): string => (lines === 1 ? "Tick it" : `Tick all ${lines}`),
    tick: (device: string, part: string): string => `${device}, ${part}`,
    replaced: "Replaced",
    inspected: "Inspected",
    calibrated: "Calibrated",
    several: {
      replaced: (lines: number): string => `Replaced: ${lines}`,
      inspected: (lines: number): string => `Inspected: ${lines}`,
    },
    late: (days: number): string => `${counted(days, "day")} late`,
    ahead: (days: number): string => (days === 0 ? "today" : `in ${counted(days, "day")}`),
    noDate: "no date",
    refresh: "Update the columns",
    add: "Go to the columns",
  },
  chooseThere: "choose it under Columns",
} as const;
