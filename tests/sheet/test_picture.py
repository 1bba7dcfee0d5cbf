"""The picture as SVG: well formed, whole, legible without colour, and told in words too."""

from __future__ import annotations

from itertools import combinations
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.answers.desk import Desk
from firstoff.sheet import Diagram, picture
from firstoff.sheet.diagram import Arrow, Box
from firstoff.sheet.lettering import width_of
from firstoff.sheet.picture import drawing_of
from firstoff_contract.removal import PlanRequest

SVG = "{http://www.w3.org/2000/svg}"
JOBS = [
    ("tgd27-460-s", "drum-belt"),
    ("tgd27-460-s", "terminal-block:live-test"),
    ("tgd27-460-s", "centrifugal-switch"),
    ("tgd27-460-s", "lint-filter:inspect"),
    ("flb-316-t", "compressor-high-capacity"),
    ("flb-316-t", "evaporator"),
    ("flb-316-t", "lower-hinge"),
]


@st.composite
def diagrams(draw: st.DrawFn) -> Diagram:
    """Boxes with any text in them, and arrows that form no circle."""
    text = st.text(max_size=60)
    count = draw(st.integers(1, 10))
    boxes = tuple(
        Box(
            kind=draw(st.sampled_from(["part", "state", "way"])),
            text=draw(text),
            notes=tuple(draw(st.lists(text, max_size=3))),
            steps=tuple(draw(st.lists(st.integers(1, 999), max_size=3))),
            taken=draw(st.booleans()),
            target=draw(st.booleans()),
            off=draw(st.booleans()),
        )
        for _ in range(count)
    )
    pairs = list(combinations(range(count), 2))
    chosen = draw(st.lists(st.sampled_from(pairs), unique=True, max_size=15)) if pairs else []
    arrows = tuple(Arrow(a, b, draw(st.booleans())) for a, b in chosen)
    said = draw(st.lists(text, max_size=3))
    return Diagram(draw(text), boxes, arrows, tuple(said), tuple(said))


def texts(root: ElementTree.Element) -> list[tuple[float, float, float, str]]:
    found = []
    for each in root.iter(f"{SVG}text"):
        bold = each.get("font-weight") == "bold"
        width = width_of(each.text or "", float(each.get("font-size", "0")), bold=bold)
        found.append((float(each.get("x", "nan")), float(each.get("y", "nan")), width, each.text or ""))
    return found


@given(diagrams())
def test_all_labels_are_inside_the_view_box(diagram: Diagram) -> None:
    root = ElementTree.fromstring(picture(diagram))
    left, top, width, height = map(float, root.get("viewBox", "").split())
    assert (left, top) == (0, 0)
    for x, y, wide, text in texts(root):
        assert x >= 0, text
        assert x + wide <= width + 0.1, text
        assert 0 < y < height, text
    for each in root.iter(f"{SVG}rect"):
        if each.get("class") != "ground":
            assert float(each.get("x", "nan")) >= 0
            assert float(each.get("x", "nan")) + float(each.get("width", "nan")) <= width + 0.1


@given(diagrams())
def test_every_text_is_inside_its_box(diagram: Diagram) -> None:
    for shape in drawing_of(diagram).shapes:
        for line in shape.lines:
            assert shape.x < line.x
            wide = width_of(line.text, line.size, bold=line.bold)
            assert line.x + wide < shape.x + shape.width or len(line.text) <= 1
            assert shape.y < line.y - line.size * 0.7
            assert line.y < shape.y + shape.height


@given(diagrams())
def test_it_says_what_it_is(diagram: Diagram) -> None:
    root = ElementTree.fromstring(picture(diagram))
    assert root.get("role") == "img"
    named = {each.get("id"): each for each in root if each.get("id")}
    title, desc = (named[name] for name in root.get("aria-labelledby", "").split())
    assert title.tag == f"{SVG}title"
    assert (title.text or "").startswith("What comes off first")
    assert desc.tag == f"{SVG}desc"
    assert [each.tag for each in root][:2] == [f"{SVG}title", f"{SVG}desc"]


def test_hostile_texts_stay_texts() -> None:
    hostile = '</title><script>alert("&")</script>\x0b\x00\u202e'
    box = Box("part", hostile, (hostile,), (1,), taken=True, target=True)
    root = ElementTree.fromstring(picture(Diagram(hostile, (box,), (), (hostile,), (hostile,))))
    assert not list(root.iter(f"{SVG}script"))
    assert '</title><script>alert("&")' in (root[0].text or "")
    assert "\ufffd" in (root[0].text or "")


@pytest.mark.parametrize(("model", "reach"), JOBS)
def test_the_way_is_told_by_more_than_colour(desk: Desk, model: str, reach: str) -> None:
    """Taken boxes and arrows are thick and unbroken, others thin and dashed; removals carry their numbers."""
    job = desk.job_sheet(model, PlanRequest(reach=[reach]))
    root = ElementTree.fromstring(picture(job.diagram))
    for each in [*root.iter(f"{SVG}rect"), *root.iter(f"{SVG}path")]:
        kind = (each.get("class") or "").split()
        if kind[0] in ("box", "arrow") and "double" not in kind:
            taken = "taken" in kind
            assert (float(each.get("stroke-width", "0")) > 2) == taken
            assert (each.get("stroke-dasharray") is None) == (taken or "off" in kind)
    numbers = {each.text for each in root.iter(f"{SVG}text") if "number" in (each.get("class") or "")}
    removals = [str(step.n) for step in job.plan.steps if step.action == "remove"]
    said = {part for number in numbers for part in (number or "").split("+")}
    assert set(removals) <= said
    assert sum("double" in (each.get("class") or "") for each in root.iter(f"{SVG}rect")) == 2  # target and legend


def test_what_is_off_already_is_told_from_what_other_ways_need(desk: Desk) -> None:
    job = desk.job_sheet("tgd27-460-s", PlanRequest(reach=["drum-belt"], off=["back-panel", "transition-duct"]))
    root = ElementTree.fromstring(picture(job.diagram))
    off = [each for each in root.iter(f"{SVG}rect") if "off" in (each.get("class") or "").split()]
    assert len(off) == 2  # the back panel and the legend
    assert {each.get("stroke-dasharray") for each in off} == {None}
    assert "off already" in [each.text for each in root.iter(f"{SVG}text")]


@pytest.mark.parametrize(("model", "reach"), JOBS)
def test_the_words_say_the_same(desk: Desk, model: str, reach: str) -> None:
    diagram = desk.job_sheet(model, PlanRequest(reach=[reach])).diagram
    said = " ".join(diagram.words)
    for box in diagram.boxes:
        assert box.text in said
        for step in box.steps:
            assert f"{step}" in said


def test_an_inline_picture_has_no_style_of_its_own(desk: Desk) -> None:
    diagram = desk.job_sheet("tgd27-460-s", PlanRequest(reach=["drum-belt"])).diagram
    assert "<style>" in picture(diagram)
    assert "<style>" not in picture(diagram, inline=True)
    assert "style=" not in picture(diagram)
