"""Differences between two versions in words; that there are none is what rdflib's isomorphism says."""

from __future__ import annotations

import random
from pathlib import Path

import pyoxigraph as ox
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from rdflib.compare import isomorphic

from firstoff.authoring.differing import Difference, Sort, differences
from firstoff.authoring.ontology import load_ontology
from firstoff.authoring.turtle import Document, read_turtle, to_rdflib

ONTOLOGY = load_ontology()
BOX = (Path(__file__).parents[1] / "support" / "small-box.ttl").read_text(encoding="utf-8")


def between(before: str, after: str) -> tuple[Difference, ...]:
    return differences(read_turtle(before, "box"), read_turtle(after, "box"), ONTOLOGY)


HEAD = """@prefix p: <https://firstoff.example/platform/box/> . @prefix fo: <https://firstoff.example/ontology#> .
@prefix rdfs: <http://www.w3.org/2000/01/rdf-schema#> .
"""
LID = 'p:lid-off a fo:Removal ; rdfs:label "take off the lid"@en ; '


@pytest.mark.parametrize(
    ("before", "after", "sentences"),
    [
        ("fo:minutesOut 10", "fo:minutesOut 12", ("minutes out: 12, before 10",)),
        ("fo:minutesOut 10", "fo:minutesOut 10.0", ("minutes out: 10.0, before 10",)),
        ("fo:tool p:a, p:b", "fo:tool p:b, p:c, p:d", ("tool: no longer a", "tool: new c", "tool: new d")),
        ("fo:fastening [ fo:count 1 ]", "fo:fastening [ fo:count 2 ]", ("fastening, count: 2, before 1",)),
        (
            "fo:fastening [ fo:count 1 ; fo:size 's' ]",
            "fo:fastening [ fo:count 1 ; fo:size 's' ], [ fo:count 1 ; fo:size 's' ]",
            ("fastening: new [count 1; size s]",),
        ),
        ('fo:text "Lift."@en', 'fo:text "Lift."@en, "Levantar."@es', ("text: new “Levantar.” (es)",)),
        ("fo:minutesOut 10", "fo:kilograms 1", ("kilograms: new 1", "minutes out: no longer 10")),
    ],
)
def test_what_changed_in_words(before: str, after: str, sentences: tuple[str, ...]) -> None:
    (found,) = between(f"{HEAD}{LID}{before} .", f"{HEAD}{LID}{after} .")
    assert found == Difference(Sort.CHANGED, "lid-off", "take off the lid", "removal", sentences)


def test_added_and_taken_out() -> None:
    lid, box = 'p:lid a fo:Component ; rdfs:label "lid"@en .', 'p:box a fo:Component ; rdfs:label "box"@en .'
    assert between(HEAD + lid, HEAD + box) == (
        Difference(Sort.ADDED, "box", "box", "component", ()),
        Difference(Sort.TAKEN_OUT, "lid", "lid", "component", ()),
    )
    assert differences(None, read_turtle(HEAD + lid, "box"), ONTOLOGY)[0].sort is Sort.ADDED
    assert differences(read_turtle(HEAD + lid, "box"), None, ONTOLOGY)[0].sort is Sort.TAKEN_OUT


def test_a_new_label_changes_what_has_it_alone() -> None:
    said = HEAD + 'p:lid a fo:Component ; rdfs:label "lid"@en . p:off a fo:Removal ; fo:removes p:lid .'
    (found,) = between(said, said.replace('"lid"', '"cover"'))
    assert (found.resource, found.sentences) == ("lid", ("label: “cover” (en), before “lid” (en)",))


def test_a_part_that_names_itself_ends() -> None:
    said = HEAD + "p:lid fo:part _:a . _:a fo:part _:a ; fo:count {} ."
    assert between(said.format(1), said.format(1)) == ()
    assert between(said.format(1), said.format(2)) != ()


def shuffled(document: Document, rng: random.Random) -> Document:
    """The same statements in another order, under other labels."""
    names: dict[str, ox.BlankNode] = {}

    def renamed(term: object) -> object:
        return names.setdefault(term.value, ox.BlankNode()) if isinstance(term, ox.BlankNode) else term

    triples = [ox.Triple(renamed(t.subject), t.predicate, renamed(t.object)) for t in document.triples]  # type: ignore[arg-type]
    rng.shuffle(triples)
    return Document(tuple(triples), {}, {})


@given(st.integers(0, 2**32), st.integers(0, 3))
@example(288392, 1)  # what a part is changes, and nothing else of it
@settings(max_examples=60, deadline=None)
def test_none_exactly_where_both_say_the_same(seed: int, edits: int) -> None:
    rng = random.Random(seed)
    before = read_turtle(BOX, "small-box.ttl")
    triples = list(shuffled(before, rng).triples)
    for _ in range(edits):
        at = rng.randrange(len(triples))
        if rng.random() < 0.5:
            del triples[at]
        else:
            old = triples[at]
            triples[at] = ox.Triple(old.subject, old.predicate, rng.choice(triples).object)
    after = Document(tuple(dict.fromkeys(triples)), {}, {})
    same = isomorphic(to_rdflib(before.triples), to_rdflib(after.triples))
    # what no resource with an address names any more is part of none
    assert (differences(before, after, ONTOLOGY) == ()) == same or orphaned(after)


def orphaned(document: Document) -> bool:
    named = {t.object for t in document.triples}
    return any(isinstance(t.subject, ox.BlankNode) and t.subject not in named for t in document.triples)
