"""Books in odd but allowed spellings of the format, written by hand."""

from graft import HEAD, OFFICE, PACKAGE

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
STRICT = "http://purl.oclc.org/ooxml/spreadsheetml/main"
STRICT_OFFICE = "http://purl.oclc.org/ooxml/officeDocument/relationships"
TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml"
STYLES = (
    '<numFmts count="1"><numFmt numFmtId="170" formatCode="yyyy\\-mm\\-dd"/></numFmts>'
    '<fonts count="1"><font><sz val="10"/><name val="Arial"/></font></fonts>'
    '<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>'
    '<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>'
    '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>'
    '<cellXfs count="2"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>'
    '<xf numFmtId="170" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/></cellXfs>'
)


def prefixed(text, prefix):
    """Every element of the text with a prefix; attributes stay as they are."""
    return text.replace("</", "\0").replace("<", f"<{prefix}").replace("\0", f"</{prefix}")


def cell(name, value, style=0):
    look = f' s="{style}"' if style else ""
    if isinstance(value, str):
        return f'<c r="{name}"{look} t="inlineStr"><is><t>{value}</t></is></c>'
    return f'<c r="{name}"{look}><v>{value}</v></c>'


def lines(headings, rows, styled=True):
    heads = "".join(cell(f"{'ABCD'[at]}1", heading) for at, heading in enumerate(headings))
    body = f'<row r="1" spans="1:4">{heads}</row>'
    for number, row in enumerate(rows, 2):
        cells = "".join(
            cell(f"{'ABCD'[at]}{number}", value, 1 if at == 2 and styled else 0) for at, value in enumerate(row)
        )
        body += f'<row r="{number}" spans="1:4">{cells}</row>'
    return body


def book(body, prefix="", space=MAIN, office=OFFICE, styles=STYLES, absolute=False):
    name = f"xmlns:{prefix[:-1]}" if prefix else "xmlns"
    root = f'{name}="{space}" xmlns:r="{office}"'
    lead = "/xl/" if absolute else ""

    def part(tag, inside):
        whole = prefixed(f"<{tag}>{inside}</{tag}>", prefix)
        return HEAD + whole.replace(f"<{prefix}{tag}>", f"<{prefix}{tag} {root}>", 1)

    parts = {
        "[Content_Types].xml": f'{HEAD}<Types xmlns="{PACKAGE}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{TYPE}.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="{TYPE}.worksheet+xml"/>'
        + (f'<Override PartName="/xl/styles.xml" ContentType="{TYPE}.styles+xml"/>' if styles else "")
        + "</Types>",
        "_rels/.rels": f'{HEAD}<Relationships xmlns="{PACKAGE}/relationships"><Relationship Id="rId1" Type="{office}/officeDocument" Target="{lead or "xl/"}workbook.xml"/></Relationships>',
        "xl/workbook.xml": part("workbook", '<sheets><sheet name="Register" sheetId="7" r:id="rId1"/></sheets>'),
        "xl/_rels/workbook.xml.rels": f'{HEAD}<Relationships xmlns="{PACKAGE}/relationships"><Relationship Id="rId1" Type="{office}/worksheet" Target="{lead}worksheets/sheet1.xml"/>'
        + (f'<Relationship Id="rId2" Type="{office}/styles" Target="{lead}styles.xml"/>' if styles else "")
        + "</Relationships>",
        "xl/worksheets/sheet1.xml": part("worksheet", f"<sheetData>{body}</sheetData>"),
    }
    if styles:
        parts["xl/styles.xml"] = part("styleSheet", styles)
    return parts


def bare(headings, rows):
    """No styles, no shared texts, no references on rows and cells, every type of cell."""
    body = "<row>" + "".join(f'<c t="inlineStr"><is><t>{h}</t></is></c>' for h in headings) + "</row>"
    for device, site, replaced, uses in rows:
        body += f'<row><c t="str"><v>{device}</v></c><c t="inlineStr"><is><r><t>{site[:1]}</t></r><r><t>{site[1:]}</t></r><rPh sb="0" eb="1"><t>x</t></rPh></is></c><c><v>{replaced}</v></c><c><v>{uses}</v></c></row>'
    body += '<row/><row><c t="b"><v>1</v></c><c t="e"><v>#N/A</v></c><c t="d"><v>2024-02-29</v></c><c><v/></c><c t="str"><v>a_x000D_b &amp; <![CDATA[<c>]]></v></c></row>'
    return book(body, styles=None)


def books(headings, rows):
    same = lambda name: name
    body = lines(headings, rows)
    yield "prefixed.xlsx", book(body, prefix="x:"), same
    yield "strict.xlsx", book(body, space=STRICT, office=STRICT_OFFICE), same
    yield "bare.xlsx", bare(headings, rows), same
    wide = book(body)
    sheet = wide["xl/worksheets/sheet1.xml"].replace('encoding="UTF-8"', 'encoding="UTF-16"')
    wide["xl/worksheets/sheet1.xml"] = sheet.replace("D001", "D\u00e91").encode("utf-16")
    yield "utf16.xlsx", wide, same
    yield "backslash.xlsx", book(body, absolute=True), lambda name: name.replace("/", "\\")
    yield "shouting.xlsx", book(body), lambda name: name.upper() if name.startswith("xl/work") else name
