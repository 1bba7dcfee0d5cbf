"""Digests of content."""

from __future__ import annotations

import re

from hypothesis import given
from hypothesis import strategies as st

from firstoff.store.revision import combined, text_revision


@given(st.text(alphabet=st.characters()))
def test_shape(text: str) -> None:
    assert re.fullmatch(r"[0-9a-f]{16}", text_revision(text))


@given(st.text(), st.text())
def test_one_change_counts(one: str, other: str) -> None:
    assert (text_revision(one) == text_revision(other)) == (one == other)


@given(st.lists(st.text(max_size=16), max_size=6), st.randoms())
def test_combined_does_not_depend_on_the_order(revisions: list[str], random: object) -> None:
    shuffled = list(revisions)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    assert combined(shuffled) == combined(revisions)
    assert combined([*revisions, "one more"]) != combined(revisions)
