"""Whether a file is a workbook that may be opened: looked at as an archive before any of it is parsed.

XLSX is a ZIP archive of XML parts (ISO/IEC 29500-2). Nothing here follows a reference out of it.
"""

from __future__ import annotations

import zipfile
from pathlib import Path

from firstoff.errors import BadRequest

#: Bytes of the file, bytes of all its parts unpacked, and parts: far more than any machine needs.
MOST_PACKED, MOST_UNPACKED, MOST_PARTS = 20_000_000, 100_000_000, 2_000
_DECLARATIONS = ("<!DOCTYPE", "<!ENTITY")


def looked_over(path: Path) -> None:
    """
    :raises BadRequest: it is no workbook, it is too large packed or unpacked, it has macros, or a part declares
        entities.
    :raises OSError: it cannot be read.
    """
    if path.stat().st_size > MOST_PACKED:
        raise BadRequest(
            f"{path.name} has more than {MOST_PACKED // 1_000_000} MB.",
            mend="Look whether it is the right file; take pictures out of it.",
        )
    try:
        with zipfile.ZipFile(path) as archive:
            _parts(path.name, archive)
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, zipfile.zlib.error) as problem:  # type: ignore[attr-defined]
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


def _declares(content: bytes) -> bool:
    plain = content.replace(b"\x00", b"")  # UTF-16 has a nil byte beside each of these letters
    return any(each.encode() in plain for each in _DECLARATIONS)
