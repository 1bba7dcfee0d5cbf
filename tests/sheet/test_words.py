"""Small pieces of wording."""

from __future__ import annotations

import pytest

from firstoff.sheet.words import at_steps, letter, listed, minutes, sentence


@pytest.mark.parametrize(
    ("items", "most", "said"),
    [
        ([], None, ""),
        (["a"], None, "a"),
        (["a", "b"], None, "a and b"),
        (["a", "b", "c"], None, "a, b and c"),
        (["a", "b", "c"], 3, "a, b and c"),
        (["a", "b", "c", "d"], 2, "a, b and 2 more"),
    ],
)
def test_listed(items: list[str], most: int | None, said: str) -> None:
    assert listed(items, most) == said


@pytest.mark.parametrize(("number", "said"), [(0, "A"), (25, "Z"), (26, "AA"), (27, "AB"), (701, "ZZ"), (702, "AAA")])
def test_letter(number: int, said: str) -> None:
    assert letter(number) == said


def test_the_rest() -> None:
    assert minutes(4.50) == "4.5 min"
    assert sentence("take it off") == "Take it off"
    assert sentence("") == ""
    assert at_steps((4,)) == "step 4"
    assert at_steps((4, 9)) == "steps 4 and 9"
