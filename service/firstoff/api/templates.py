"""Addresses as the routes write them, so that what is counted by address stays a short list."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache

from starlette.routing import compile_path

#: What no route of the document answers: files of the app, pages, and what is not there.
OTHER = "other"


def template_of(templates: Iterable[str]) -> Callable[[str], str]:
    """A function from a path to the template it fits, ``OTHER`` where it fits none; one without names goes first."""
    ordered = sorted(set(templates), key=lambda each: (each.count("{"), each))
    patterns = [(compile_path(each)[0], each) for each in ordered]

    @lru_cache(maxsize=4_096)
    def found(path: str) -> str:
        return next((template for pattern, template in patterns if pattern.match(path)), OTHER)

    return found
