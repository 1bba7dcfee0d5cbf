"""Files that are sent as workbooks: no zip, a zip that lies, XML that reaches out, sheets out of all measure."""

from __future__ import annotations

import io
import struct
import warnings
import zipfile

from hostile.inputs import CHECK, WORKBOOK, Hostile, posting

_TYPES = (
    '<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="xml" ContentType="application/xml"/>'
    '<Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.'
    'sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-'
    'officedocument.spreadsheetml.worksheet+xml"/></Types>'
)
_RELATIONS = (
    '<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    '<Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/{kind}" '
    'Target="{target}"{more}/></Relationships>'
)
_BOOK = (
    '<?xml version="1.0"?>{doctype}<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" '
    'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="{name}" '
    'sheetId="1" r:id="r1"/></sheets></workbook>'
)
_SHEET = (
    '<?xml version="1.0"?>{doctype}<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
    "{before}<sheetData>{rows}</sheetData></worksheet>"
)
_ROW = '<row r="1"><c r="A1" t="inlineStr"><is><t>{}</t></is></c></row>'
_OUTSIDE = '<!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/passwd">]>'
_LAUGHS = "<!DOCTYPE a [<!ENTITY b0 'ha'>" + "".join(
    f"<!ENTITY b{n} '{f'&b{n - 1};' * 10}'>" for n in range(1, 10)
) + "]>"  # fmt: skip


def _zipped(parts: dict[str, str | bytes], method: int = zipfile.ZIP_DEFLATED) -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", method) as package:
        for name, content in parts.items():
            package.writestr(name, content)
    return held.getvalue()


def _book(**changed: str | bytes) -> bytes:
    """A workbook of one sheet, with some of its parts replaced; a part that becomes empty is left out."""
    parts: dict[str, str | bytes] = {
        "[Content_Types].xml": _TYPES,
        "_rels/.rels": _RELATIONS.format(kind="officeDocument", target="xl/workbook.xml", more=""),
        "xl/workbook.xml": _BOOK.format(doctype="", name="Platform"),
        "xl/_rels/workbook.xml.rels": _RELATIONS.format(kind="worksheet", target="worksheets/sheet1.xml", more=""),
        "xl/worksheets/sheet1.xml": _SHEET.format(doctype="", before="", rows=_ROW.format("slug")),
    }
    named = {
        "types": "[Content_Types].xml",
        "root": "_rels/.rels",
        "book": "xl/workbook.xml",
        "relations": "xl/_rels/workbook.xml.rels",
        "sheet": "xl/worksheets/sheet1.xml",
    }
    parts |= {named.get(name, name): content for name, content in changed.items()}
    return _zipped({name: content for name, content in parts.items() if content != ""})


def _sheet(rows: str = "", before: str = "", doctype: str = "") -> bytes:
    return _book(sheet=_SHEET.format(doctype=doctype, before=before, rows=rows))


def _lying(sound: bytes, size: int) -> bytes:
    """The directory says that the first entry has another size than it has."""
    at = sound.index(b"PK\x01\x02")
    return sound[: at + 24] + struct.pack("<I", size) + sound[at + 28 :]


def _twice() -> bytes:
    held = io.BytesIO()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        with zipfile.ZipFile(held, "w") as package:
            package.writestr("xl/workbook.xml", _BOOK.format(doctype="", name="A"))
            package.writestr("xl/workbook.xml", _BOOK.format(doctype="", name="B"))
    return held.getvalue()


