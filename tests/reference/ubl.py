"""Reads orders back with other software: openpyxl, Python's csv and its XML parser.

Usage: python3 ubl.py ORDER.xlsx ORDER.csv ORDER.xml
Prints one JSON object: for each file its lines, each a mapping from heading to text; for the workbook
also its sheets, tables, defined names and the number of formulas.
"""

import csv
import datetime
import json
import sys
import xml.etree.ElementTree as ET

import openpyxl

CAC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2}"
CBC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2}"


def shown(value):
    """A cell as text: dates by ISO 8601, money with two decimals, blank as the empty text."""
    if value is None:
        return ""
    if isinstance(value, datetime.datetime):
        return value.date().isoformat()
    return value if isinstance(value, str) else repr(value)


def workbook(path):
    book = openpyxl.load_workbook(path)
    sheet = book["Order"]
    rows = [list(row) for row in sheet[sheet.tables["Order"].ref]]
    headings = [cell.value for cell in rows[0]]
    formulas = sum(
        cell.data_type == "f" for page in book.worksheets for row in page.iter_rows() for cell in row
    )
    return {
        "sheets": book.sheetnames,
        "tables": [name for page in book.worksheets for name in page.tables],
        "names": [name.name for name in book.defined_names.definedName],
        "formulas": formulas,
        "lines": [dict(zip(headings, (shown(cell.value) for cell in row))) for row in rows[1:]],
    }


def separated(path):
    with open(path, encoding="utf-8-sig", newline="") as file:
        return {"lines": list(csv.DictReader(file))}


def order(path):
    root = ET.parse(path).getroot()

    def text(node, *names):
        for name in names:
            node = None if node is None else node.find(name)
        return "" if node is None else node.text

    lines = []
    for line in root.findall(CAC + "OrderLine"):
        item = line.find(CAC + "LineItem")
        goods = item.find(CAC + "Item")
        delivery = item.find(CAC + "Delivery")
        lines.append(
            {
                "Line": text(item, CBC + "ID"),
                "Item": text(goods, CBC + "Name"),
                "Quantity": text(item, CBC + "Quantity"),
                "Unit": item.find(CBC + "Quantity").get("unitCode"),
                "Price": text(item, CAC + "Price", CBC + "PriceAmount"),
                "Per": text(item, CAC + "Price", CBC + "BaseQuantity"),
                "Amount": text(item, CBC + "LineExtensionAmount"),
                "Need by": text(delivery, CAC + "RequestedDeliveryPeriod", CBC + "EndDate"),
                "Site": text(delivery, CAC + "DeliveryLocation", CBC + "ID"),
                "Ship to": text(delivery, CAC + "DeliveryLocation", CBC + "Description"),
                "Our number": text(goods, CAC + "BuyersItemIdentification", CBC + "ID"),
                "Supplier's number": text(goods, CAC + "SellersItemIdentification", CBC + "ID"),
            }
        )
    return {"lines": lines}


print(json.dumps([workbook(sys.argv[1]), separated(sys.argv[2]), order(sys.argv[3])]))
