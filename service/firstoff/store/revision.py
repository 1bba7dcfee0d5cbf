"""Digests of content."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable


def text_revision(text: str) -> str:
    """Sixteen hexadecimal digits of SHA-256 over a document as it is written.

    A document written otherwise that says the same has another revision: caches are then filled again, no more. (Names
    for blank nodes that do not depend on the writing cost ten times the loading of the document.)
    """
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:16]


def combined(revisions: Iterable[str]) -> str:
    """One revision for several, whatever their order."""
    return hashlib.sha256("\n".join(sorted(revisions)).encode()).hexdigest()[:16]
