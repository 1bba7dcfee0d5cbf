"""What is kept up to a measure, against a plain list that does the same by looking through all of it."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from firstoff.collection.kept import Kept

ACTS = st.lists(st.tuples(st.booleans(), st.integers(0, 6), st.integers(0, 12)), max_size=60)


@given(st.integers(0, 20), ACTS)
def test_as_a_list_does(most: int, acts: list[tuple[bool, int, int]]) -> None:
    kept: Kept[int, str] = Kept(most)
    plain: list[tuple[int, str, int]] = []  # the one asked for longest ago first
    for number, (puts, key, weight) in enumerate(acts):
        place = next((at for at, each in enumerate(plain) if each[0] == key), None)
        if place is not None:
            plain.append(plain.pop(place))
        if not puts:
            assert kept.get(key) == (plain[-1][1] if place is not None else None)
            continue
        if place is None:
            plain.append((key, f"value {number}", weight))
        while sum(each[2] for each in plain) > most and len(plain) > 1:
            plain.pop(0)
        assert kept.put(key, f"value {number}", weight) == plain[-1][1]
        assert len(kept) == len(plain)
