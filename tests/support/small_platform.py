"""A small platform that passes every check, and the means to change one statement of it.

It holds every class of the ontology. Tests change one thing and look for the one finding.
"""

from __future__ import annotations

from pathlib import Path

NAME = "small-box.ttl"
FILE = Path(__file__).with_name(NAME)
TURTLE = FILE.read_text(encoding="utf-8")


def changed(old: str, new: str, *, start: str = "") -> str:
    """The platform with the first ``old`` behind ``start`` (which must start a line) written as ``new``."""
    place = TURTLE.index("\n" + start) if start else 0
    at = TURTLE.index(old, place)
    return TURTLE[:at] + new + TURTLE[at + len(old) :]


def with_more(statements: str) -> str:
    """The platform with more statements at its end."""
    return TURTLE + "\n" + statements + "\n"
