"""The picture of the classes of an area: a box a class, with what it leads to, and an arrow where that is in the area.

Narrow enough for a phone without being made smaller. Lengths are in CSS pixels, from the upper left corner.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from firstoff.authoring.glossary import Class, Use
from firstoff.sheet.layout import Edge, Layout, Place, Room, Route, laid_out
from firstoff.sheet.lettering import wrapped
from firstoff.sheet.words import sentence

#: Two boxes and the arrows beside them fit the 328 pixels that a narrow phone leaves.
_BOX, _BESIDE, _WIDEST = 148.0, 8.0, 324.0
_PAD, _MARGIN, _TIP = 7.0, 2.0, 7.0
_NAME, _NOTE, _LEADING = 14.0, 12.0, 1.25
#: Nearly every class names its source: said once beside the picture.
_EVERYWHERE = "source"


@dataclass(frozen=True, slots=True)
class Line:
    """A line of text whose baseline begins at (x, y)."""

    x: float
    y: float
    size: float
    text: str
    name: bool


@dataclass(frozen=True, slots=True)
class Box:
    """``anchor`` is the class's place within the page."""

    anchor: str
    label: str
    place: Place
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Arrow:
    path: str
    tip: str


@dataclass(frozen=True, slots=True)
class Figure:
    width: float
    height: float
    boxes: tuple[Box, ...]
    arrows: tuple[Arrow, ...]


def figure_of(classes: Sequence[Class], labels: dict[str, str]) -> Figure:
    """The classes in layers, so that an arrow leads down; ``labels`` are those of all classes."""
    texts = [_texts(each, labels) for each in classes]
    sizes = [(_BOX, sum(size * _LEADING for _, size in each) + 2 * _PAD) for each in texts]
    room = Room(beside=_BESIDE, between=26.0, widest=_WIDEST)
    layout = laid_out(sizes, [Edge(tail, head) for tail, head in arrows_of(classes)], room)
    return Figure(
        width=max(layout.width, _WIDEST) + 2 * _MARGIN,
        height=layout.height + 2 * _MARGIN,
        boxes=tuple(_box(*each) for each in zip(classes, texts, _moved(layout), strict=True)),
        arrows=tuple(_arrow(route, _left(layout)) for route in layout.routes),
    )


def arrows_of(classes: Sequence[Class]) -> list[tuple[int, int]]:
    """From each class to those it leads to, by number; none to itself, and none that would close a circle."""
    number = {each.term.name: at for at, each in enumerate(classes)}
    heads: dict[int, set[int]] = {at: set() for at in number.values()}
    for tail, each in enumerate(classes):
        for use in _leading(each):
            for head in (number[name] for name in use.column.classes if name in number):
                if tail not in _reached(heads, head):
                    heads[tail].add(head)
    return [(tail, head) for tail, found in heads.items() for head in sorted(found)]


def _reached(heads: dict[int, set[int]], start: int) -> set[int]:
    found, ahead = {start}, [start]
    while ahead:
        for each in heads[ahead.pop()] - found:
            found.add(each)
            ahead.append(each)
    return found


def _leading(each: Class) -> list[Use]:
    return [use for use in each.uses if use.column.classes and use.name != _EVERYWHERE]


def _texts(each: Class, labels: dict[str, str]) -> list[tuple[str, float]]:
    """The lines of a box with their sizes: the class, then each property with the classes it leads to."""
    room = _BOX - 2 * _PAD
    found = [(line, _NAME) for line in wrapped(sentence(each.term.label), _NAME, room, bold=True)]
    for use in _leading(each):
        heads = " / ".join(labels.get(name, name) for name in use.column.classes)
        said = use.column.title if use.column.title == heads else f"{use.column.title}: {heads}"
        found += [(line, _NOTE) for line in wrapped(said, _NOTE, room, most=6)]
    return found


def _left(layout: Layout) -> float:
    return _MARGIN + max(0.0, _WIDEST - layout.width) / 2


def _moved(layout: Layout) -> list[Place]:
    left = _left(layout)
    return [Place(each.x + left, each.y + _MARGIN, each.width, each.height, each.layer) for each in layout.places]


def _box(each: Class, texts: list[tuple[str, float]], place: Place) -> Box:
    lines = []
    at = place.y + _PAD
    for text, size in texts:
        lines.append(Line(place.x + _PAD, at + size, size, text, size == _NAME))
        at += size * _LEADING
    return Box(each.term.name, each.term.label, place, tuple(lines))


def _arrow(route: Route, left: float) -> Arrow:
    """Straight down beside boxes, gently across between layers, and a tip on the outline."""
    corners = [(x + left, y + _MARGIN) for x, y in route.corners]
    end_x, end_y = corners[-1]
    corners[-1] = (end_x, end_y - _TIP)
    said = [f"M{corners[0][0]:.1f} {corners[0][1]:.1f}"]
    for number, ((x0, y0), (x1, y1)) in enumerate(pairwise(corners)):
        half = (y0 + y1) / 2
        curved = f"C{x0:.1f} {half:.1f} {x1:.1f} {half:.1f} {x1:.1f} {y1:.1f}"
        said.append(curved if number % 2 else f"L{x1:.1f} {y1:.1f}")
    tip = f"{end_x - 4:.1f},{end_y - _TIP:.1f} {end_x + 4:.1f},{end_y - _TIP:.1f} {end_x:.1f},{end_y:.1f}"
    return Arrow(" ".join(said), tip)
