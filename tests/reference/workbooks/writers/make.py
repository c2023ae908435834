"""Makes the books of other writers. Run: python3 make.py MODULES [OUT]

One register and its monthly sessions, as each program or library writes them by its own means, with the
features it has: formats, widths, notes, filters, rules, choices, names, tables, formulas. MODULES is a
folder where the npm packages exceljs, xlsx, xlsx-populate and write-excel-file are installed. A writer
that is not there is left out and named; the books that are kept were made with
openpyxl 3.1.5, XlsxWriter 3.2.9, Excel::Writer::XLSX 1.10, openxlsx 4.2.5.2 (R), LibreOffice 7.4,
Gnumeric 1.12.55, exceljs 4.4.0, xlsx 0.18.5, xlsx-populate 1.21.0 and write-excel-file 4.1.1.
"""

import datetime
import os
import shutil
import subprocess
import sys
import tempfile

FOLDER = os.path.dirname(os.path.abspath(__file__))
MODULES = sys.argv[1]
OUT = sys.argv[2] if len(sys.argv) > 2 else FOLDER

HEADINGS = ["Device", "Site", "Electrode set replaced", "Ear cushion replaced", "Status", "Age (years)"]
DAY = datetime.date(2026, 7, 6)
ROWS = [
    [f"W-{n:02d}", ["North", "South"][n % 2], datetime.date(2026, 1 + n % 6, 3 + 2 * n),
     datetime.date(2026, 1 + (n * 2) % 6, 4 + n), "In service"]
    for n in range(1, 10)
]
MONTHS = [datetime.date(2026, month, 1) for month in range(1, 7)]
SESSIONS = [[row[0]] + [60 + 7 * n + m for m in range(6)] for n, row in enumerate(ROWS)]
AGE = "ROUND((DATE(2026,7,6)-C{0})/365.25,2)"


def age(row):
    return round((DAY - row[2]).days / 365.25, 2)


def path(name):
    return os.path.join(OUT, name)


def openpyxl_book():
    import openpyxl
    from openpyxl.comments import Comment
    from openpyxl.formatting.rule import CellIsRule
    from openpyxl.styles import Font, PatternFill
    from openpyxl.worksheet.datavalidation import DataValidation
    from openpyxl.workbook.defined_name import DefinedName

    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Equipment"
    sheet.append(HEADINGS)
    for at, row in enumerate(ROWS, 2):
        sheet.append(row + ["=" + AGE.format(at)])
        for column in "CD":
            sheet[f"{column}{at}"].number_format = "dd/mm/yyyy"
    for cell in sheet[1]:
        cell.font, cell.fill = Font(bold=True), PatternFill("solid", "DDEBF7")
    sheet["A2"].comment = Comment("Came back from repair.", "Office")
    sheet.column_dimensions["C"].width = 24
    sheet.freeze_panes = "B2"
    sheet.auto_filter.ref = f"A1:F{len(ROWS) + 1}"
    choices = DataValidation(type="list", formula1='"In service,On loan,Retired"')
    choices.add(f"E2:E{len(ROWS) + 1}")
    sheet.add_data_validation(choices)
    sheet.conditional_formatting.add("F2:F10", CellIsRule("greaterThan", ["0.4"], font=Font(color="AA0000")))
    book.defined_names["Devices"] = DefinedName("Devices", attr_text="Equipment!$A$2:$A$10")
    counts = book.create_sheet("Sessions")
    counts.append(["Device"] + MONTHS)
    for row in SESSIONS:
        counts.append(row)
    for cell in counts[1][1:]:
        cell.number_format = "mmm yy"
    book.save(path("openpyxl.xlsx"))


