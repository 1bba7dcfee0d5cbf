"""Whether a file is a workbook that may be opened: looked at as an archive before any of it is parsed.

XLSX is a ZIP archive of XML parts (ISO/IEC 29500-2). Nothing here follows a reference out of it.
"""

from __future__ import annotations

import re
import zipfile
import zlib
from pathlib import Path

from firstoff.errors import BadRequest

#: Bytes of the file, bytes of all its parts unpacked, and parts: far more than any machine needs.
MOST_PACKED, MOST_UNPACKED, MOST_PARTS = 20_000_000, 100_000_000, 2_000
#: Cells that may be merged into others: a reader makes one of each.
MOST_MERGED = 100_000
_MERGED = re.compile(rb"mergeCell(?=[\s/>])[^>]*")
_AREA = re.compile(rb"""\bref\s*=\s*["']([A-Za-z]{1,3})(\d{1,7})(?::([A-Za-z]{1,3})(\d{1,7}))?["']""")
#: What the library raises for an archive that lies about where its parts are, among other things.
_NO_ARCHIVE = (zipfile.BadZipFile, zlib.error, NotImplementedError, RuntimeError, EOFError, ValueError, OSError)
_DECLARATIONS = ("<!DOCTYPE", "<!ENTITY")


def looked_over(path: Path) -> None:
    """
    :raises BadRequest: it is no workbook, it is too large packed or unpacked, it has macros, or a part declares
        entities or merges cells without measure.
    :raises OSError: it cannot be opened.
    """
    if path.stat().st_size > MOST_PACKED:
        raise BadRequest(
            f"{path.name} has more than {MOST_PACKED // 1_000_000} MB.",
            mend="Look whether it is the right file; take pictures out of it.",
        )
    with path.open("rb") as file:
        try:
            with zipfile.ZipFile(file) as archive:
                _parts(path.name, archive)
        except _NO_ARCHIVE as problem:
            raise BadRequest(
                f"{path.name} is no XLSX workbook, or is protected by a password.",
                mend="Save it as an XLSX workbook without a password.",
            ) from problem


def _parts(name: str, archive: zipfile.ZipFile) -> None:
    parts = archive.infolist()
    if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > MOST_UNPACKED:
        raise BadRequest(
            f"{name} unpacks to more than {MOST_UNPACKED // 1_000_000} MB or {MOST_PARTS} parts.",
            mend="Copy the sheets into a new workbook; delete rows and columns that only look empty.",
        )
    if any(part.filename.casefold().endswith("vbaproject.bin") for part in parts):
        raise BadRequest(f"{name} has macros in it.", mend="Save it as a workbook without macros (.xlsx).")
    left = MOST_UNPACKED
    for part in parts:
        with archive.open(part) as stream:
            content = stream.read(left + 1)
        left -= len(content)
        if left < 0:
            raise BadRequest(f"{name} unpacks to more than it says.", mend="Copy the sheets into a new workbook.")
        if part.filename.casefold().endswith((".xml", ".rels", ".vml")) and _declares(content):
            raise BadRequest(
                f"{name} declares entities in {part.filename}, which no spreadsheet program does.",
                mend="Copy the sheets into a new workbook.",
            )
        if _merged(content) > MOST_MERGED:
            raise BadRequest(
                f"{name} merges more than {MOST_MERGED} cells in {part.filename}.", mend="Part the merged cells."
            )


def _merged(content: bytes) -> int:
    """How many cells a sheet merges; more than may be where it cannot be told."""
    plain = content.replace(b"\x00", b"")
    cells = 0
    for each in _MERGED.findall(plain):
        area = _AREA.search(each)
        if area is None:
            return MOST_MERGED + 1
        left, top, right, bottom = area.groups()
        if right is not None:
            cells += (abs(_column(right) - _column(left)) + 1) * (abs(int(bottom) - int(top)) + 1)
    return cells


def _column(letters: bytes) -> int:
    number = 0
    for letter in letters.upper():
        number = number * 26 + letter - ord("A") + 1
    return number


def _declares(content: bytes) -> bool:
    plain = content.replace(b"\x00", b"")  # UTF-16 has a nil byte beside each of these letters
    return any(each.encode() in plain for each in _DECLARATIONS)
