"""Makes the workbooks the file engine is tested with. Run: /usr/bin/python3 make.py

XlsxWriter 3.0.2 and openpyxl 3.0.9 write what they can; parts that neither writes (slicers, pivot,
threaded comments, form controls, external links) are put in as the smallest valid XML, and odd
spellings of the format (prefixed, strict, UTF-16, bare) are written by hand in spelt.py.
Every book has a sheet Register with the headings Device, Site, Replaced, Uses and eight devices.
"""

import datetime
import io
import os

import openpyxl
import xlsxwriter
from openpyxl.styles import Font
from openpyxl.worksheet.table import Table, TableStyleInfo

import graft
import parts as extra
import spelt

FOLDER = os.path.dirname(os.path.abspath(__file__))
HEADINGS = ["Device", "Site", "Replaced", "Uses"]
ROWS = [(f"D{n:03d}", f"S0{n % 3 + 1}", 45000 + 30 * n, 100 * n) for n in range(1, 9)]
MADE = datetime.datetime(2026, 1, 5)
PIXEL = bytes.fromhex(
    "89504e470d0a1a0a0000000d4948445200000001000000010802000000907753de"
    "0000000c4944415408d763f8cfc000000301010018dd8db00000000049454e44ae426082"
)


def path(name):
    return os.path.join(FOLDER, name)


def register(book, first=0, shift=0):
    sheet = book.add_worksheet("Register")
    bold = book.add_format({"bold": True, "bg_color": "#DDEBF7", "bottom": 1})
    date = book.add_format({"num_format": "dd.mm.yyyy", "left": 1})
    for column, heading in enumerate(HEADINGS):
        sheet.write(first, column, heading, bold)
    for row, (device, site, replaced, uses) in enumerate(ROWS, first + 1):
        sheet.write(row, 0, device)
        sheet.write(row, 1, site)
        sheet.write(row, 2, replaced - shift, date)
        sheet.write(row, 3, uses)
    return sheet


def writer(name, **options):
    book = xlsxwriter.Workbook(name, options)
    book.set_properties({"created": MADE, "title": "Register of the region Velloran"})
    return book


def saved(build, name, then=lambda parts: None, **options):
    stream = io.BytesIO()
    book = writer(stream, **options)
    build(book)
    book.close()
    stream.seek(0)
    parts = graft.read(stream)
    then(parts)
    graft.write(path(name), parts)


def everything(book):
    sheet = register(book)
    sheet.write_rich_string(9, 0, "Rich ", book.add_format({"bold": True}), "text", " & more")
    sheet.write_formula(9, 3, "=SUM(D2:D9)", None, 3600)
    sheet.write_comment("A2", "Note of the store", {"author": "Store"})
    sheet.insert_image("F12", "pixel.png", {"image_data": io.BytesIO(PIXEL), "description": "Mark"})
    sheet.insert_button("F16", {"caption": "Count", "macro": "Count"})
    sheet.conditional_format("D2:D9", {"type": "cell", "criteria": ">", "value": 600,
                                       "format": book.add_format({"font_color": "#9C0006"})})
    sheet.conditional_format("C2:C9", {"type": "data_bar"})
    sheet.data_validation("B2:B9", {"validate": "list", "source": ["S01", "S02", "S03"]})
    sheet.write_url("A12", "https://example.org/", string="Link")
    sheet.set_header("&LVelloran&RPage &P")
    sheet.print_area("A1:D10")
    sheet.repeat_rows(0)
    sheet.freeze_panes(1, 0)
    sheet.set_column("A:A", 11)
    sheet.set_column("G:XFD", None, None, {"hidden": True})
    other = book.add_worksheet("Lists")
    other.write_column(0, 0, ["Site", "S01", "S02", "S03"])
    other.write_column(0, 1, ["Wipes", 4, 5, 6])
    other.add_table("A1:B4", {"name": "Sites", "columns": [{"header": "Site"}, {"header": "Wipes"}]})
    other.protect("secret", {"sort": True})
    other.hide()
    charts = book.add_worksheet("Charts")
    charts.write_column(0, 0, [1, 2, 3])
    charts.add_sparkline("A5", {"range": "Charts!A1:A3"})
    charts.conditional_format("A1:A3", {"type": "data_bar", "data_bar_2010": True})
    for kind in ("column", "line", "pie"):
        chart = book.add_chart({"type": kind})
        chart.add_series({"categories": "=Register!$A$2:$A$9", "values": "=Register!$D$2:$D$9"})
        charts.insert_chart("B2", chart)
    paper = book.add_chartsheet("Chart on its own")
    chart = book.add_chart({"type": "bar"})
    chart.add_series({"values": "=Register!$D$2:$D$9"})
    paper.set_chart(chart)
    book.add_worksheet("Pivot")
    book.define_name("Half", "=0.5")
    book.define_name("Register!Local", "=Register!$D$2:$D$9")
    book.define_name("Moving", "=OFFSET(Register!$D$2,0,0,COUNTA(Register!$A:$A)-1,1)")


