"""The page of the ontology: every term once, with its definition; escaped; for screen readers and the dark."""

from __future__ import annotations

import re
import shutil
from collections import Counter
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import pytest
import rdflib
from rdflib.namespace import OWL, RDF, RDFS, SKOS

from firstoff.authoring.glossary import Glossary, load_glossary
from firstoff.content import ontology_folder
from firstoff.reference import ontology_page, ontology_style
from firstoff.reference.areas import areas_of
from firstoff.reference.figure import arrows_of, figure_of
from firstoff.reference.wording import held, how_many
from firstoff.sheet.lettering import width_of

FO = "https://firstoff.example/ontology#"
VOCABULARY = "https://firstoff.example/vocabulary/"
HOSTILE = "</style></title></dd><script>alert(1)</script><img src=x onerror='alert(2)'>&{{ 7*7 }}"


class Read(HTMLParser):
    """Elements in order as (tag, attributes, text in it); every tag must be closed in order."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None], list[str]]] = []
        self._open: list[int] = []
        self.feed(html)
        self.close()
        assert not self._open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs), []))
        if tag != "meta":
            self._open.append(len(self.elements) - 1)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs), []))

    def handle_endtag(self, tag: str) -> None:
        assert self.elements[self._open.pop()][0] == tag

    def handle_data(self, data: str) -> None:
        for each in self._open:
            self.elements[each][2].append(data)

    def text(self, number: int) -> str:
        return " ".join("".join(self.elements[number][2]).split())


@pytest.fixture(scope="module")
def glossary() -> Glossary:
    return load_glossary()


@pytest.fixture(scope="module")
def page(glossary: Glossary) -> str:
    return ontology_page(glossary)


@pytest.fixture(scope="module")
def read(page: str) -> Read:
    return Read(page)


def defined() -> list[tuple[str, str, str]]:
    """Anchor, label and definition of every term of the files, read by rdflib."""
    core = rdflib.Graph().parse(ontology_folder() / "core.ttl")
    found = [
        (str(term).removeprefix(FO), str(core.value(term, RDFS.label)), str(core.value(term, SKOS.definition)))
        for kind in (OWL.Class, OWL.ObjectProperty, OWL.DatatypeProperty)
        for term in core.subjects(RDF.type, kind)
    ]
    for path in sorted((ontology_folder() / "vocabularies").glob("*.ttl")):
        graph = rdflib.Graph().parse(path)
        for term in graph.subjects(RDF.type, SKOS.Concept):
            label = next(each for each in graph.objects(term, SKOS.prefLabel) if each.language == "en")
            anchor = str(term).removeprefix(VOCABULARY).replace("#", ".")
            found.append((anchor, str(label), str(graph.value(term, SKOS.definition))))
    return found


def test_every_term_stands_once_with_its_definition(read: Read) -> None:
    terms = defined()
    assert len(terms) > 750
    places = {attributes["id"]: number for number, (_, attributes, _) in enumerate(read.elements) if "id" in attributes}
    for anchor, label, definition in terms:
        number = places[anchor]
        assert read.text(number).lower().startswith(label.lower()), anchor
        follows = next(at for at in range(number + 1, len(read.elements)) if read.elements[at][0] in ("p", "dd"))
        assert read.text(follows) == " ".join(definition.split()), anchor


def test_anchors_are_unique_and_links_stay_within_the_page(read: Read) -> None:
    anchors = Counter(attributes["id"] for _, attributes, _ in read.elements if "id" in attributes)
    assert [anchor for anchor, count in anchors.items() if count > 1] == []
    links = [attributes["href"] for tag, attributes, _ in read.elements if tag == "a"]
    assert len(links) > 300
    assert [link for link in links if link is None or link[:1] != "#" or link[1:] not in anchors] == []
    fetching = {name for _, attributes, _ in read.elements for name in attributes} & {
        "src",
        "srcset",
        "action",
        "style",
    }
    assert fetching == set()
    assert not {tag for tag, _, _ in read.elements} & {"script", "link", "img", "form", "iframe", "object"}


def test_labels_of_other_languages_are_marked_as_such(read: Read) -> None:
    spans = [
        (attributes.get("lang"), read.text(at))
        for at, (tag, attributes, _) in enumerate(read.elements)
        if tag == "span"
    ]
    assert ("de", "Stecker und Steckdose") in spans
    assert {language for language, _ in spans} == {"es", "de"}


def test_headings_go_down_a_step_at_a_time_and_name_their_sections(read: Read) -> None:
    levels = [int(tag[1]) for tag, _, _ in read.elements if re.fullmatch(r"h\d", tag)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert read.elements[0][:2] == ("html", {"lang": "en"})
    headings = {attributes.get("id") for tag, attributes, _ in read.elements if re.fullmatch(r"h\d", tag)}
    assert {attributes["aria-labelledby"] for tag, attributes, _ in read.elements if tag == "section"} <= headings
    assert [tag for tag, _, _ in read.elements if tag in ("main", "nav", "header")] == ["header", "nav", "main"]


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2, definition)."""
    digits = colour if len(colour) == 6 else "".join(each * 2 for each in colour)
    shares = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    linear = [share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_text_has_contrast_by_day_and_in_the_dark() -> None:
    """At least 4.5 to 1 for text, 3 to 1 for lines (WCAG 2.2, 1.4.3 and 1.4.11)."""
    themes = [
        dict(re.findall(r"--(\w+): #(\w+)", each))
        for each in re.findall(r":root \{([^}]*--ink[^}]*)\}", ontology_style())
    ]
    assert len(themes) == 2
    for theme in themes:
        for ground in ("paper", "hush"):
            for colour, least in (("ink", 4.5), ("soft", 4.5), ("link", 4.5), ("rule", 3.0)):
                light, dark = sorted((luminance(theme[ground]), luminance(theme[colour])), reverse=True)
                assert (light + 0.05) / (dark + 0.05) >= least, (theme, ground, colour)


def test_hostile_texts_stay_texts(tmp_path: Path) -> None:
    folder = tmp_path / "ontology"
    shutil.copytree(ontology_folder(), folder)
    hostile = HOSTILE.replace("\\", "\\\\").replace('"', '\\"')
    for name in ("core.ttl", "vocabularies/tools.ttl"):
        text = (folder / name).read_text(encoding="utf-8")
        text = re.sub(
            r'(rdfs:label|skos:prefLabel|skos:definition|dcterms:\w+) "', lambda each: each[0] + hostile, text
        )
        (folder / name).write_text(text, encoding="utf-8")
    html = ontology_page(load_glossary(folder))
    read = Read(html)
    assert not {tag for tag, _, _ in read.elements} & {"script", "img"}
    assert [name for _, attributes, _ in read.elements for name in attributes if name.startswith("on")] == []
    assert html.count("&lt;script&gt;") > 500
    assert "49" not in re.findall(r"&amp;(\S+)", html)


# --- what is said of a property ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("of", "name", "value", "count"),
    [
        ("Removal", "removes", "component", "exactly one"),
        ("Removal", "fastening", "fastening", "at least one"),
        ("Removal", "minutesOut", "number in unit:MIN, above 0, at most 480", "exactly one"),
        ("Removal", "instruction", "text with its language", "one a language, at least one"),
        ("Removal", "refitInstruction", "text with its language", "at most one a language"),
        ("Removal", "tool", "term of tools", "any number"),
        ("Bulletin", "concerns", "component, model or serial range", "at least one"),
        ("Platform", "status", "one of: draft, reviewed", "exactly one"),
        ("Device", "lockable", "true or false", "at most one"),
        ("Removal", "rdfs:label", "text with its language", "one a language, at least one"),
        ("Removal", "rdfs:seeAlso", "address", "any number"),
        ("Check", "checkPurpose", "term of purposes, one of: inspect, test", "exactly one"),
    ],
)
def test_what_a_property_holds_and_how_often(glossary: Glossary, of: str, name: str, value: str, count: str) -> None:
    labels = {each.term.name: each.term.label for each in glossary.classes}
    uses = next(each.uses for each in glossary.classes if each.term.name == of)
    use = next(each for each in uses if each.name == name)
    assert "".join(piece.text for piece in held(use, labels, {})) == value
    assert how_many(use) == count


