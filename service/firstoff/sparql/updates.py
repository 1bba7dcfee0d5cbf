"""The refusal of an update, wherever it is met."""

from __future__ import annotations

from firstoff.errors import QueryNotAllowed


def reading_only() -> QueryNotAllowed:
    """The refusal of an update."""
    return QueryNotAllowed(
        "This changes something, and SPARQL only reads here.",
        mend="Send a query: SELECT, ASK, CONSTRUCT or DESCRIBE. Content is published at /v1/graphs.",
    )
