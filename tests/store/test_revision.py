"""The revision of a graph: of what it says, not of how it is written."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.store.revision import combined, graph_revision
from support.small_machine import PREFIXES, TURTLE, blocks, changed

REVISION = graph_revision(TURTLE, file="x.ttl")


def revision(turtle: str) -> str:
    return graph_revision(turtle, file="x.ttl")


def test_shape() -> None:
    assert re.fullmatch(r"[0-9a-f]{16}", REVISION)


@settings(max_examples=25)
@given(st.permutations(blocks()))
def test_order_does_not_count(shuffled: list[str]) -> None:
    assert revision(PREFIXES + "\n" + "\n".join(shuffled)) == REVISION


@settings(max_examples=25)
@given(st.permutations(["a", "b", "c", "d"]), st.permutations(range(5)))
def test_labels_of_blank_nodes_do_not_count(labels: list[str], order: list[int]) -> None:
    """Among them two that say the same, and two on a circle."""

    def written(names: list[str], at: list[int]) -> str:
        one, two, three, four = (f"_:{name}" for name in names)
        lines = [f":s :part {one}, {two}, {three} .", f"{one} :size 1 .", f"{two} :size 1 .", f"{three} :next {four} ."]
        lines.append(f"{four} :next {three} .")
        return "@prefix : <http://x/> .\n" + "\n".join(lines[i] for i in at)

    assert revision(written(labels, order)) == revision(written(["k", "l", "m", "n"], [0, 1, 2, 3, 4]))


@pytest.mark.parametrize(
    "same",
    [
        TURTLE.replace("@prefix fo:", "@prefix other:")
        .replace(" fo:", " other:")
        .replace("@prefix other:", "@prefix other:"),
        "# a remark\n" + TURTLE,
        TURTLE.replace(" ;\n", ";\n\n"),
        TURTLE.replace("p:fan-line", "<https://firstoff.example/platform/brook-fan/fan-line>"),
        TURTLE.replace(" a fo:Link ;", " <http://www.w3.org/1999/02/22-rdf-syntax-ns#type> fo:Link ;"),
        TURTLE.replace('"T-310"', '"T-\\u0033\\u0031\\u0030"'),
        TURTLE + "\np:fan a fo:Component .\n",
    ],
    ids=["prefix", "remark", "spaces", "full IRI", "type", "escapes", "said twice"],
)
def test_writing_does_not_count(same: str) -> None:
    assert same != TURTLE
    assert revision(same) == REVISION


@pytest.mark.parametrize(
    "other",
    [
        changed('"T-310"', '"T-311"'),
        changed('"Platine"@de', '"Platine"@nl'),
        changed("fo:minutesOut 3 ; fo:minutesBack 4", "fo:minutesOut 3 ; fo:minutesBack 5"),
        changed("fo:ohms 470000", "fo:ohms 470000.0"),
        changed("fo:likelihood 0.8", "fo:likelihood 0.7"),
        changed("fo:opens p:fan-wire", "fo:opens p:fan-lead"),
        TURTLE + '\np:fan fo:partNumber "T-1" .\n',
        TURTLE + "\np:fan-off fo:fastening [ a fo:Fastening ] .\n",
    ],
    ids=["text", "language", "number", "datatype", "in a blank node", "reference", "more", "another blank node"],
)
def test_one_change_counts(other: str) -> None:
    assert revision(other) != REVISION


def test_every_literal_counts() -> None:
    """Each literal of the machine changed in turn, one of every ten to keep it short."""
    places = list(re.finditer(r'"([^"]+)"', TURTLE))[::10]
    seen = {revision(f"{TURTLE[: found.start(1)]}~{TURTLE[found.start(1) :]}") for found in places}
    assert len(places) > 10
    assert len(seen | {REVISION}) == len(places) + 1


def test_combined() -> None:
    assert combined(["a", "b"]) == combined(["b", "a"])
    assert len({combined(each) for each in ([], ["a"], ["b"], ["a", "b"], ["ab"], ["a", "a"])}) == 6
