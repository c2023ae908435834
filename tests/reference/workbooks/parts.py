"""Parts that neither library writes, as the smallest valid XML, put into the book of make.py."""

from graft import HEAD, OFFICE, add, change, link

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml"
MICROSOFT = "http://schemas.microsoft.com/office"
BOOK = "xl/workbook.xml"
REGISTER = "xl/worksheets/sheet1.xml"
LISTS = "xl/worksheets/sheet2.xml"
PIVOT = "xl/worksheets/sheet4.xml"


def pivot(parts, rows):
    sites = sorted({site for _, site, _, _ in rows})
    shared = "".join(f'<s v="{site}"/>' for site in sites)
    cache = "xl/pivotCache/pivotCacheDefinition1.xml"
    records = "xl/pivotCache/pivotCacheRecords1.xml"
    lines = "".join(f'<r><x v="{sites.index(site)}"/><n v="{uses}"/></r>' for _, site, _, uses in rows)
    add(parts, records, f'{HEAD}<pivotCacheRecords xmlns="{MAIN}" count="{len(rows)}">{lines}</pivotCacheRecords>',
        f"{TYPE}.pivotCacheRecords+xml")
    add(parts, cache,
        f'{HEAD}<pivotCacheDefinition xmlns="{MAIN}" xmlns:r="{OFFICE}" r:id="rId1" recordCount="{len(rows)}" refreshedVersion="6" createdVersion="6">'
        '<cacheSource type="worksheet"><worksheetSource ref="A1:D9" sheet="Register"/></cacheSource><cacheFields count="2">'
        f'<cacheField name="Site" numFmtId="0"><sharedItems count="{len(sites)}">{shared}</sharedItems></cacheField>'
        '<cacheField name="Uses" numFmtId="0"><sharedItems containsSemiMixedTypes="0" containsString="0" containsNumber="1" containsInteger="1" minValue="100" maxValue="800"/></cacheField>'
        '</cacheFields></pivotCacheDefinition>',
        f"{TYPE}.pivotCacheDefinition+xml")
    link(parts, cache, "pivotCacheRecords", "pivotCacheRecords1.xml")
    table = "xl/pivotTables/pivotTable1.xml"
    items = "".join(f'<item x="{at}"/>' for at in range(len(sites)))
    row_items = "".join(f'<i><x v="{at}"/></i>' if at else "<i><x/></i>" for at in range(len(sites)))
    add(parts, table,
        f'{HEAD}<pivotTableDefinition xmlns="{MAIN}" name="Uses by site" cacheId="1" dataCaption="Values" applyNumberFormats="0" applyBorderFormats="0" applyFontFormats="0" applyPatternFormats="0" applyAlignmentFormats="0" applyWidthHeightFormats="1" updatedVersion="6" createdVersion="6">'
        f'<location ref="A3:B{4 + len(sites)}" firstHeaderRow="1" firstDataRow="1" firstDataCol="1"/><pivotFields count="2">'
        f'<pivotField axis="axisRow" showAll="0"><items count="{len(sites) + 1}">{items}<item t="default"/></items></pivotField><pivotField dataField="1" showAll="0"/></pivotFields>'
        f'<rowFields count="1"><field x="0"/></rowFields><rowItems count="{len(sites) + 1}">{row_items}<i t="grand"><x/></i></rowItems><colItems count="1"><i/></colItems>'
        '<dataFields count="1"><dataField name="Sum of Uses" fld="1" baseField="0" baseItem="0"/></dataFields></pivotTableDefinition>',
        f"{TYPE}.pivotTable+xml")
    link(parts, table, "pivotCacheDefinition", "../pivotCache/pivotCacheDefinition1.xml")
    link(parts, PIVOT, "pivotTable", "../pivotTables/pivotTable1.xml")
    identity = link(parts, BOOK, "pivotCacheDefinition", "pivotCache/pivotCacheDefinition1.xml")
    change(parts, BOOK, "</workbook>", f'<pivotCaches><pivotCache cacheId="1" r:id="{identity}"/></pivotCaches></workbook>')


def slicer(parts):
    spaces = f'xmlns:x14="{MICROSOFT}/spreadsheetml/2009/9/main" xmlns:x15="{MICROSOFT}/spreadsheetml/2010/11/main"'
    main = f'xmlns="{MICROSOFT}/spreadsheetml/2009/9/main"'
    add(parts, "xl/slicerCaches/slicerCache1.xml",
        f'{HEAD}<slicerCacheDefinition {main} name="Slicer_Site" sourceName="Site"><extLst><x:ext xmlns:x="{MAIN}" xmlns:x15="{MICROSOFT}/spreadsheetml/2010/11/main" uri="{{2F2917AC-EB37-4324-AD4E-5DD8C200BD13}}"><x15:tableSlicerCache tableId="1" column="1"/></x:ext></extLst></slicerCacheDefinition>',
        "application/vnd.ms-excel.slicerCache+xml")
    add(parts, "xl/slicers/slicer1.xml",
        f'{HEAD}<slicers {main}><slicer name="Site" cache="Slicer_Site" caption="Site" rowHeight="241300"/></slicers>',
        "application/vnd.ms-excel.slicer+xml")
    cache = link(parts, BOOK, f"{MICROSOFT}/2007/relationships/slicerCache", "slicerCaches/slicerCache1.xml")
    shown = link(parts, LISTS, f"{MICROSOFT}/2007/relationships/slicer", "../slicers/slicer1.xml")
    change(parts, BOOK, "</workbook>",
           f'<extLst><ext uri="{{46BE6895-7355-4a93-B00E-2C351335B9C9}}" {spaces}><x15:slicerCaches xmlns:x14="{MICROSOFT}/spreadsheetml/2009/9/main"><x14:slicerCache r:id="{cache}"/></x15:slicerCaches></ext></extLst></workbook>')
    change(parts, LISTS, "</worksheet>",
           f'<extLst><ext uri="{{3A4CF648-6AED-40f4-86FF-DC5316D8AED3}}" {spaces}><x14:slicerList><x14:slicer r:id="{shown}"/></x14:slicerList></ext></extLst></worksheet>')


