"""Reads each XML part of the files named with expat and each file with openpyxl; prints what is wrong."""

import sys
import warnings
import xml.parsers.expat
import zipfile

import openpyxl

warnings.simplefilter("ignore")
for path in sys.argv[1:]:
    with zipfile.ZipFile(path) as archive:
        for name in archive.namelist():
            if name.lower().endswith((".xml", ".rels", ".vml")):
                try:
                    xml.parsers.expat.ParserCreate().Parse(archive.read(name), True)
                except xml.parsers.expat.ExpatError as error:
                    print(path, name, error)
    try:
        openpyxl.load_workbook(path)
    except Exception as error:  # whatever it is, the file is to blame
        print(path, repr(error))
