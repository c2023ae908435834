import { counted } from "../../src/book/records/problems.ts";

/** A picture in numbers, as it is told to who does not see it. */
export interface Told {
  readonly expected: string;
  readonly low: string;
  readonly high: string;
  readonly most: string;
  readonly month: string;
  readonly past: string | null;
  readonly before: string | null;
}

/** What the sections say that look on and hand out. */
export const YEAR_WORDS = {
  ahead: {
    lead: (level: string): string => `In brackets the limits that hold in ${level} of cases.`,
    whatIf: "What if",
    volume: "Sessions change by (%)",
    shortest: (part: string): string => `${part}: shortest interval (months)`,
    longest: (part: string): string => `${part}: longest interval (months)`,
    now: (months: string): string => `now ${months}`,
    noSite: "none",
    wipes: "Wipes at every site",
    asSites: "as on Sites",
    alcohol: "with alcohol",
    alcoholFree: "alcohol-free",
    site: "New devices at site",
    devices: "How many",
    uses: "Sessions a month each",
    plain: "Nothing is assumed; everything is as the workbook has it.",
    supposed: "Assumed for this forecast only; none of it is in the register.",
    month: "Month",
    total: "Total",
    table: "Replacements in numbers",
    sessions: "Sessions in numbers",
    withLimits: (expected: string, low: string, high: string): string =>
      `${expected} (${low}–${high})`,
    picture: (part: string): string => `${part}, by month`,
    replacements: "replacements",
    tasks: "times done",
    past: "a year before",
    before: "as the workbook has it",
    told: (one: Told): string =>
      `Expected ${one.expected} in all, limits ${one.low} to ${one.high}; most ${one.most} in ${one.month}.` +
      (one.past === null ? "" : ` A year before: ${one.past}.`) +
      (one.before === null ? "" : ` Without what is assumed: ${one.before}.`),
    chart: "Sessions by month",
    unit: "sessions a month",
    noCounts: "Too few counts for a forecast: the shortest intervals apply.",
    missing: (months: string): string => `Counts missing in ${months}; those months are skipped.`,
    leftOut: (text: string): string => `Left out: ${text}.`,
    estimated: (devices: string): string => `Using the estimate for their site: ${devices}.`,
    show: "Show the sheets of the year",
  },
  chart: {
    history: "counted",
    ahead: "expected",
    band: (level: string): string => `band: ${level} of cases`,
    mark: "report date",
    text: (last: string, first: string, highest: string): string =>
      `Last count ${last}. Expected: first ${first}, at most ${highest}.`,
    low: "Low",
    high: "High",
  },
  budget: {
    lead: (name: string, currency: string): string =>
      `Fiscal year ${name}${currency === "XXX" ? "; no currency is set in Setup" : `, in ${currency}`}.`,
    from: "Begins with month",
    next: "next fiscal year",
    level: "Upper figure is enough in (%) of cases",
    pool: "One store for all sites",
    births: "Sessions calculated from births on Sites",
    expected: "Expected",
    contingency: "Contingency",
    upper: "Upper figure",
    table: "Cost in numbers",
    quarters: "Expected cost by quarter",
    money: (currency: string): string => (currency === "XXX" ? "money" : currency),
    steps: "What each step is",
    quarter: "Quarter",
    freight: "Freight",
    sum: "Sum",
    year: "Year",
    bridge: "From last year to this budget",
    unpriced: (parts: string): string => `No price on Parts, so not in the totals: ${parts}.`,
    show: "Show the sheets of the budget",
  },
  order: {
    lead: (lines: number): string =>
      lines === 0 ? "Nothing needs to be ordered now." : `${counted(lines, "line")} to go out now.`,
    line: (packs: number, units: number): string =>
      `${counted(packs, "pack")}, ${counted(units, "unit")}`,
    orderBy: (date: string): string => `order by ${date}`,
    store: "the programme's store",
    noPrice: "no price",
    together: "To order now",
    parts: "Parts",
    freight: "Freight",
    late: "Late to order",
    thisMonth: "This month",
    until: (date: string): string => `By ${date}`,
    laterOn: "Later",
    uncounted: "not counted",
    onShelf: (units: number): string =>
      units === 0 ? "none on the shelf" : `${units} on the shelf`,
    short: (there: string, date: string): string => `${there}, short from ${date}`,
    compare: (local: string, pooled: string): string =>
      `If every site keeps its own spares: ${local} units now; if one store serves all: ${pooled}.`,
    show: "Show the order list",
  },
  share: {
    lead: "What you send out or print.",
    what: "What",
    rounds: "Round sheets of a week",
    logRounds: "Log what was typed into round sheets",
    alreadyLogged: (line: string): string => `Already there: ${line}`,
    evidence: "Evidence of a period",
    lot: "A lot, or the lots of a device",
    plain: "Columns that need no add-in",
    selfTest:
      "The sheet Self-test then compares each formula with the computed answer; it does not test any device.",
    selfTestMade: "sheet Self-test",
    calendar: "Calendar file of due dates",
    csv: "Order as CSV",
    week: "Week of",
    from: "From",
    to: "To",
    noColumns: "There are no columns yet: add them under Columns first.",
    notLive: "The columns use no add-in functions; they can be shared as they are.",
    buyer: "Ordered by",
    separator: "Separator between cells",
    save: "Save the file",
    copy: "If it cannot be saved, copy its text",
    copyInto: (name: string): string => `Text for a file named ${name}`,
    noDue: "Nothing is due in the year ahead.",
    noOrder: "Nothing needs to be ordered now.",
    show: "Show what would be added",
  },
  lot: {
    by: "Look for",
    lot: "Lot",
    device: "Device",
    list: "Where it is, was or may be",
    noDevice: "No device of that name is in the register or the Job log.",
    nothing: "Give a lot or a device.",
    found: (of: string): string => `Trace of ${of}`,
    unknown: "An unknown lot counts as affected.",
    lotNamed: (lot: string): string => `lot ${lot}`,
    fitted: (day: string): string => `fitted ${day}`,
    replaced: (day: string): string => `replaced ${day}`,
    units: (units: number): string => counted(units, "unit"),
  },
} as const;
