"""Lines of the log: read as they were written, and anything else refused."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.outcomes import Outcome, digest
from firstoff.outcomes.record import line_of, outcome_in

TEXT = st.text(max_size=20)
TEXTS = st.lists(TEXT, max_size=4).map(tuple)
OUTCOMES = st.builds(
    Outcome,
    key=TEXT, body=TEXT, on=TEXT, model=TEXT, symptoms=TEXTS, absent=TEXTS,
    checks=st.lists(st.tuples(TEXT, TEXT), max_size=3).map(tuple),
    codes=TEXTS, fault=TEXT, remedy=st.none() | TEXT, revision=TEXT,
)  # fmt: skip
ONE = Outcome("k", "b", "2026-11-27", "m", ("wet",), (), (("look", "dry"),), (), "pump", None, "r")


@given(OUTCOMES)
def test_a_line_is_read_as_it_was_written(outcome: Outcome) -> None:
    line = line_of(outcome)
    assert line.endswith(b"\n")
    assert line.count(b"\n") == 1
    assert outcome_in(line) == outcome


@pytest.mark.parametrize(
    "change",
    [
        {"form": 2},
        {"customer": "a name"},
        {"fault": 3},
        {"remedy": ["x"]},
        {"symptoms": "wet"},
        {"symptoms": [1]},
        {"checks": [["look"]]},
        {"checks": {"look": "dry"}},
    ],
    ids=str,
)
def test_a_line_of_another_form_is_refused(change: dict[str, Any]) -> None:
    told = json.loads(line_of(ONE))
    assert outcome_in(json.dumps(told).encode()) == ONE
    with pytest.raises(ValueError, match=r"form|type"):
        outcome_in(json.dumps(told | change).encode())


@pytest.mark.parametrize("line", [b"", b"\x00\x00", b"[]", b"7", b"\xff", b'{"form":1}'])
def test_what_is_no_outcome_is_refused(line: bytes) -> None:
    with pytest.raises(ValueError, match=r"."):
        outcome_in(line)


def test_the_name_of_an_outcome_is_of_its_key() -> None:
    assert digest("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"  # FIPS 180-4 example
    assert ONE.id == "k"
