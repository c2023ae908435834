/** Help texts: one for all, one a command, each with examples. */

export const HELP = `sparespan: the reused parts of screening equipment, in the workbook you already have

The day
  sparespan today BOOK                     what is overdue, to check and due soon, worst first
  sparespan check BOOK                     every problem of the rows: cell, cause, fix
  sparespan log BOOK --device … -o OUT     one job done: into the Job log, off the shelf, new due date
  sparespan rounds BOOK -o OUT             a sheet to print for each site and week
  sparespan calendar BOOK -o OUT.ics       next due dates for a calendar program

The book
  sparespan columns BOOK -o OUT            next due dates, states and row checks beside every device
  sparespan new OUT                        an empty register, for a programme without a sheet
  sparespan start [BOOK]                   today and columns in one go
  sparespan demo DIR                       the invented demonstration programme

The year
  sparespan ahead BOOK                     replacements by month and part, with limits and what-if
  sparespan budget BOOK                    the fiscal year's parts, expected and upper figure
  sparespan order BOOK                     what to order now and later, by when and why
  sparespan share order|copy BOOK -o OUT   the order for purchasing; a copy that needs no add-in

Proof
  sparespan evidence BOOK                  inspections kept, work on time, findings, lots; gaps first
  sparespan lot BOOK LOT                   where a lot is and was; unknown lots count as affected

  sparespan calc NAME ARG...               one worksheet function; calc --list names them

Options
  -o, --output OUT        where to write; never the workbook itself
  --in-place              change the workbook, keeping a dated copy beside it
  --as WHAT               portable (native formulas, default), live (our functions) or values
  --report-date DATE      judge on this day (yyyy-mm-dd) instead of today
  --match FIELD=HEADING   this column is that field; register=SHEET and counts=SHEET name sheets
  --day-order dmy|mdy     how text dates are read where both orders fit
  -n, --dry-run           print the plan, write nothing
  --json                  the result for machines
  --force                 write over a file, a book open elsewhere, a protected sheet, or constants
                          typed over formulas
  -h, --help              this, or help on a command

Jobs of the year and proof print their result; with -o or --in-place they also write it into the book.

Exit codes: 0 fine, 1 the rows have faults, 2 could not run. start always ends with 0 when it ran.
`;

const WHAT_IF = `What if (nothing of it is written into the register):
  --volume 10              usage changes by so many percent; --volume=-5 for less
  --interval SET=3-4       other ends of an interval in months; never longer than Parts says
  --wipes S04=alcohol-free other wipes at a site, or --wipes alcohol everywhere
  --add S09=2@40           two devices more at S09, each used 40 times a month
  --retire VR-104,VR-105   devices that leave today
  --wear none              leave out the wear seen in the Job log
`;

