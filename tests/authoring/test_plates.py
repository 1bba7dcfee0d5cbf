from __future__ import annotations

import pytest

from firstoff.authoring import plates
from firstoff.authoring.ontology import Ontology
from support.drafts import draft_of, told
from support.small_platform import TURTLE, changed, with_more

Told = list[tuple[str, str | None]]


def test_model_numbers(ontology: Ontology) -> None:
    assert plates.model_numbers(draft_of(TURTLE, ontology)) == {"box-10": "BOX 10", "box-20": "BOX 20"}


@pytest.mark.parametrize(
    ("number", "alike"),
    [
        ("BOX 20", False),
        ("BOX 10", True),
        ("box 10", True),  # case
        ("B0X 10", True),  # the digit 0 for the letter O
        ("BOX 1O", True),  # the letter O for the digit 0
        ("BO/X-10", True),  # slashes and hyphens
        ("BOX10", True),  # spaces
        ("BOX 100", False),
        ("BOX I0", False),  # I and 1 are told apart
    ],
)
def test_numbers_read_alike(number: str, alike: bool, ontology: Ontology) -> None:
    expected: Told = [("numbers-read-alike", "box-10")] if alike else []
    turtle = changed('fo:modelNumber "BOX 20"', f'fo:modelNumber "{number}"')
    assert told(plates.numbers_read_alike, turtle, ontology) == expected


def test_alike_across_files() -> None:
    (problem,) = plates.alike({"a-1": "A 1", "b-2": "B 2"}, {"other": ("A-1", "other.ttl")})
    assert (problem.rule, problem.resource) == ("numbers-read-alike", "a-1")
    assert "A 1 (a-1) and A-1 (other in other.ttl)" in problem.message
    assert list(plates.alike({"a-1": "A 1"}, {"other": ("A 2", "other.ttl")})) == []


def with_ranges(early: str, late: str) -> str:
    return TURTLE.replace('fo:firstSerial "100" ; fo:lastSerial "199"', early).replace('fo:firstSerial "200"', late)


@pytest.mark.parametrize(
    ("early", "late", "expected"),
    [
        ('fo:firstSerial "100" ; fo:lastSerial "199"', 'fo:firstSerial "200"', []),
        ('fo:lastSerial "199"', 'fo:firstSerial "200"', []),
        ('fo:firstSerial "100" ; fo:lastSerial "200"', 'fo:firstSerial "200"', [("serial-ranges-overlap", "box-10")]),
        # 99 is a shorter number than 100, and so comes before it
        ('fo:firstSerial "50" ; fo:lastSerial "99"', 'fo:firstSerial "100"', []),
        ('fo:firstSerial "300"', 'fo:firstSerial "200"', [("serial-ranges-overlap", "box-10")]),
        ('fo:lastSerial "100"', 'fo:lastSerial "200"', [("serial-ranges-overlap", "box-10")]),
        ('fo:firstSerial "199" ; fo:lastSerial "100"', 'fo:firstSerial "200"', [("serial-range-backwards", "early")]),
    ],
)
def test_serial_ranges(early: str, late: str, expected: Told, ontology: Ontology) -> None:
    assert told(plates.serial_ranges, with_ranges(early, late), ontology) == expected


def test_ranges_of_different_models_may_share_numbers(ontology: Ontology) -> None:
    turtle = with_more("<https://firstoff.example/model/box-20> fo:hasSerialRange p:other .\n"
                       'p:other a fo:SerialRange ; rdfs:label "other"@en ; fo:firstSerial "100" .')  # fmt: skip
    assert told(plates.serial_ranges, turtle, ontology) == []
