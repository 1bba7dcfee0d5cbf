"""What a model or serial range does to its platform, read from the graph."""

from __future__ import annotations

import pytest

from firstoff.appliance.compile import changes_of
from firstoff.appliance.statements import Statements
from firstoff.appliance.variant import Changes
from firstoff.errors import ContentBroken
from support.small_machine import TURTLE, changed, rows_of


def changes(turtle: str, slug: str) -> Changes:
    statements = Statements.gather(rows_of(turtle), {})
    (resource,) = (each for name in ("Model", "SerialRange") for each in statements.of_class(name) if each.id == slug)
    return changes_of(resource)


@pytest.mark.parametrize(
    ("slug", "expected"),
    [
        ("bm-10-s", Changes()),
        ("bm-20", Changes(frozenset({"guard"}), frozenset({"buzzer"}), {"fan": "quiet-fan"})),
        ("early", Changes(adds=frozenset({"buzzer"}))),
        ("late", Changes(replaces={"board": "late-board"})),
    ],
)
def test_changes(slug: str, expected: Changes) -> None:
    assert changes(TURTLE, slug) == expected


def test_two_substitutes_for_one_component() -> None:
    twice = changed("fo:substitutes p:quiet-for-plain", "fo:substitutes p:quiet-for-plain, p:other")
    more = "p:other a fo:Substitution ; fo:original p:fan ; fo:substitute p:board .\n"
    with pytest.raises(ContentBroken, match="bm-20 has two substitutes for fan"):
        changes(twice + more, "bm-20")


def test_a_substitution_that_lacks_its_substitute() -> None:
    with pytest.raises(ContentBroken, match="has no substitute"):
        changes(changed("fo:original p:fan ; fo:substitute p:quiet-fan", "fo:original p:fan"), "bm-20")
