"""Workbook files opened up: parts added, links made, texts changed; always the same bytes."""

import re
import zipfile

FIRST_DATE = (1980, 1, 1, 0, 0, 0)
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'


def read(path):
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def write(path, parts, rename=lambda name: name):
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            entry = zipfile.ZipInfo(rename(name), FIRST_DATE)
            entry.compress_type = zipfile.ZIP_DEFLATED
            # Written as given: on another system a backslash would be put right.
            entry.filename = rename(name)
            archive.writestr(entry, content if isinstance(content, bytes) else content.encode())


def add(parts, name, content, content_type=None):
    parts[name] = content
    if content_type:
        change(
            parts,
            "[Content_Types].xml",
            "</Types>",
            f'<Override PartName="/{name}" ContentType="{content_type}"/></Types>',
        )


def change(parts, name, old, new):
    content = parts[name]
    text = content.decode() if isinstance(content, bytes) else content
    assert old in text, f"{name} does not hold {old}"
    parts[name] = text.replace(old, new, 1)


def link(parts, source, kind, target, outside=False):
    folder, _, name = source.rpartition("/")
    path = f"{folder}/_rels/{name}.rels" if folder else f"_rels/{name}.rels"
    if path not in parts:
        parts[path] = f'{HEAD}<Relationships xmlns="{PACKAGE}/relationships"></Relationships>'
    content = parts[path]
    text = content.decode() if isinstance(content, bytes) else content
    number = 1 + max([0] + [int(n) for n in re.findall(r'Id="rId(\d+)"', text)])
    full = kind if kind.startswith("http") else f"{OFFICE}/{kind}"
    mode = ' TargetMode="External"' if outside else ""
    one = f'<Relationship Id="rId{number}" Type="{full}" Target="{target}"{mode}/>'
    parts[path] = text.replace("</Relationships>", one + "</Relationships>", 1)
    return f"rId{number}"
