"""Serial numbers and model numbers as they are read off a rating plate."""

from __future__ import annotations

import re
from collections.abc import Iterable

_SEPARATORS = re.compile(r"[^A-Z0-9]+")
_RUN = re.compile(r"(.*?)([0-9]+)")
#: What stands before a serial number on rating plates, without separators and with O as 0.
_LEADS = re.compile(r"(SERIALNUMBER|SERIALN0|SERIAL|SERN0|SERIENNUMMER|SERIENNR|N0?DESERIE|NSERIE|SNR|SN|N0)(?=.)")


def plain_number(number: str) -> str:
    """A number without case, spaces, slashes and hyphens, and with the letter O read as the digit 0."""
    return _SEPARATORS.sub("", number.upper()).replace("O", "0")


def serial_key(serial: str) -> tuple[int, str]:
    """A sort key: serial numbers of one maker grow in length and then in order of their characters."""
    plain = plain_number(serial)
    return len(plain), plain


def within(serial: str, first: str | None, last: str | None) -> bool:
    """True where ``serial`` lies from ``first`` to ``last``, both included; None leaves an end open."""
    key = serial_key(serial)
    return (first is None or serial_key(first) <= key) and (last is None or key <= serial_key(last))


def as_numbered(serial: str, known: Iterable[str]) -> str | None:
    """``serial`` without what stands before it on a plate ("S/N 2201"), in the form of the serial numbers ``known``.

    None where it has letters and digits in other places than any of them, so that it cannot be set in their order: it
    is misread, or of another machine. Where none is known, any form will do.
    """
    forms = {_form(plain_number(each)) for each in known}
    plain = plain_number(serial)
    bare = _LEADS.sub("", plain, count=1) if _LEADS.match(plain) else plain
    return next((each for each in (plain, bare) if not forms or _form(each) in forms), None)


def _form(plain: str) -> str:
    """Letters as A and every run of digits as #."""
    return re.sub(r"[0-9]+", "#", re.sub(r"[A-Z]", "A", plain))


def follows(serial: str, before: str) -> bool:
    """True where ``serial`` is known to come right after ``before``: the digits at their ends count on by one."""
    one, other = (_RUN.fullmatch(plain_number(each)) for each in (before, serial))
    if one is None or other is None or one[1] != other[1]:
        return False
    return other[2] == str(int(one[2]) + 1).zfill(len(one[2]))


def leave_no_gap(ranges: Iterable[tuple[str | None, str | None]]) -> bool:
    """True where every serial number is known to lie within one of the ``ranges`` (first, last)."""
    rest = sorted(ranges, key=lambda each: (0, "") if each[0] is None else serial_key(each[0]))
    if not rest or rest[0][0] is not None:
        return False
    reached = rest[0][1]
    for first, last in rest[1:]:
        if reached is None:
            return True
        if first is not None and not (within(first, None, reached) or follows(first, reached)):
            return False
        if last is None or not within(last, None, reached):
            reached = last
    return reached is None
