"""Recalculates workbooks with LibreOffice and prints every cell of one sheet as JSON.

Usage: recalculate.py PORT PATH SHEET COLUMN [PATH SHEET COLUMN ...]. An office must be listening on the
port. Prints for each workbook a line with the seconds a hard recalculation took and one with the rows of values
after it, as JSON; then, where COLUMN (first row times 1000 plus column) is not negative, the rows once more after the data below the headings was sorted by that column.
Needs Debian's python3-uno, the interpreter /usr/bin/python3.
"""

import json
import sys
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
        if int(key) >= 0:
            top = int(key) // 1000
            cursor = sheet.createCursor()
            cursor.gotoEndOfUsedArea(False)
            area = sheet.getCellRangeByPosition(
                0, top, cursor.RangeAddress.EndColumn, cursor.RangeAddress.EndRow
            )
            field = uno.createUnoStruct("com.sun.star.table.TableSortField")
            field.Field, field.IsAscending = int(key) % 1000, True
            fields = uno.Any("[]com.sun.star.table.TableSortField", (field,))
            sorting = PropertyValue()
            sorting.Name, sorting.Value = "SortFields", fields
            area.sort((sorting, prop("ContainsHeader", False)))
            book.calculateAll()
            print(json.dumps(cells(sheet)))
        book.close(True)


main()
