"""Lists that come in pages: the question for the next page, from the answer to the one before."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Generic, TypeVar
from urllib.parse import parse_qsl, urlsplit

from .asking import Question
from .contract.catalogue import Page
from .errors import Nonsense

A = TypeVar("A")
I = TypeVar("I")  # noqa: E741


@dataclass(frozen=True, slots=True)
class Listing(Generic[A, I]):
    """A list whose pages are answers of type ``A`` with entries of type ``I``."""

    first: Question[A]
    entries: Callable[[A], Sequence[I]]
    page: Callable[[A], Page]

    def after(self, question: Question[A], answer: A) -> Question[A] | None:
        """The question for the page after ``answer`` to ``question``, None after the last.

        :raises Nonsense: the next page is said to be somewhere else, or not further on.
        """
        page = self.page(answer)
        if page.next is None:
            return None
        parts = urlsplit(page.next)
        asked = tuple(parse_qsl(parts.query, keep_blank_values=True))
        offset = dict(asked).get("offset", "")
        passed = max(page.offset, int(dict(question.query).get("offset", "0")))
        onward = offset.isascii() and offset.isdigit() and int(offset) > passed
        if parts.scheme or parts.netloc or not onward:
            raise Nonsense(
                f"The page after {passed} is said to be at {page.next[:200]}, which is not further on.",
                "See what stands at this address; a firstoff service gives pages in order.",
            )
        return replace(self.first, query=asked)
