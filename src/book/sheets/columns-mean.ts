/**
 * What goes into the columns of our sheets, a sentence each, by sheet and heading: shown where an entry is refused. They
 * stand apart from the columns, for only writing a sheet needs them: the pane begins without.
 */
const MEANINGS: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  Setup: {
    Setting: "What is set; do not rename.",
    Value: "The programme's choice.",
    "What it means": "What the setting does.",
  },
  Parts: {
    Code: "Capital letters only; do not change once used.",
    Name: "The name in headings and lists.",
    "Shortest (months)": "Whole months at heavy use, and whenever usage is in doubt.",
    "Longest (months)": "Whole months at light use; never longer than the maker allows.",
    "Use budget (uses)":
      "How many uses one part lasts; blank if light and heavy use are given instead.",
    "Light use (a month)": "Up to this many uses a month, the longest interval applies.",
    "Heavy use (a month)": "From this many uses a month, the shortest interval applies.",
    "Inspections a week": "Distinct days per ISO week on which it must be inspected; 0 for none.",
    Vinyl: "yes: the shortest interval applies at sites not known to use alcohol-free wipes.",
    "Dated task": "yes: a task such as a calibration, due by date alone.",
    Unit: "Unit code from UN/ECE Recommendation 20: SET for a complete set, EA for one piece.",
    "Units a replacement": "Units needed for one replacement; blank means 1.",
    "Pack size": "Units in a pack; blank means 1.",
    "Pack price": "Price of a pack.",
    "Early replacement cost":
      "Total cost of a replacement before its due date, including the part; for advice only.",
    "Lead time (days)": "Days from order to delivery, on average; blank means 30.",
    "Lead time spread (days)": "Standard deviation of the lead time; blank means 0.",
    "Shelf life (months)": "Months a spare may be kept on the shelf; blank for no limit.",
    "Our item number": "Number in our own catalogue.",
    "Supplier's item number": "Number in the supplier's catalogue.",
    "Maker's item number": "Number given by the maker.",
    GTIN: "Trade item number on the label.",
    "Cost centre": "Who pays, unless Sites says otherwise.",
    Supplier: "Who delivers it.",
    Quote: "Number of the quote that gave the price.",
  },
  Sites: {
    Code: "As written in the register.",
    Name: "Full name, if it is not the code.",
    "Earlier names": "Names it had before, separated by semicolons.",
    Wipes: "alcohol or alcohol-free; blank is taken as alcohol, to be on the safe side.",
    "Ship to": "Where its parts are delivered.",
    "Cost centre": "Who pays for its parts.",
    "Births a year": "For a budget calculated from births.",
    "Expected uses (a device a month)":
      "Your estimate for a site too new to have three months of counts; counts above it are mixed in from the first.",
  },
  Holidays: {
    Date: "A date from 2000 to 2099.",
    Name: "Name of the holiday.",
  },
  "Job log": {
    Date: "The day it was done; not in the future.",
    Device: "As written in the register.",
    Part: "Code or name from Parts.",
    Job: "One of the listed jobs.",
    Finding: "One of the listed findings; any other word counts as damage.",
    "Complete set":
      "yes only when every piece of the set was replaced; replacing only part of a set does not count.",
    Lot: "Lot of the new part.",
    By: "Role or initials; no patient data.",
    Note: "Anything worth keeping; no patient data.",
  },
  Shelf: {
    Part: "Code or name from Parts.",
    Site: "Code from Sites; blank for the programme's own store.",
    "On hand": "Units counted; a set counts as one, and only when complete.",
    "Counted on": "The day of the count.",
    "On order": "Units ordered but not yet received.",
    "Expected on": "The day they are expected.",
    Lot: "Lot on the label; one row for each lot.",
    Expiry: "Expiry date on the label.",
  },
};

/** What goes into a column of a sheet of ours; "" where nothing is said of it. */
export function columnMeaning(sheet: string, heading: string): string {
  return MEANINGS[sheet]?.[heading] ?? "";
}

/** What our sheets hold, for Read me. */
const HOLD: Readonly<Record<string, string>> = {
  Setup: "the programme's choices; every computed column reads them from here",
  Parts:
    "what is replaced or done, how often, and how it is bought; the months and the usage curve are your own settings",
  Sites: "the sites, the names they had before and the wipes they use",
  Holidays: "holidays; a due date that falls on one moves to the working day before",
  "Job log": "one row for each job done: inspections, replacements, calibrations",
  Shelf: "spares counted at each site, and what is on order",
};

/** What a sheet of ours holds; "" where nothing is said of it. */
export function sheetHolds(sheet: string): string {
  return HOLD[sheet] ?? "";
}
