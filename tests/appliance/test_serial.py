"""Numbers off a rating plate: read plain, compared, and whether ranges leave a gap."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.appliance.serial import as_numbered, follows, leave_no_gap, plain_number, serial_key, within

PLATES = st.text("ABO019 -/.", max_size=8)


@pytest.mark.parametrize(
    ("number", "plain"),
    [
        ("BM 10/S", "BM10S"),
        ("bm-10-s", "BM10S"),
        (" BM.1O_S ", "BM10S"),
        ("OO7", "007"),
        ("", ""),
        ("-/ ", ""),
        ("№ 12", "12"),
    ],
)
def test_plain_number(number: str, plain: str) -> None:
    assert plain_number(number) == plain


@given(PLATES)
def test_plain_is_plain_already(number: str) -> None:
    assert plain_number(plain_number(number)) == plain_number(number)


#: serial, first, last, whether it lies within
WITHIN = [
    ("150", "100", "199", True),
    ("100", "100", "199", True),
    ("199", "100", "199", True),
    ("99", "100", "199", False),
    ("200", "100", "199", False),
    ("1000", "100", "199", False),
    ("1000", "100", None, True),
    ("5", None, "199", True),
    ("200", None, "199", False),
    ("anything", None, None, True),
    ("BF 150", "bf100", "BF-199", True),
    ("BF1O0", "BF 100", "BF 199", True),
    ("BG 150", "BF 100", "BF 199", False),
    ("2418 00999", "241800999", "241800999", True),
]


@pytest.mark.parametrize(("serial", "first", "last", "inside"), WITHIN)
def test_within(serial: str, first: str | None, last: str | None, inside: bool) -> None:
    assert within(serial, first, last) is inside


@given(st.integers(0, 3000), st.integers(0, 3000), st.integers(0, 3000))
def test_within_agrees_with_numbers(serial: int, first: int, last: int) -> None:
    assert within(str(serial), str(first), str(last)) is (first <= serial <= last)


@given(st.lists(st.integers(0, 10**6)))
def test_keys_sort_as_numbers(numbers: list[int]) -> None:
    assert sorted(map(str, numbers), key=serial_key) == [str(number) for number in sorted(numbers)]


@pytest.mark.parametrize(
    ("serial", "before", "next_to"),
    [
        ("200", "199", True),
        ("BF 200", "BF199", True),
        ("241801000", "2418 00999", True),
        ("1000", "999", True),
        ("A010", "A009", True),
        ("201", "199", False),
        ("199", "199", False),
        ("BG200", "BF199", False),
        ("A10", "A009", False),
        ("AB", "AA", False),
        ("", "", False),
    ],
)
def test_follows(serial: str, before: str, next_to: bool) -> None:
    assert follows(serial, before) is next_to


#: ranges, whether no serial number lies outside them
GAPS = [
    ([], False),
    ([(None, None)], True),
    ([(None, "199"), ("200", None)], True),
    ([("200", None), (None, "199")], True),
    ([(None, "199"), ("150", None)], True),
    ([(None, "199"), ("200", "299"), ("300", None)], True),
    ([(None, "99"), ("50", "60"), ("100", None)], True),
    ([(None, "199"), ("201", None)], False),
    ([(None, "199"), ("200", "299")], False),
    ([("200", "299"), ("300", None)], False),
    ([(None, "199"), ("300", "399"), ("400", None)], False),
    ([(None, "AA"), ("AB", None)], False),
]


@pytest.mark.parametrize(("ranges", "whole"), GAPS)
def test_leave_no_gap(ranges: list[tuple[str | None, str | None]], whole: bool) -> None:
    assert leave_no_gap(ranges) is whole


ENDS = st.none() | st.integers(1, 12)


@given(st.lists(st.tuples(ENDS, ENDS), max_size=4))
def test_leave_no_gap_agrees_with_counting(ranges: list[tuple[int | None, int | None]]) -> None:
    """Ranges of small numbers, counted from 0 to one beyond the largest; 13 stands for all above."""
    forwards = [(first, last) for first, last in ranges if first is None or last is None or first <= last]
    spelled = [tuple(None if end is None else str(end) for end in ends) for ends in forwards]
    covered = all(
        any((first is None or first <= serial) and (last is None or serial <= last) for first, last in forwards)
        for serial in range(14)
    )
    found = leave_no_gap((first, last) for first, last in spelled)
    assert found is covered


#: serial as typed, serial numbers known of the model, what is read
NUMBERED = [
    ("22010001", ["22010000"], "22010001"),
    ("S/N 2201 0001", ["22010000"], "22010001"),
    ("Serial No. 22010001", ["22010000"], "22010001"),
    ("Serien-Nr. 22010001", ["22010000"], "22010001"),
    ("N.º de serie 22010001", ["22010000"], "22010001"),
    ("22O1OOO1", ["22010000"], "22010001"),  # the letter O for zero
    ("abc", ["22010000"], None),
    ("AB22010001", ["22010000"], None),
    ("2201", ["K2201"], None),
    ("k 2202", ["K2201"], "K2202"),
    ("SN2202", ["SN2201"], "SN2202"),  # where the maker's numbers begin so, nothing is taken off
    ("22B1", ["22010000", "22A9"], "22B1"),
    ("anything", [], "ANYTHING"),
]


@pytest.mark.parametrize(("typed", "known", "read"), NUMBERED)
def test_as_numbered(typed: str, known: list[str], read: str | None) -> None:
    assert as_numbered(typed, known) == read


@given(st.text(alphabet="AB01 -/", min_size=1, max_size=8), st.integers(0, 99_999))
def test_a_number_that_is_read_can_be_set_in_order(typed: str, known: int) -> None:
    """What is read has digits alone where the known numbers have; nothing else is guessed."""
    read = as_numbered(typed, [str(known)])
    assert read is None or read.isdigit()