def xlsxwriter_book():
    import xlsxwriter

    book = xlsxwriter.Workbook(path("xlsxwriter.xlsx"))
    sheet = book.add_worksheet("Equipment")
    date = book.add_format({"num_format": "d mmm yyyy", "border": 1})
    title = book.add_format({"bold": True, "font_size": 14})
    sheet.merge_range("A1:F1", "Equipment of the region", title)
    sheet.add_table(1, 0, len(ROWS) + 1, 5, {"name": "Kit", "columns": [{"header": h} for h in HEADINGS]})
    for at, row in enumerate(ROWS, 2):
        sheet.write_rich_string(at, 0, book.add_format({"bold": True}), row[0][:2], row[0][2:])
        sheet.write(at, 1, row[1])
        sheet.write_datetime(at, 2, datetime.datetime.combine(row[2], datetime.time()), date)
        sheet.write_datetime(at, 3, datetime.datetime.combine(row[3], datetime.time()), date)
        sheet.write(at, 4, row[4])
        sheet.write_formula(at, 5, "=" + AGE.format(at + 1), None, age(row))
    sheet.write_comment("C3", "Done by the day team.")
    sheet.set_column("C:D", 22)
    sheet.data_validation("E3:E11", {"validate": "list", "source": ["In service", "Retired"]})
    sheet.conditional_format("F3:F11", {"type": "data_bar"})
    sheet.freeze_panes(2, 1)
    sheet.write_url("H1", "https://example.org/", string="Handbook")
    counts = book.add_worksheet("Sessions")
    month = book.add_format({"num_format": "yyyy-mm"})
    counts.write(0, 0, "Device")
    for column, day in enumerate(MONTHS, 1):
        counts.write_datetime(0, column, datetime.datetime.combine(day, datetime.time()), month)
    for at, row in enumerate(SESSIONS, 1):
        counts.write_row(at, 0, row)
    chart = book.add_chart({"type": "line"})
    chart.add_series({"values": "=Sessions!$B$2:$G$2"})
    counts.insert_chart("I2", chart)
    book.define_name("Months", "=Sessions!$B$1:$G$1")
    book.close()


def converted(program, name, arguments):
    """The book of XlsxWriter, opened and saved by another program."""
    if shutil.which(program) is None:
        raise ImportError(program)
    with tempfile.TemporaryDirectory() as place:
        shutil.copy(path("xlsxwriter.xlsx"), os.path.join(place, "in.xlsx"))
        subprocess.run(arguments(place), check=True, cwd=place, capture_output=True)
        shutil.copy(os.path.join(place, "out", "in.xlsx"), path(name))


def libreoffice_book():
    converted("soffice", "libreoffice.xlsx", lambda place: [
        "soffice", f"-env:UserInstallation=file://{place}/profile", "--headless",
        "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", "out", "in.xlsx"])


def gnumeric_book():
    def arguments(place):
        os.mkdir(os.path.join(place, "out"))
        return ["ssconvert", "--export-type=Gnumeric_Excel:xlsx2", "in.xlsx", "out/in.xlsx"]
    converted("ssconvert", "gnumeric.xlsx", arguments)


def scripted(program, script, *more):
    """Another language's libraries, given the same cells."""
    import json

    if shutil.which(program) is None:
        raise ImportError(program)
    content = {
        "headings": HEADINGS,
        "rows": [[v.isoformat() if isinstance(v, datetime.date) else v for v in row] for row in ROWS],
        "ages": [age(row) for row in ROWS],
        "formula": AGE,
        "months": [day.isoformat() for day in MONTHS],
        "sessions": SESSIONS,
    }
    with tempfile.NamedTemporaryFile("w", suffix=".json") as file:
        json.dump(content, file)
        file.flush()
        done = subprocess.run([program, os.path.join(FOLDER, script), file.name, OUT, *more],
                              capture_output=True, text=True)
        sys.stdout.write(done.stdout)
        if done.returncode != 0:
            raise ImportError(done.stderr.strip().split("\n")[-1])


MAKERS = {
    "openpyxl": openpyxl_book,
    "XlsxWriter": xlsxwriter_book,
    "LibreOffice": libreoffice_book,
    "Gnumeric": gnumeric_book,
    "npm packages": lambda: scripted("node", "make.mjs", MODULES),
    "Excel::Writer::XLSX": lambda: scripted("perl", "make.pl"),
    "openxlsx of R": lambda: scripted("Rscript", "make.R"),
}

for name, make in MAKERS.items():
    try:
        make()
        print(f"{name}: made")
    except ImportError as error:
        print(f"{name}: left out, {error}")
