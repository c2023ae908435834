/** Help texts: one for all, one a command, each with examples. */

export const HELP = `sparesheet: due dates and states for the reused parts of screening equipment, in your workbook

  sparesheet today BOOK                     what is overdue, to check and due soon, worst first
  sparesheet check BOOK                     every problem of the rows: cell, cause, fix
  sparesheet columns BOOK -o OUT            the book with next due dates, states and row checks
  sparesheet new OUT                        an empty register, for a programme without a sheet
  sparesheet calc NAME ARG...               one worksheet function; calc --list names them
  sparesheet demo DIR                       the invented demonstration programme
  sparesheet start [BOOK]                   today and columns in one go

Options
  -o, --output OUT        where to write; never the workbook itself
  --in-place              change the workbook, keeping a dated copy beside it
  --as WHAT               portable (native formulas, default), live (our functions) or values
  --report-date DATE      judge on this day (yyyy-mm-dd) instead of today
  --match FIELD=HEADING   this column is that field; register=SHEET and counts=SHEET name sheets
  --day-order dmy|mdy     how text dates are read where both orders fit
  -n, --dry-run           print the plan, write nothing
  --json                  the result for machines
  --force                 write over a file, a protected sheet, or constants typed over formulas
  -h, --help              this, or help on a command

Exit codes: 0 fine, 1 the rows have faults, 2 could not run. start always ends with 0 when it ran.
`;

export const COMMAND_HELP: Readonly<Record<string, string>> = {
  today: `sparesheet today BOOK [--report-date DATE] [--json]

What is overdue, to check and due soon on the report date, worst first.

  sparesheet today equipment.xlsx
  sparesheet today equipment.xlsx --report-date 2026-07-06 --json
`,
  check: `sparesheet check BOOK [--match FIELD=HEADING] [--day-order dmy|mdy] [--json]

How the register was understood, and every problem with its cell, cause and fix.

  sparesheet check equipment.xlsx
  sparesheet check equipment.xlsx --match device="Unit no" --match register="Our kit"
`,
  columns: `sparesheet columns BOOK -o OUT [--as portable|live|values] [--report-date DATE]

Adds interval, next due, state and row check of each part at the right edge of the register, and
Setup, Parts, Sites, Holidays, Work log and Read me where they are missing. Nothing else changes.
On a book that has the columns, brings them up to date.

  sparesheet columns equipment.xlsx -o with-columns.xlsx
  sparesheet columns equipment.xlsx --dry-run
  sparesheet columns equipment.xlsx --in-place
`,
  calc: `sparesheet calc NAME ARG...
sparesheet calc --list

One worksheet function; dates as yyyy-mm-dd, columns as JSON arrays. calc - reads one call a line.

  sparesheet calc NEXTDUE 2026-01-31 3 --dates
  sparesheet calc SPAN 45 3 6 - 20 60
`,
  new: `sparesheet new OUT

An empty register with headings, choices and date limits, and our sheets.

  sparesheet new equipment.xlsx
`,
  demo: `sparesheet demo DIR

Writes the demonstration programme: a clean workbook, an untidy one, and what is wrong in it.

  sparesheet demo velloran
`,
  start: `sparesheet start [BOOK]

Prints what is due and writes a copy of the workbook with the columns; without a workbook, on the
demonstration programme.

  sparesheet start equipment.xlsx
`,
};
