"""The picture of a plan as SVG, drawn from its diagram.

The plan's way is told from the rest by thick unbroken outlines and arrows and by step numbers, the target by a double
outline and a word, so that it reads in black and white. Lengths are in CSS pixels.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from markupsafe import Markup

from firstoff.sheet.diagram import Box, Diagram
from firstoff.sheet.layout import Edge, Layout, Place, Route, laid_out
from firstoff.sheet.lettering import width_of, wrapped
from firstoff.sheet.templating import rendered, text_of

_WIDTH = 120.0
_PAD = 6.0
_MARGIN = 6.0
_NARROWEST = 340.0
_TIP = 7.0
_DOUBLE = 4.0
_NAME, _WAY, _NOTE, _FOOT = 11.5, 10.5, 10.0, 10.0
_LEADING = 1.25
_BADGE = 16.0
_CHARACTERS = 300

#: What stands below every picture: a sample and what it means.
_LEGEND = (
    ("taken", "in this plan, with its step"),
    ("target", "target: double outline"),
    ("off", "off already"),
    ("other", "for other ways only"),
    ("taken way", "way this plan takes"),
    ("other way", "other way, not taken"),
)


@dataclass(frozen=True, slots=True)
class Line:
    """A line of text whose baseline begins at (x, y)."""

    x: float
    y: float
    size: float
    text: str
    bold: bool = False
    light: bool = False


@dataclass(frozen=True, slots=True)
class Badge:
    x: float
    y: float
    width: float
    height: float
    line: Line


@dataclass(frozen=True, slots=True)
class Shape:
    """A box with all that is written in it; ``whole`` is its text uncut."""

    x: float
    y: float
    width: float
    height: float
    corner: float
    kind: str
    taken: bool
    target: bool
    off: bool
    lines: tuple[Line, ...]
    badge: Badge | None
    whole: str


@dataclass(frozen=True, slots=True)
class Stroke:
    """An arrow: its path and the corners of its tip."""

    path: str
    tip: str
    taken: bool


@dataclass(frozen=True, slots=True)
class Drawing:
    """All coordinates of a picture, from the upper left corner (0, 0)."""

    width: float
    height: float
    shapes: tuple[Shape, ...]
    strokes: tuple[Stroke, ...]
    legend: tuple[Shape, ...]
    foot: tuple[Line, ...]


def picture(diagram: Diagram, *, inline: bool = False) -> str:
    """``diagram`` as an SVG document, or as an element for a page that has the picture's style already."""
    said = rendered("picture.svg", drawing=drawing_of(diagram), diagram=diagram, inline=inline, style=picture_style())
    return str(said)


def picture_style() -> Markup:
    """The style of every picture."""
    return text_of("picture.css")


def drawing_of(diagram: Diagram) -> Drawing:
    """Where everything is."""
    sizes = [(_WIDTH, _height(box)) for box in diagram.boxes]
    layout = laid_out(sizes, [Edge(arrow.tail, arrow.head, int(arrow.taken)) for arrow in diagram.arrows])
    width = max(layout.width, _NARROWEST)
    left = _MARGIN + (width - layout.width) / 2
    shapes = tuple(_shape(box, place, left, _MARGIN) for box, place in zip(diagram.boxes, layout.places, strict=True))
    strokes = tuple(
        _stroke(route, arrow.taken, diagram.boxes[arrow.head].target, left, _MARGIN)
        for route, arrow in zip(layout.routes, diagram.arrows, strict=True)
    )
    legend, foot, height = _foot(diagram, width, layout)
    return Drawing(width + 2 * _MARGIN, height + _MARGIN, shapes, strokes, legend, foot)


def _badge_text(box: Box) -> str:
    return "+".join(str(step) for step in box.steps[:2]) + ("+" if len(box.steps) > 2 else "")


def _badge_width(box: Box) -> float:
    return max(_BADGE, width_of(_badge_text(box), _NAME, bold=True) + 6) if box.steps else 0.0


def _texts(box: Box) -> list[tuple[str, float, bool, bool]]:
    """The lines written in a box: text, size, bold, light."""
    way = box.kind == "way"
    size = _WAY if way else _NAME
    room = _WIDTH - 2 * _PAD
    bold = box.taken and not way
    first = wrapped(_cut(box.text), size, room, bold=bold, indent=_indent(box))
    light = not (box.taken or box.off)
    found = [(line, size, bold, light) for line in first or ("?",)]
    for note in box.notes:
        strong = note.startswith("target:")
        lines = wrapped(_cut(note), _NOTE, room, bold=strong, most=3)
        found += [(line, _NOTE, strong, light and not strong) for line in lines]
    return found