export const COMMAND_HELP: Readonly<Record<string, string>> = {
  today: `sparespan today BOOK [--report-date DATE] [--json]

What is overdue, to check and due soon on the report date, worst first.

  sparespan today equipment.xlsx
  sparespan today equipment.xlsx --report-date 2026-07-06 --json
`,
  check: `sparespan check BOOK [--match FIELD=HEADING] [--day-order dmy|mdy] [--json]

How the register was understood, and every problem with its cell, cause and fix.

  sparespan check equipment.xlsx
  sparespan check equipment.xlsx --match device="Unit no" --match register="Our kit"
`,
  columns: `sparespan columns BOOK -o OUT [--as portable|live|values] [--report-date DATE]

Adds interval, next due, state and row check of each part at the right edge of the register, and
Setup, Parts, Sites, Holidays, Job log, Shelf and Read me where they are missing. Nothing else
changes. On a book that has the columns, brings them up to date.

  sparespan columns equipment.xlsx -o with-columns.xlsx
  sparespan columns equipment.xlsx --dry-run
  sparespan columns equipment.xlsx --in-place
`,
  log: `sparespan log BOOK --device ID --part PART --job JOB --by WHO -o OUT

Logs one job: a row of the Job log, the register's date where the complete part was replaced, one
taken from the Shelf. Prints the date it replaces (kept in the Note where the Job log has none) and the
new due date. The same entry twice, or a job on a retired device, is refused without --again.

  --job      inspected, replaced, calibrated, withdrawn or returned
  --finding  clean, residue, corrosion, crack, hardened or other
  --complete every piece of the set was replaced; without it the interval goes on
  --date     the day it was done (today); --lot of the new part; --by role or initials; --note

  sparespan log equipment.xlsx --device VR-104 --part SET --job replaced --complete --lot L2417 --by LS1 --in-place
  sparespan log equipment.xlsx --device VR-104 --part CUSHION --job inspected --finding crack --by LS1 --in-place
`,
  ahead: `sparespan ahead BOOK [--months 12] [--level 0.9] [--share 5] [-o OUT]

Replacements by month and part: planned, early, and the limits that hold with the level; whether the
interval fits the wear seen (the share worn before its end against --share percent) and what costs
least. With -o the sheets Year ahead, Usage forecast and Year by device, with charts.

${WHAT_IF}
  sparespan ahead equipment.xlsx
  sparespan ahead equipment.xlsx --volume 10 --interval SET=3-4
  sparespan ahead equipment.xlsx -o with-year.xlsx
`,
  budget: `sparespan budget BOOK [--from YYYY-MM] [--level 0.8] [--births] [--pool] [-o OUT]

The fiscal year's parts by part, site and quarter: expected cost, contingency and the upper figure
that is enough with the level; the way there from last year; every assumption. --births reckons the
sessions from births on Sites. With -o the sheets Budget, Budget by site, Budget calculation, Budget
bridge, Assumptions and Year by device.

${WHAT_IF}
  sparespan budget equipment.xlsx
  sparespan budget equipment.xlsx --from 2027-07 --level 0.9 -o with-budget.xlsx
`,
  order: `sparespan order BOOK [--pool] [-o OUT]

What to order now, by when, where and why, and what follows in the year: need within lead time and
review, plus the spares kept, less on hand and on order, in whole packs. --pool keeps one store for
all sites. With -o the sheets Order list and Calculation.

  sparespan order equipment.xlsx
  sparespan order equipment.xlsx --pool -o with-order.xlsx
`,
  share: `sparespan share order BOOK -o OUT.xlsx|OUT.csv|OUT.xml [--buyer NAME] [--seller NAME] [--number TEXT] [--pool]
sparespan share copy BOOK -o OUT.xlsx [--values]

order: the lines to go out now, for purchasing. .xlsx holds values only (the usual choice: programs
that open a CSV drop the zeros in front of part numbers). .csv is UTF-8 with CRLF; --separator comma,
semicolon (then with a decimal comma) or tab; --bom no leaves out the byte order mark. .xml is an order
of OASIS UBL 2.1 to one supplier: say --buyer, and --seller where there are several.
copy: the whole book without the add-in: our columns as native formulas, or with --values as values;
other calls of the add-in become what they last showed. The sheet Read first says what the copy is.

  sparespan share order equipment.xlsx -o order.xlsx --buyer "Velloran programme"
  sparespan share order equipment.xlsx -o order.csv --separator semicolon
  sparespan share order equipment.xlsx -o order.xml --buyer "Velloran programme" --seller "Supplier A" --number 2026-17
  sparespan share copy equipment.xlsx -o for-the-region.xlsx
`,
  evidence: `sparespan evidence BOOK [--from DATE] [--to DATE] [--site CODE]... [-o OUT] [--json]

Inspections kept by site and ISO week, replacements and tasks on time, findings and how they were
closed, lots in use; what is missing first. Without dates: the last 13 whole weeks and the days since.
With -o the sheets Evidence, Inspections, Weeks kept, Late work, Findings and Lots fitted; what is
typed under Reason on Late work stays.

  sparespan evidence equipment.xlsx
  sparespan evidence equipment.xlsx --from 2026-04-01 --to 2026-06-30 --site S01 -o q2.xlsx
`,
  lot: `sparespan lot BOOK LOT [-o OUT] [--json]
sparespan lot BOOK --device ID [-o OUT] [--json]

Where a lot is fitted now, lies on a shelf or was fitted before, and where it may be: parts of the same
kind whose lot nobody wrote count as affected. Or the lots of one device over time. Case and outer
spaces do not matter. Whether an event must be reported is not judged.

  sparespan lot equipment.xlsx L2452
  sparespan lot equipment.xlsx --device VR-105 -o traced.xlsx
`,
  rounds: `sparespan rounds BOOK [--site CODE]... [--week YYYY-Www] [-o OUT] [--json]

A sheet to print for each site: what to inspect in the week and how often, what is overdue or due by
its end, and room for day, finding, initials, lot and notes. Without --week the week that begins on
the report date or after it. A sheet somebody typed into is not written over for another week: move
that into the Job log and clear it first.

  sparespan rounds equipment.xlsx -o rounds.xlsx
  sparespan rounds equipment.xlsx --site S01 --week 2026-W28 -o s01.xlsx
`,
  calendar: `sparespan calendar BOOK [--site CODE]... [-o OUT.ics | -o FOLDER] [--json]

The next due date of every part and task within 12 months as all-day entries (iCalendar, RFC 5545).
What is overdue or cannot be trusted stands on the report date. With a folder that is there, one file
a site. Entries keep their identity while device, part and due date stay; take them into a calendar of
their own, for a due date that moves is a new entry.

  sparespan calendar equipment.xlsx -o due.ics
  sparespan calendar equipment.xlsx -o calendars/
`,
  calc: `sparespan calc NAME ARG...
sparespan calc --list

One worksheet function; dates as yyyy-mm-dd, columns as JSON arrays. calc - reads one call a line.

  sparespan calc NEXTDUE 2026-01-31 3 --dates
  sparespan calc SPAN 45 3 6 - 20 60
`,
  new: `sparespan new OUT

An empty register with headings, choices and date limits, and our sheets.

  sparespan new equipment.xlsx
`,
  demo: `sparespan demo DIR

Writes the demonstration programme: a clean workbook, an untidy one, and what is wrong in it.

  sparespan demo velloran
`,
  start: `sparespan start [BOOK] [--once] [--port PORT] [--no-open]

Prints what is due and writes a copy of the workbook with the columns; without a workbook, on the
demonstration programme. Then serves the workbench on this machine until Ctrl-C: the workbook in a
grid beside the pane. Saving there changes BOOK and keeps a dated copy of it as it was.

  --once       the summary and the copy only
  --port PORT  where the workbench is served; 0 takes any free port
  --no-open    print its address, open no browser

  sparespan start equipment.xlsx
  sparespan start equipment.xlsx --once
`,
};
