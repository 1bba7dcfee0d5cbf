"""How wide a text is, and where to break it.

The reader's fonts are not known here. Widths are those of a wide sans-serif in thousandths of the font size, so that a
text set in a narrower one leaves room and never runs out of its box.
"""

from __future__ import annotations

from unicodedata import combining, east_asian_width

_WIDTHS = {
    **dict.fromkeys("ijl'|", 290),
    **dict.fromkeys(" .,·", 330),
    **dict.fromkeys("ftrI:;/\\!-()[]{}J", 410),
    **dict.fromkeys("csz", 560),
    **dict.fromkeys("abdeghknopquvxyLF0123456789?_$*\"", 645),
    **dict.fromkeys("ABCDEGHKNOPQRSTUVXYZ&", 790),
    **dict.fromkeys("mwMW%@+=<>~#^–…", 1000),
}  # fmt: skip
_WIDE, _OTHER, _BOLD = 1000, 800, 1.09
_ELLIPSIS = "…"


def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """The most that ``text`` takes in a font of ``size``, in the unit of ``size``."""
    thousandths = sum(_character(each) for each in text)
    return thousandths * size * (_BOLD if bold else 1.0) / 1000


def wrapped(
    text: str, size: float, width: float, *, bold: bool = False, most: int = 5, indent: float = 0.0
) -> tuple[str, ...]:
    """``text`` in lines no wider than ``width``, broken between words, else within one; at most ``most`` lines.

    The first line is shorter by ``indent``, and empty where no word fits into it. White space counts as one blank.
    Where lines had to be dropped the last ends with an ellipsis. ``width`` has room for at least two characters of any
    kind.
    """
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if width_of(longer, size, bold=bold) <= width - (0.0 if lines else indent):
            line = longer
            continue
        if line or (indent and not lines):
            lines.append(line)
        *full, line = _pieces(word, size, width, bold)
        lines.extend(full)
        if len(lines) > most:
            break
    if line:
        lines.append(line)
    if len(lines) > most:
        room = width - (indent if most == 1 else 0.0)
        lines = [*lines[: most - 1], _shortened(lines[most - 1], size, room, bold)]
    return tuple(lines)


def _character(each: str) -> int:
    if each in _WIDTHS:
        return _WIDTHS[each]
    if combining(each):
        return 0
    return _WIDE if east_asian_width(each) in "WF" or ord(each) > 0xFFFF else _OTHER


def _pieces(word: str, size: float, width: float, bold: bool) -> list[str]:
    """``word`` cut wherever it would be wider than ``width``; the last piece may have room left."""
    pieces = [""]
    for each in word:
        if pieces[-1] and width_of(pieces[-1] + each, size, bold=bold) > width:
            pieces.append("")
        pieces[-1] += each
    return pieces


def _shortened(line: str, size: float, width: float, bold: bool) -> str:
    while line and width_of(line + _ELLIPSIS, size, bold=bold) > width:
        line = line[:-1]
    return line + _ELLIPSIS
