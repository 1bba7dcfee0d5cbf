"""Breaking texts into lines."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from firstoff.sheet.lettering import width_of, wrapped


@pytest.mark.parametrize(
    ("text", "width", "lines"),
    [
        ("back panel", 200, ("back panel",)),
        ("front bulkhead with bars", 90, ("front", "bulkhead with", "bars")),
        ("", 90, ()),
        ("  spaced \n out ", 200, ("spaced out",)),
    ],
)
def test_wrapped(text: str, width: float, lines: tuple[str, ...]) -> None:
    assert wrapped(text, 12, width) == lines


def test_a_word_that_is_too_long_is_cut() -> None:
    lines = wrapped("Kondensatorventilatormotorhalterung", 12, 80)
    assert "".join(lines) == "Kondensatorventilatormotorhalterung"
    assert len(lines) > 1


def test_too_many_lines_end_with_an_ellipsis() -> None:
    lines = wrapped("one two three four five six seven", 12, 40, most=3)
    assert len(lines) == 3
    assert lines[-1].endswith("…")
    assert width_of(lines[-1], 12) <= 40


def test_the_first_line_may_be_shorter() -> None:
    assert wrapped("lint chute", 12, 80, indent=30)[0] == "lint"
    assert wrapped("bulkhead", 12, 60, indent=30) == ("", "bulkhead")


def test_wide_letters_are_wide_and_marks_take_no_room() -> None:
    assert width_of("蒸发器", 10) == 30
    assert width_of("e\u0301", 10) == width_of("e", 10)
    assert width_of("W", 10) > width_of("i", 10)
    assert width_of("belt", 10, bold=True) > width_of("belt", 10)


@example("000 0", 40.0, 1, False, 6.0)
@given(st.text(max_size=200), st.floats(40, 200), st.integers(1, 6), st.booleans(), st.floats(0, 30))
def test_no_line_is_too_wide(text: str, width: float, most: int, bold: bool, indent: float) -> None:
    lines = wrapped(text, 12, width, bold=bold, most=most, indent=indent)
    assert len(lines) <= most
    for number, line in enumerate(lines):
        assert width_of(line, 12, bold=bold) <= width - (0 if number else indent) + 1e-6 or len(line) <= 1


@given(st.text(max_size=100))
def test_nothing_is_lost_where_there_is_room(text: str) -> None:
    lines = wrapped(text, 12, 60, most=1000)
    assert "".join("".join(lines).split()) == "".join(text.split())