def threads(parts):
    space = f'xmlns="{MICROSOFT}/spreadsheetml/2018/threadedcomments"'
    person = "{11111111-1111-4111-8111-111111111111}"
    add(parts, "xl/persons/person.xml",
        f'{HEAD}<personList {space}><person displayName="Reviewer" id="{person}" userId="reviewer" providerId="None"/></personList>',
        "application/vnd.ms-excel.person+xml")
    add(parts, "xl/threadedComments/threadedComment1.xml",
        f'{HEAD}<ThreadedComments {space}><threadedComment ref="A2" dT="2026-01-05T10:00:00.00" personId="{person}" id="{{22222222-2222-4222-8222-222222222222}}"><text>Is this one in use?</text></threadedComment></ThreadedComments>',
        "application/vnd.ms-excel.threadedcomments+xml")
    link(parts, BOOK, f"{MICROSOFT}/2017/10/relationships/person", "persons/person.xml")
    link(parts, REGISTER, f"{MICROSOFT}/2017/10/relationships/threadedComment", "../threadedComments/threadedComment1.xml")


def control(parts):
    add(parts, "xl/ctrlProps/ctrlProp1.xml",
        f'{HEAD}<formControlPr xmlns="{MICROSOFT}/spreadsheetml/2009/9/main" objectType="Button" lockText="1"/>',
        "application/vnd.ms-excel.controlproperties+xml")
    identity = link(parts, REGISTER, "ctrlProp", "../ctrlProps/ctrlProp1.xml")
    corner = "<xdr:col>{}</xdr:col><xdr:colOff>0</xdr:colOff><xdr:row>{}</xdr:row><xdr:rowOff>0</xdr:rowOff>"
    controls = (
        f'<mc:AlternateContent><mc:Choice xmlns:x14="{MICROSOFT}/spreadsheetml/2009/9/main" Requires="x14"><controls>'
        f'<mc:AlternateContent><mc:Choice Requires="x14"><control shapeId="1025" r:id="{identity}" name="Button 1">'
        '<controlPr defaultSize="0" print="0" autoFill="0" autoPict="0"><anchor moveWithCells="1" sizeWithCells="1">'
        f"<from>{corner.format(5, 15)}</from><to>{corner.format(6, 16)}</to></anchor></controlPr></control>"
        "</mc:Choice></mc:AlternateContent></controls></mc:Choice></mc:AlternateContent>"
    )
    # Programs put prefixes on the root element; LibreOffice 7.4 falls over late ones.
    both = (
        'xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" '
        'xmlns:xdr="http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing"'
    )
    change(parts, REGISTER, "<worksheet ", f"<worksheet {both} ")
    change(parts, REGISTER, "</worksheet>", controls + "</worksheet>")


def outside(parts):
    name = "xl/externalLinks/externalLink1.xml"
    add(parts, name,
        f'{HEAD}<externalLink xmlns="{MAIN}" xmlns:r="{OFFICE}"><externalBook r:id="rId1"><sheetNames><sheetName val="Prices"/></sheetNames><sheetDataSet><sheetData sheetId="0"><row r="1"><cell r="A1"><v>12</v></cell></row></sheetData></sheetDataSet></externalBook></externalLink>',
        f"{TYPE}.externalLink+xml")
    link(parts, name, "externalLinkPath", "prices.xlsx", outside=True)
    identity = link(parts, BOOK, "externalLink", "externalLinks/externalLink1.xml")
    change(parts, BOOK, "</sheets>", f'</sheets><externalReferences><externalReference r:id="{identity}"/></externalReferences>')
    change(parts, REGISTER, "<f>SUM(D2:D9)</f>", "<f>SUM(D2:D9)+0*[1]Prices!$A$1</f>")


def custom(parts):
    add(parts, "customXml/item1.xml", '<programme xmlns="urn:velloran">screening</programme>')
    add(parts, "customXml/itemProps1.xml",
        f'{HEAD}<ds:datastoreItem ds:itemID="{{33333333-3333-4333-8333-333333333333}}" xmlns:ds="http://schemas.openxmlformats.org/officeDocument/2006/customXml"><ds:schemaRefs/></ds:datastoreItem>',
        "application/vnd.openxmlformats-officedocument.customXmlProperties+xml")
    link(parts, "customXml/item1.xml", "customXmlProps", "itemProps1.xml")
    link(parts, BOOK, "customXml", "../customXml/item1.xml")
    settings = 'ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.printerSettings"/>'
    taken = 'Extension="bin"' in str(parts["[Content_Types].xml"])
    typed = '<Override PartName="/xl/printerSettings/printerSettings1.bin" ' if taken else '<Default Extension="bin" '
    change(parts, "[Content_Types].xml", "<Override", f"{typed}{settings}<Override")
    parts["xl/printerSettings/printerSettings1.bin"] = b"printer" * 20
    link(parts, "xl/worksheets/sheet3.xml", "printerSettings", "../printerSettings/printerSettings1.bin")


def chain(parts):
    add(parts, "xl/calcChain.xml", f'{HEAD}<calcChain xmlns="{MAIN}"><c r="D10" i="1"/></calcChain>', f"{TYPE}.calcChain+xml")
    link(parts, BOOK, "calcChain", "calcChain.xml")