_SOUND = _book()
_FILES: dict[str, bytes] = {
    "nothing": b"",
    "a byte": b"P",
    "no zip": b"slug,label\nx,y\n",
    "the old format": bytes.fromhex("d0cf11e0a1b11ae1") + b"\x00" * 2_000,
    "the end of a zip alone": b"PK\x05\x06" + b"\x00" * 18,
    "an empty zip": _zipped({}),
    "the first half": _SOUND[: len(_SOUND) // 2],
    "the second half": _SOUND[len(_SOUND) // 2 :],
    "noise before it": b"noise" * 1_000 + _SOUND,
    "noise behind it": _SOUND + b"noise" * 20_000,
    "a flipped byte": _SOUND[:200] + bytes([_SOUND[200] ^ 255]) + _SOUND[201:],
    "a size of 4 GB": _lying(_SOUND, 0xFFFFFFFF),
    "a size of nothing": _lying(_SOUND, 0),
    "entries twice": _twice(),
    "a path that leaves": _book(**{"../../../../tmp/firstoff-was-here": "x"}),
    "a path from the root": _book(**{"/etc/firstoff-was-here": "x"}),
    "a name with a null": _book(**{"xl/a\x00b.xml": "x"}),
    "ten thousand parts": _zipped({f"xl/part{n}.xml": "x" for n in range(10_000)}, zipfile.ZIP_STORED),
    "a part of 50 MB in 50 kB": _zipped({"[Content_Types].xml": _TYPES, "xl/sharedStrings.xml": b"\0" * 50_000_000}),
    "two hundred thousand rows": _sheet("<row/>" * 200_000),
    "a zip in a zip": _zipped({"xl/workbook.xml": _SOUND, "a.xlsx": _SOUND}),
    "no types": _book(types=""),
    "no relations": _book(root=""),
    "no book": _book(book=""),
    "no sheet": _book(sheet=""),
    "a book that is no XML": _book(book="not XML <"),
    "a sheet that is no XML": _book(sheet=b"\x00\x01\x02"),
    "a sheet that never ends": _book(sheet=_SHEET.split("{rows}")[0].replace("{doctype}{", "").replace("{before}", "")),
    "an entity from outside": _sheet(_ROW.format("&b;"), doctype=_OUTSIDE),
    "an entity from outside in the book": _book(book=_BOOK.format(doctype=_OUTSIDE, name="&b;")),
    "a billion laughs": _sheet(_ROW.format("&b9;"), doctype=_LAUGHS),
    "a billion laughs in the book": _book(book=_BOOK.format(doctype=_LAUGHS, name="&b9;")),
    "XML a hundred thousand deep": _sheet("<row>" * 100_000),
    "a relation to elsewhere": _book(
        relations=_RELATIONS.format(kind="worksheet", target="http://127.0.0.1:1/sheet.xml",
        more=' TargetMode="External"')
    ),
    "a relation out of the package": _book(
        relations=_RELATIONS.format(kind="worksheet", target="../../../../etc/passwd", more="")
    ),
    "a relation to itself": _book(relations=_RELATIONS.format(kind="worksheet", target="../xl/workbook.xml", more="")),
    "a million rows and columns declared": _sheet(before='<dimension ref="A1:XFD1048576"/>'),
    "a row of number a billion": _sheet('<row r="1000000000"><c r="A1000000000"><v>1</v></c></row>'),
    "a row of number nothing": _sheet('<row r="0"><c r="A0"><v>1</v></c></row>'),
    "a row of no number": _sheet('<row r="x"><c r="??"><v>1</v></c></row>'),
    "a column beyond the last": _sheet('<row r="1"><c r="ZZZZZZZ1"><v>1</v></c></row>'),
    "a text that is not there": _sheet('<row r="1"><c r="A1" t="s"><v>99</v></c></row>'),
    "a number of no value": _sheet('<row r="1"><c r="A1" t="n"><v>1e999</v></c><c r="B1"><v>x</v></c></row>'),
    "a date of no calendar": _sheet('<row r="1"><c r="A1" t="d"><v>2026-02-30</v></c></row>'),
    "a date before all days": _sheet('<row r="1"><c r="A1" s="14"><v>-99999999999</v></c></row>'),
    "a formula": _sheet('<row r="1"><c r="A1"><f>WEBSERVICE("http://127.0.0.1:1/")</f><v>1</v></c></row>'),
    "a cell of 300 kB": _sheet(_ROW.format("a" * 300_000)),
    "cells of a style nobody has": _sheet('<row r="1"><c r="A1" s="9999"><v>1</v></c></row>'),
    "cells merged over everything": _sheet(
        _ROW.format("slug") + "</sheetData><mergeCells><mergeCell ref='A1:XFD99999'/></mergeCells><sheetData>"
    ),
    "a sheet with no name": _book(book=_BOOK.format(doctype="", name="")),
    "a sheet with a name of 10 kB": _book(book=_BOOK.format(doctype="", name="a" * 10_000)),
    "a sheet named by a path": _book(book=_BOOK.format(doctype="", name="../../etc/passwd")),
}  # fmt: skip

WORKBOOKS: list[Hostile] = [posting(CHECK, content, WORKBOOK, name=name) for name, content in _FILES.items()]
