"""Which code was read off a machine: forgiving, and never a guess between two."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.search import codes_read

CODES = {"code-e0": "E0", "code-e1": "E1", "code-lo": "L0", "code-d": "d", "code-cap": "D", "code-f": "F 12"}


@pytest.mark.parametrize(
    ("shown", "expected"),
    [
        ("E1", ("code-e1",)),
        ("code-e1", ("code-e1",)),
        (" e\t1 ", ("code-e1",)),
        ("E-1", ("code-e1",)),
        ("e.1", ("code-e1",)),
        ("EO", ("code-e0",)),  # the letter O for 0
        ("lO", ("code-lo",)),
        ("f12", ("code-f",)),
        ("d", ("code-d",)),  # as shown, though another differs by its case alone
        ("D", ("code-cap",)),
        ("d.", ("code-cap", "code-d")),  # and nobody can tell which
        ("E11", ()),
        ("", ()),
        ("--", ()),
        ("\u202e\U0001f600", ()),
    ],
)
def test_read(shown: str, expected: tuple[str, ...]) -> None:
    assert codes_read(shown, CODES) == expected


NOTATIONS = st.from_regex(r"[A-Z]{1,2}[ -]?[0-9]{1,2}", fullmatch=True)


@st.composite
def misread(draw: st.DrawFn) -> tuple[str, str]:
    """A code, and the same with other case, spaces and hyphens, and O for some 0."""
    notation = draw(NOTATIONS)
    letters = [
        draw(st.sampled_from(sorted({each.lower(), each.upper(), "O" if each == "0" else each})))
        for each in notation
        if each not in " -"
    ]
    return notation, "".join(each + draw(st.sampled_from(["", " ", "-", "  "])) for each in letters)


@given(misread())
def test_a_code_is_read_however_it_is_written(pair: tuple[str, str]) -> None:
    notation, shown = pair
    assert codes_read(shown, {"one": notation, "other": "ZZZ 999"}) == ("one",)


@given(st.lists(NOTATIONS | st.text(max_size=4), max_size=8), st.text(max_size=6) | NOTATIONS)
def test_as_shown_goes_before_all_else(notations: list[str], shown: str) -> None:
    told = {f"slug:{number}:{'x' * 6}": notation for number, notation in enumerate(notations)}
    found = codes_read(shown, told)
    assert set(found) <= told.keys()
    assert list(found) == sorted(found)
    bare = "".join(shown.split())
    same = {slug for slug, notation in told.items() if "".join(notation.split()) == bare}
    if bare and same:
        assert set(found) == same


@given(st.lists(NOTATIONS, min_size=1, max_size=8), st.text(max_size=6) | NOTATIONS)
def test_other_letters_and_digits_are_never_forgiven(notations: list[str], shown: str) -> None:
    def bare(text: str) -> str:
        return "".join(each for each in text.upper() if each.isascii() and each.isalnum()).replace("O", "0")

    for slug in codes_read(shown, dict(zip("abcdefgh", notations, strict=False))):
        if slug != shown and shown.isascii():
            assert bare(notations["abcdefgh".index(slug)]) == bare(shown)