def grafted(parts):
    extra.pivot(parts, ROWS)
    extra.slicer(parts)
    extra.threads(parts)
    extra.control(parts)
    extra.outside(parts)
    extra.custom(parts)
    extra.chain(parts)


def formulas(book):
    sheet = register(book)
    for row in range(1, 9):
        sheet.write_formula(row, 4, f"=D{row + 1}*2", None, ROWS[row - 1][3] * 2)
    sheet.write_array_formula("F2:F4", "{=D2:D4*3}", None, 300)
    sheet.write(2, 5, 600)
    sheet.write(3, 5, 900)
    sheet.write_dynamic_array_formula("G2:G4", '=SORT(D2:D4)', None, 100)
    sheet.write(2, 6, 200)
    sheet.write(3, 6, 300)
    sheet.write_formula("H2", "=_xlfn.CONCAT(A2,B2)", None, "D001S02")
    sheet.write_formula("H3", "=_xldudf_SPARE_NEXT(C2,12)", None, 45395)
    sheet.write_formula("H4", '=1/0', None, "#DIV/0!")
    sheet.write_formula("H5", '="_xlfn.IFS("&A2', None, "_xlfn.IFS(D001")
    sheet.write_boolean("H6", True)


def shared(parts):
    """The doubled uses as one shared formula, as spreadsheet programs store it."""
    name = "xl/worksheets/sheet1.xml"
    graft.change(parts, name, "<f>D2*2</f>", '<f t="shared" ref="E2:E9" si="0">D2*2</f>')
    for row in range(3, 10):
        graft.change(parts, name, f"<f>D{row}*2</f>", '<f t="shared" si="0"/>')
    graft.change(parts, name, "_xldudf_SPARE_NEXT(", "[2]!_xldudf_spare_next(")


def untidy(book):
    sheet = register(book, first=2)
    sheet.merge_range("A1:D1", "Region Velloran", book.add_format({"bold": True}))
    sheet.merge_range("A2:B2", "Which", book.add_format({"italic": True}))
    sheet.autofilter("A3:D11")
    sheet.filter_column("B", "x == S01")
    for row in (3, 4, 6, 7, 9, 10):
        sheet.set_row(row, None, None, {"hidden": True})
    sheet.set_column("D:D", 9, None, {"hidden": True})
    sheet.set_column("E:H", 20)
    sheet.write("A13", " spaced ")
    sheet.write("A14", "two\nlines")


def tables(book):
    sheet = register(book)
    columns = [{"header": heading} for heading in HEADINGS]
    sheet.add_table("A1:D9", {"name": "Devices", "columns": columns, "style": "Table Style Light 9"})
    other = book.add_worksheet("Totals")
    columns = [{"header": "Site", "total_string": "All"}, {"header": "Wipes", "total_function": "sum"}]
    other.add_table("B2:C6", {"name": "Wipes", "columns": columns, "total_row": True,
                              "data": [["S01", 4], ["S02", 5], ["S03", 6]]})


def by_openpyxl():
    book = openpyxl.Workbook()
    book.properties.created = book.properties.modified = MADE
    sheet = book.active
    sheet.title = "Register"
    sheet.append(HEADINGS)
    for cell in sheet[1]:
        cell.font = Font(bold=True)
    for row in ROWS:
        sheet.append(row)
        sheet.cell(sheet.max_row, 3).number_format = "yyyy-mm-dd"
    sheet["E2"] = "#N/A"
    sheet["E3"] = "=D2+1"
    table = Table(displayName="Small", ref="A1:D9")
    table.tableStyleInfo = TableStyleInfo(name="TableStyleLight1")
    sheet.add_table(table)
    stream = io.BytesIO()
    book.save(stream)
    stream.seek(0)
    parts = graft.read(stream)
    # The library puts the time of saving in; without it the same bytes come out every time.
    core = parts["docProps/core.xml"].decode()
    start = core.index("<dcterms:modified")
    end = core.index("</dcterms:modified>") + len("</dcterms:modified>")
    parts["docProps/core.xml"] = core[:start] + core[end:]
    graft.write(path("openpyxl.xlsx"), parts)


def macros(book):
    everything(book)
    book.add_vba_project(io.BytesIO(b"not a program, only bytes that must not change" * 20), True)


if __name__ == "__main__":
    saved(everything, "everything.xlsx", grafted)
    saved(macros, "macros.xlsm", grafted)
    saved(lambda book: register(book, shift=1462), "dates1904.xlsx", date_1904=True)
    saved(formulas, "formulas.xlsx", shared)
    saved(untidy, "untidy.xlsx")
    saved(tables, "tables.xlsx")
    by_openpyxl()
    for name, parts, rename in spelt.books(HEADINGS, ROWS):
        graft.write(path(name), parts, rename)