# --- the picture ---------------------------------------------------------------------------------------


def test_every_class_is_in_one_area_named_for_it(glossary: Glossary) -> None:
    areas = areas_of(glossary.classes)
    assert sorted(each.term.name for area in areas for each in area.classes) == sorted(
        each.term.name for each in glossary.classes
    )
    assert "Further classes" not in {area.title for area in areas}
    assert [area.title for area in areas_of(glossary.classes[:1])] == ["Products"]


def test_pictures_fit_a_phone_and_their_texts_their_boxes(glossary: Glossary) -> None:
    """328 CSS pixels are what a phone of 360 leaves beside the margins."""
    labels = {each.term.name: each.term.label for each in glossary.classes}
    for area in areas_of(glossary.classes):
        figure = figure_of(area.classes, labels)
        assert figure.width <= 328
        assert {box.anchor for box in figure.boxes} == {each.term.name for each in area.classes}
        for box in figure.boxes:
            assert box.place.x >= 0
            assert box.place.x + box.place.width <= figure.width
            for line in box.lines:
                assert line.size >= 12
                assert line.x + width_of(line.text, line.size, bold=line.name) <= box.place.x + box.place.width
                assert box.place.y < line.y < box.place.y + box.place.height
        for one, other in ((a, b) for a in figure.boxes for b in figure.boxes if a.anchor < b.anchor):
            a, b = one.place, other.place
            apart = a.x + a.width <= b.x or b.x + b.width <= a.x or a.y + a.height <= b.y or b.y + b.height <= a.y
            assert apart, (one.anchor, other.anchor)


def test_arrows_are_what_the_shapes_say(glossary: Glossary) -> None:
    area = next(each for each in areas_of(glossary.classes) if each.title == "Faults and checks")
    names = [each.term.name for each in area.classes]
    assert {(names[tail], names[head]) for tail, head in arrows_of(area.classes)} == {
        ("DisplayCode", "Fault"),
        ("Fault", "Effect"),
        ("Fault", "Remedy"),
        ("Check", "Outcome"),
        ("Outcome", "Fault"),
        ("ServiceMode", "ServiceStep"),
    }