def _indent(box: Box) -> float:
    """How much the number of the step takes of the first line."""
    return _badge_width(box) + 4 if box.steps else 0.0


def _cut(text: str) -> str:
    return text if len(text) <= _CHARACTERS else text[: _CHARACTERS - 1] + "…"


def _height(box: Box) -> float:
    return round(sum(size * _LEADING for _, size, _, _ in _texts(box)) + 2 * _PAD, 1)


def _shape(box: Box, place: Place, left: float, top: float) -> Shape:
    x, y = left + place.x, top + place.y
    inset = _indent(box)
    lines = []
    at = y + _PAD
    for text, size, bold, light in _texts(box):
        lines.append(Line(x + _PAD + inset, at + size, size, text, bold, light))
        at += size * _LEADING
        inset = 0.0
    badge = None
    if box.steps:
        wide = _badge_width(box)
        text = _badge_text(box)
        inside = x + _PAD + (wide - width_of(text, _NAME, bold=True)) / 2
        badge = Badge(x + _PAD - 2, y + _PAD - 2, wide, _BADGE, Line(inside - 2, y + _PAD + 10, _NAME, text, bold=True))
    whole = "; ".join([*(f"step {step}" for step in box.steps), box.text, *box.notes])
    corner = 12.0 if box.kind == "way" else 8.0 if box.kind == "state" else 2.0
    return Shape(
        x, y, place.width, place.height, corner, box.kind, box.taken, box.target, box.off, tuple(lines), badge, whole
    )


def _stroke(route: Route, taken: bool, to_target: bool, left: float, top: float) -> Stroke:
    """Straight down beside boxes, gently across between layers, and a tip at the end, on the outline."""
    corners = [(x + left, y + top) for x, y in route.corners]
    end_x, end_y = corners[-1][0], corners[-1][1] - (_DOUBLE if to_target else 0.0)
    corners[-1] = (end_x, end_y - _TIP)
    said = [f"M{corners[0][0]:.1f} {corners[0][1]:.1f}"]
    for number, ((x0, y0), (x1, y1)) in enumerate(pairwise(corners)):
        if number % 2 == 0 or abs(x1 - x0) < 0.05:
            said.append(f"L{x1:.1f} {y1:.1f}")
        else:
            half = (y0 + y1) / 2
            said.append(f"C{x0:.1f} {half:.1f} {x1:.1f} {half:.1f} {x1:.1f} {y1:.1f}")
    tip = f"{end_x - 4:.1f},{end_y - _TIP:.1f} {end_x + 4:.1f},{end_y - _TIP:.1f} {end_x:.1f},{end_y:.1f}"
    return Stroke(" ".join(said), tip, taken)


def _foot(diagram: Diagram, width: float, layout: Layout) -> tuple[tuple[Shape, ...], tuple[Line, ...], float]:
    """Legend and explanations below the boxes, and where they end."""
    at = _MARGIN + layout.height + 18
    columns = max(1, int(width // 210))
    legend = []
    lines = []
    for number, (kind, text) in enumerate(_used(diagram.boxes)):
        x = _MARGIN + (number % columns) * (width / columns)
        y = at + (number // columns) * 20
        legend.append(_sample(kind, x, y))
        lines.append(Line(x + 38, y + 10, _FOOT, text))
    if legend:
        at += -(-len(legend) // columns) * 20 + 2
    for text in (*diagram.keys, *diagram.left_out):
        for line in wrapped(text, _FOOT, width, most=4):
            lines.append(Line(_MARGIN, at + _FOOT, _FOOT, line))
            at += _FOOT * _LEADING
    return tuple(legend), tuple(lines), at


def _used(boxes: Sequence[Box]) -> Iterable[tuple[str, str]]:
    """The lines of the legend that the picture has use for."""
    there = {
        "taken": any(box.steps and box.kind != "way" for box in boxes),
        "target": any(box.target for box in boxes),
        "off": any(box.off for box in boxes),
        "other": any(not box.taken and not box.off and box.kind != "way" for box in boxes),
        "taken way": any(box.taken and box.kind == "way" for box in boxes),
        "other way": any(not box.taken and box.kind == "way" for box in boxes),
    }
    return [each for each in _LEGEND if there[each[0]]]


def _sample(kind: str, x: float, y: float) -> Shape:
    way = kind.endswith("way")
    taken = kind in ("taken", "target", "taken way")
    badge = Badge(x + 2.5, y + 2, 10, 9, Line(x + 5, y + 9.5, 8.0, "1", bold=True)) if kind == "taken" else None
    return Shape(
        x, y, 28, 13, 6.5 if way else 2, "way" if way else "part", taken, kind == "target", kind == "off", (), badge, ""
    )
