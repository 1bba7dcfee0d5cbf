"""One spelling for each value, whatever an engine makes of it, so that every engine gives the same terms."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal

from firstoff.store.terms import XSD

_INTEGER = re.compile(r"[+-]?[0-9]+")
_DOUBLE = re.compile(r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]+)?")
_DECIMAL = re.compile(r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)")


def canonical(value: str, datatype: str) -> str:
    """The spelling of a boolean, an integer, a decimal or a double that this project uses; other text as it is.

    ``1`` is ``true``, ``+07`` is ``7``, ``1.50`` is ``1.5`` and ``1e-3`` is ``1.0E-3``. These are the forms of
    XML Schema 1.1, part 2 (3.3.2 to 3.3.5, 3.4.13). What is no spelling of its datatype stays.
    """
    rule = CANONICAL.get(datatype)
    return rule(value) if rule else value


def _boolean(value: str) -> str:
    return {"1": "true", "0": "false"}.get(value, value)


def _integer(value: str) -> str:
    return _signed(value, value.lstrip("+-").lstrip("0")) if _INTEGER.fullmatch(value) else value


def _decimal(value: str) -> str:
    if not _DECIMAL.fullmatch(value):
        return value
    whole, _, part = value.lstrip("+-").partition(".")
    whole, part = whole.lstrip("0") or "0", part.rstrip("0")
    return _signed(value, f"{whole}.{part}" if part else whole)


def _signed(value: str, digits: str) -> str:
    digits = digits or "0"
    return f"-{digits}" if value.startswith("-") and digits != "0" else digits


def _double(value: str) -> str:
    if not _DOUBLE.fullmatch(value):
        return {"+INF": "INF"}.get(value, value)
    sign, digits, exponent = Decimal(repr(float(value))).normalize().as_tuple()
    if not isinstance(exponent, int):  # larger than any double
        return value
    first, *others = (str(digit) for digit in digits)
    whole = f"{first}.{''.join(others) or '0'}E{exponent + len(others) if any(digits) else 0}"
    return f"-{whole}" if sign else whole


CANONICAL: dict[str, Callable[[str], str]] = {
    XSD + "boolean": _boolean,
    XSD + "integer": _integer,
    XSD + "decimal": _decimal,
    XSD + "double": _double,
}
