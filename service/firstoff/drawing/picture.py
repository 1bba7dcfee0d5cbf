"""The single-line drawing of a supply as SVG. Lengths are in CSS pixels, from the upper left corner.

States are told by a word, by the style of the line and by colour, so that the drawing reads in black and white too.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from firstoff.drawing.folding import folding_of
from firstoff.drawing.marks import Mark, worst
from firstoff.drawing.placing import placed
from firstoff.drawing.supply import Row, Supply
from firstoff.drawing.symbols import Symbol
from firstoff.energy import PointCondition
from firstoff.sheet.lettering import width_of, wrapped
from firstoff.sheet.templating import rendered, text_of

_WIDTH = 360.0
_LEFT, _COLUMN, _MARGIN = 20.0, 20.0, 8.0
_SYMBOL = 24.0
_GAP, _ELBOW = 18.0, 13.0
_BESIDE = 17.0
_NARROWEST = 170.0
_TITLE, _NAME, _NOTE = 14.0, 12.0, 10.5
_LEADING = 1.25
_BADGE_PAD, _BADGE_HEIGHT = 4.0, 15.0
_MOST_LINES = 4
_TURN = 26.0

#: More columns than this are no use on paper.
MOST_COLUMNS = 3

NOTICE = "Unknown is never safe. Prove dead before you touch. Local codes and licensed practice come first."

_SYMBOLS = (
    (Symbol.ISOLATOR, "isolating device: bar on its contact"),
    (Symbol.CONTROL, "control: never counts as isolation"),
    (Symbol.COUPLING, "separated: transformer or converter, no conducting path"),
)


@dataclass(frozen=True, slots=True)
class Line:
    """A line of text whose baseline begins at (x, y)."""

    x: float
    y: float
    size: float
    text: str
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Badge:
    """The word of a state in its frame."""

    x: float
    y: float
    width: float
    height: float
    style: str
    line: Line


@dataclass(frozen=True, slots=True)
class Stroke:
    """A piece of a line: where it runs, and the state that it is drawn in."""

    path: str
    mark: Mark


@dataclass(frozen=True, slots=True)
class Tally:
    """Strokes across a line that tell its conductors, with a figure where they are many."""

    path: str
    figure: Line | None


@dataclass(frozen=True, slots=True)
class Figure:
    """A symbol with its upper end at (x, y), and all that is written beside it."""

    x: float
    y: float
    row: Row
    lines: tuple[Line, ...]
    badge: Badge
    tally: Tally | None
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Drawing:
    """All coordinates of a picture."""

    width: float
    height: float
    head: tuple[Line, ...]
    legend: tuple[Badge, ...]
    samples: tuple[tuple[float, float, Symbol, bool], ...]
    strokes: tuple[Stroke, ...]
    figures: tuple[Figure, ...]
    foot: tuple[Line, ...]


def picture(supply: Supply, *, columns: int = 1) -> str:
    """``supply`` as an SVG document, in one column for a phone or in more for paper.

    Raises ``ValueError`` for columns below 1 or above ``MOST_COLUMNS``.
    """
    return str(
        rendered(
            "supply.svg",
            drawing=drawing_of(supply, columns),
            supply=supply,
            notice=NOTICE,
            said=sentences(supply),
            style=picture_style(),
        )
    )


def picture_style() -> Markup:
    """The style of every drawing of a supply."""
    return text_of("supply.css")


def sentences(supply: Supply) -> list[str]:
    """The drawing in words, a sentence for each row from the sources to the loads."""
    order, _ = placed([row.parent for row in supply.rows])
    said = []
    for number in order:
        row = supply.rows[number]
        above = f" from {supply.rows[row.parent].text}" if row.parent >= 0 else ""
        said.append(f"{'; '.join([f'{row.text}{above}: {row.line.word}', *_notes(row)])}.")
    return said


def drawing_of(supply: Supply, columns: int = 1) -> Drawing:
    """Where everything is, in so many ``columns`` side by side; a line that goes on in the next one is taken up there.

    Raises ``ValueError`` for columns below 1 or above ``MOST_COLUMNS``.
    """
    if not 1 <= columns <= MOST_COLUMNS:
        raise ValueError(f"the drawing has 1 to {MOST_COLUMNS} columns, not {columns}")
    order, depths = placed([row.parent for row in supply.rows])
    width = max(_WIDTH, _x(max(depths, default=0)) + _BESIDE + _NARROWEST + _MARGIN)
    head, legend, top = _head(supply, width * columns)
    figures: dict[int, Figure] = {}
    at = 0.0
    for number in order:
        figures[number] = _figure(supply.rows[number], _x(depths[number]), at, width)
        at += figures[number].height + _GAP
    runs = [run for number in order for run in _runs(number, order, supply.rows, figures)]
    folding = folding_of([figures[number].y for number in order], at, columns, above=_GAP - 1)
    strokes = [Stroke(path, run.mark) for run in runs for path in folding.paths(run.corners, width, top)]
    moved = [_moved(figures[number], *folding.shift(figures[number].y, width, top)) for number in order]
    turns = tuple(
        Line(_LEFT + 8 + x, y + 14, _NOTE, "goes on in the next column") for x, y in folding.turns(width, top)
    )
    foot, samples, height = _foot(supply, top + folding.height + (_TURN if turns else 0.0), width * columns)
    return Drawing(width * columns, height, head, legend, samples, tuple(strokes), tuple(moved), (*turns, *foot))


def _moved(figure: Figure, right: float, down: float) -> Figure:
    """``figure`` elsewhere, with all that is written beside it."""

    def line(each: Line) -> Line:
        return replace(each, x=each.x + right, y=each.y + down)

    badge, tally = figure.badge, figure.tally
    return replace(
        figure,
        x=figure.x + right,
        y=figure.y + down,
        lines=tuple(map(line, figure.lines)),
        badge=replace(badge, x=badge.x + right, y=badge.y + down, line=line(badge.line)),
        tally=None if tally is None else _tally(figure.row, figure.x + right, figure.y + down),
    )


def _x(column: int) -> float:
    return _LEFT + column * _COLUMN


def _head(supply: Supply, width: float) -> tuple[tuple[Line, ...], tuple[Badge, ...], float]:
    room = width - 2 * _MARGIN
    lines: list[Line] = []
    at = _MARGIN
    for text, size, bold in (
        (f"Supply of {supply.title}", _TITLE, True),
        (supply.situation, _NAME, True),
        (f"Revision {supply.revision}.", _NOTE, False),
        (NOTICE, _NOTE, False),
    ):
        for piece in wrapped(text, size, room, bold=bold, most=_MOST_LINES):
            lines.append(Line(_MARGIN, at + size, size, piece, bold))
            at += size * _LEADING
    at += 6
    legend = []
    for number, condition in enumerate(PointCondition):
        x = _MARGIN + 34 + (number % 2) * room / 2
        y = at + (number // 2) * 22
        legend.append(_badge(Mark(condition, "", frozenset()), x, y, room))
    return tuple(lines), tuple(legend), at + 2 * 22 + 14


def _foot(
    supply: Supply, at: float, width: float
) -> tuple[tuple[Line, ...], tuple[tuple[float, float, Symbol, bool], ...], float]:
    lines: list[Line] = []
    samples = []
    for symbol, text in _SYMBOLS:
        if any(row.symbol is symbol for row in supply.rows):
            samples.append((_LEFT, at, symbol, False))
            for number, piece in enumerate(wrapped(text, _NOTE, width - 52, most=2)):
                lines.append(Line(44, at + 12 + number * _NOTE * _LEADING, _NOTE, piece))
            at += 31
    text = "Strokes across a line: so many conductors run together. Returns are drawn with what they return from."
    for piece in wrapped(text, _NOTE, width - 2 * _MARGIN, most=3):
        lines.append(Line(_MARGIN, at + _NOTE, _NOTE, piece))
        at += _NOTE * _LEADING
    return tuple(lines), tuple(samples), at + _MARGIN


def _badge(mark: Mark, x: float, y: float, room: float) -> Badge:
    text = wrapped(mark.word, _NOTE, room - 2 * _BADGE_PAD, bold=True, most=1)[0]
    wide = width_of(text, _NOTE, bold=True) + 2 * _BADGE_PAD
    line = Line(x + _BADGE_PAD, y + 11, _NOTE, text, bold=True)
    return Badge(x, y, wide, _BADGE_HEIGHT, mark.style, line)


def _notes(row: Row) -> list[str]:
    said = []
    if row.opened is not None:
        kind = "isolating device" if row.isolating else "control"
        said.append(f"{kind}, {'OPEN' if row.opened else 'closed'}")
    if row.beyond is not None:
        said.append(f"beyond it: {row.beyond.word}")
    if row.inside is not None and row.inside.look != row.line.look:
        said.append(f"inside and beyond: {row.inside.word}")
    said += [f"joined to {name} too: {mark.word}" for name, mark in row.aside]
    return [*said, *row.notes]


def _figure(row: Row, x: float, y: float, width: float) -> Figure:
    """The symbol with its name, its state and its notes to the right."""
    left = x + _BESIDE
    room = width - _MARGIN - left
    lines = []
    at = y
    for piece in wrapped(row.text, _NAME, room, bold=True, most=_MOST_LINES) or ("?",):
        lines.append(Line(left, at + _NAME, _NAME, piece, bold=True))
        at += _NAME * _LEADING
    badge = _badge(row.line, left, at + 1, room)
    at += _BADGE_HEIGHT + 3
    notes = _notes(row)
    beside = badge.x + badge.width + 6
    if notes and beside + width_of(notes[0], _NOTE) <= width - _MARGIN:
        lines.append(Line(beside, badge.line.y, _NOTE, notes.pop(0)))
    for note in notes:
        strong = note.startswith(("STORED", "beyond it"))
        for piece in wrapped(note, _NOTE, room, bold=strong, most=_MOST_LINES):
            lines.append(Line(left, at + _NOTE, _NOTE, piece, strong))
            at += _NOTE * _LEADING
    tally = _tally(row, x, y) if row.parent >= 0 and row.conductors > 1 else None
    return Figure(x, y, row, tuple(lines), badge, tally, width - _MARGIN - x, max(_SYMBOL, at - y))


def _tally(row: Row, x: float, y: float) -> Tally:
    """Short strokes, or one with a figure where there are more than three."""
    count = row.conductors if row.conductors <= 3 else 1
    first = y - 5.5 - (count - 1) * 1.75
    path = " ".join(f"M{x - 5:.1f} {first + 3.5 * number + 2:.1f}l10 -4" for number in range(count))
    figure = Line(x + 8, y - 2, 9.0, str(row.conductors)) if row.conductors > 3 else None
    return Tally(path, figure)


@dataclass(frozen=True, slots=True)
class _Run:
    """A piece of a line by its corners, before it is folded into columns."""

    corners: tuple[tuple[float, float], ...]
    mark: Mark


def _runs(number: int, order: Sequence[int], rows: Sequence[Row], figures: dict[int, Figure]) -> Iterable[_Run]:
    """The trunk below a symbol and the branches to its right; a piece of trunk is as bad as the worst that it feeds."""
    below = [each for each in order if rows[each].parent == number]
    x, at = figures[number].x, figures[number].y + _SYMBOL
    for turn, each in enumerate(below):
        figure, mark = figures[each], rows[each].line
        elbow = figure.y - _ELBOW
        if figure.x == x:
            yield _Run(((x, at), (x, figure.y)), mark)
            continue
        yield _Run(((x, at), (x, elbow)), worst([rows[other].line for other in below[turn:]]))
        yield _Run(((x, elbow), (figure.x, elbow), (figure.x, figure.y)), mark)
        at = elbow
