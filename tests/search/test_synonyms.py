"""Synonyms of one word and of several."""

from __future__ import annotations

import pytest

from firstoff.search import Entry, Index

GROUPS = (("heater", "heating element", "thermal resistor"), ("lamp", "bulb"))


@pytest.mark.parametrize(
    ("label", "query"),
    [
        ("Heater broken", "heating element broken"),
        ("Heating element broken", "heater broken"),
        ("Heating element broken", "thermal resistor broken"),
        ("Lamp out", "bulb out"),
        ("Lamp out", "bulbs out"),
        ("Heater broken", "heatng elemnt broken"),
    ],
)
def test_a_synonym_raises_the_score(label: str, query: str) -> None:
    others = [
        Entry("symptom", f"o{number}", label) for number, label in enumerate(["Door broken", "Belt out", "Noise"])
    ]
    entries = [*others, Entry("symptom", "wanted", label)]
    with_groups = Index.build(entries, GROUPS).search(query).hits
    without = {hit.id: hit.score for hit in Index.build(entries).search(query).hits}
    assert with_groups[0].id == "wanted"
    assert with_groups[0].score > without.get("wanted", 0.0)


def test_a_word_of_a_longer_synonym_is_none_by_itself() -> None:
    index = Index.build([Entry("symptom", "element", "Element loose"), Entry("symptom", "other", "Door shut")], GROUPS)
    assert index.search("heater").hits == ()


def test_groups_without_words_and_groups_that_share_a_word() -> None:
    index = Index.build([Entry("component", "a", "Lamp")], [(), ("",), ("!",), ("lamp", "light"), ("light", "lantern")])
    assert index.search("light").hits[0].id == "a"
    # Synonyms are not handed on from group to group.
    assert index.search("lantern").hits == ()
