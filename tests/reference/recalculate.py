"""Recalculates workbooks with LibreOffice and prints every cell of one sheet as JSON.

Usage: recalculate.py PORT PATH SHEET COLUMN [PATH SHEET COLUMN ...]. An office must be listening on the
port. Prints for each workbook a line with the seconds a hard recalculation took and one with the rows of values
after it, as JSON; then, where COLUMN (first row times 1000 plus column) is not negative, the rows once more after
the data below the headings was sorted by that column: all of it, or with an f before COLUMN only what the
sheet's own filter covers.
Needs Debian's python3-uno, the interpreter /usr/bin/python3.
"""

import json
import os
import re
import sys
import tempfile
import time

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException


def prop(name, value):
    made = PropertyValue()
    made.Name, made.Value = name, value
    return made


def desktop(port):
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext(
        "com.sun.star.bridge.UnoUrlResolver", local
    )
    for _ in range(120):
        try:
            url = f"uno:socket,host=127.0.0.1,port={port};urp;StarOffice.ComponentContext"
            context = resolver.resolve(url)
            return context.ServiceManager.createInstanceWithContext(
                "com.sun.star.frame.Desktop", context
            )
        except NoConnectException:
            time.sleep(0.25)
    raise SystemExit("no office answers")


def cells(sheet):
    cursor = sheet.createCursor()
    cursor.gotoEndOfUsedArea(False)
    area = sheet.getCellRangeByPosition(
        0, 0, cursor.RangeAddress.EndColumn, cursor.RangeAddress.EndRow
    )
    return [list(row) for row in area.getDataArray()]


def sort(area, column):
    field = uno.createUnoStruct("com.sun.star.table.TableSortField")
    field.Field, field.IsAscending = column, True
    fields = uno.Any("[]com.sun.star.table.TableSortField", (field,))
    sorting = PropertyValue()
    sorting.Name, sorting.Value = "SortFields", fields
    area.sort((sorting, prop("ContainsHeader", False)))


def filter_columns(book, sheet):
    """First and last column of the sheet's own filter as the office understands it: only its file says so."""
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "book.fods")
        kind = prop("FilterName", "OpenDocument Spreadsheet Flat XML")
        book.storeToURL(uno.systemPathToFileUrl(path), (kind,))
        with open(path, encoding="utf-8") as file:
            ranges = re.findall(r"<table:database-range[^>]*>", file.read())
    for one in ranges:
        address = re.search(r'target-range-address="([^"]*)"', one)
        if "__Anonymous_Sheet_DB__" in one and address and sheet.Name in address[1]:
            found = sheet.getCellRangeByName(re.sub(r"'?[^'.:]*'?\.", "", address[1])).RangeAddress
            return found.StartColumn, found.EndColumn
    raise SystemExit(f"no filter on {sheet.Name}")


def main():
    port = int(sys.argv[1])
    office = desktop(port)
    rest = sys.argv[2:]
    for path, name, key in zip(rest[0::3], rest[1::3], rest[2::3]):
        book = office.loadComponentFromURL(
            uno.systemPathToFileUrl(path), "_blank", 0, (prop("Hidden", True),)
        )
        begun = time.time()
        book.calculateAll()
        print(json.dumps(time.time() - begun))
        sheet = book.Sheets.getByName(name)
        print(json.dumps(cells(sheet)))
        through, key = key.startswith("f"), key.lstrip("f")
        if int(key) >= 0:
            top, column = divmod(int(key), 1000)
            cursor = sheet.createCursor()
            cursor.gotoEndOfUsedArea(False)
            last = cursor.RangeAddress
            first, end = filter_columns(book, sheet) if through else (0, last.EndColumn)
            area = sheet.getCellRangeByPosition(first, top, end, last.EndRow)
            sort(area, column - first)
            book.calculateAll()
            print(json.dumps(cells(sheet)))
        book.close(True)


main()
