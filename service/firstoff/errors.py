"""The exception tree of firstoff.

::

    FirstoffError
    ├── StoreError              the engine that holds the triples
    │   ├── ContentSyntax       a Turtle document cannot be parsed
    │   ├── QueryRefused        a query the engine does not accept
    │   ├── NotHeld             content that the engine cannot keep as it is written
    │   ├── EngineFailed        anything else the engine reports
    │   └── HistoryFailed       the folder of content and its versions cannot be read or written
    ├── NotFound                a name that is not in the content; carries the nearest names
    ├── AmbiguousModel          a number that fits more than one model
    ├── SerialNeeded            the answer depends on a serial range that was not given
    ├── ContentBroken           content that passed no check and cannot be compiled
    ├── BadRequest              a request that cannot be answered as it stands
    ├── TargetUnreachable       a target that no plan reaches within the limits given; says what stands in the way
    ├── OutOfTime               the time for one answer ended before there was any
    ├── NotAcceptable           a representation that is not offered
    ├── WritingOff              something that cannot be written until the service is set up for it
    │   └── PublishedElsewhere  what only the service that publishes has or does; says where that is
    ├── KeyNeeded               a request without a key where one is needed, or with one that is unknown
    ├── ScopeMissing            a request with a key that may do other things
    ├── TooManyRequests         more requests than are granted in a minute; says when to come back
    ├── TooBusy                 too much is computed already, or an answer took too long; says when to come back
    ├── IdempotencyKeyNeeded    a request without an idempotency key, or with one that is none
    ├── KeyReused               an idempotency key that came before with another body
    ├── StateFailed             the folder of what is kept cannot be read or written
    ├── ContentMissing          a folder or file of content that is not there
    ├── ContentRefused          content that did not pass the check; carries the findings
    ├── PreconditionNeeded      a save that does not say which version it replaces
    ├── UnsupportedMedia        a body of a kind that is not read here
    ├── QueryMalformed          a text that is no SPARQL query
    ├── QueryNotAllowed         a query that changes something or asks another service
    ├── QueryStopped            a query that ran over its time or its memory
    ├── AnswerTooLarge          an answer with more rows or bytes than are given out
    ├── QueriesBusy             more queries than can wait, or none can be answered yet; says when to try again
    ├── QueriesOff              queries are turned off here, or the content is too large for them
    └── Stale                   a save over a version that another author has replaced; says what changed

The pure rooms have trees of their own (``removal.RemovalError`` and the like); ``answers`` translates what a request
can cause, so that both ways to ask meet this tree alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

_LOOK_UP = (
    "A search finds parts, symptoms, codes and models; what is known of a model lists its devices, states and tools; "
    "its outcomes list its faults."
)


class FirstoffError(Exception):
    """Root of the tree; ``mend`` says what to do."""

    mend = "Correct the request and try again."

    def __init__(self, detail: str, *, mend: str | None = None) -> None:
        super().__init__(detail)
        self.detail = detail
        if mend is not None:
            self.mend = mend


class StoreError(FirstoffError):
    mend = "Try again; if it goes on, look at the service's log."


class ContentSyntax(StoreError):
    """A Turtle document with a syntax error at ``line`` (counted from 1) and ``column``."""

    def __init__(self, file: str, line: int | None, column: int | None, expected: str) -> None:
        where = f"{file}, line {line}" if line is not None else file
        super().__init__(f"{where}: {expected}", mend="Correct the line and check the file again.")
        self.file = file
        self.line = line
        self.column = column
        self.expected = expected


class QueryRefused(StoreError):
    """The engine does not accept the query text."""


class NotHeld(StoreError):
    """Content that the engine cannot keep as it is written."""

    mend = "Write the value that is named otherwise, or use another engine (FIRSTOFF_ENGINE)."


class EngineFailed(StoreError):
    """The engine failed on a query it accepted, or does not answer; worth trying again."""


class HistoryFailed(StoreError):
    """The folder of content, or the versions kept beside it, cannot be read or written."""

    mend = "See that the folder of content can be written to and has room; nothing was half published."


class NotFound(FirstoffError):
    """``what`` (such as "model") named ``name`` is unknown; ``nearest`` are names that exist."""

    def __init__(self, what: str, name: str, nearest: Sequence[str] = ()) -> None:
        name = name if len(name) <= 100 else f"{name[:100]}…"
        hint = f" Nearest: {', '.join(nearest)}." if nearest else ""
        super().__init__(
            f"There is no {what} {name!r}.{hint}",
            mend=f"Use one of the nearest names. {_LOOK_UP}" if nearest else _LOOK_UP,
        )
        self.what = what
        self.name = name
        self.nearest = tuple(nearest)


class AmbiguousModel(FirstoffError):
    """Several models read alike as ``number``."""

    def __init__(self, number: str, models: Sequence[str]) -> None:
        super().__init__(f"{number!r} can be read as {', '.join(models)}.", mend="Name the model by its slug.")
        self.models = tuple(models)


class SerialNeeded(FirstoffError):
    """The answers for the serial ranges of ``model`` differ; ``ranges`` says how, one sentence each."""

    def __init__(self, model: str, ranges: Sequence[str]) -> None:
        super().__init__(
            f"The answer for {model} depends on its serial number: {'; '.join(ranges)}.",
            mend="Read the serial number on the rating plate and give it as serial=.",
        )
        self.ranges = tuple(ranges)


class ContentBroken(FirstoffError):
    """Content that cannot be compiled into a read model."""

    mend = "Run `firstoff check` on the platform's file and mend what it names."


class BadRequest(FirstoffError):
    """A request that is understood but cannot be answered as it stands."""


class NotAcceptable(FirstoffError):
    """The Accept header asks for a representation that is not offered."""

    mend = "Ask for application/json or application/ld+json."


class WritingOff(FirstoffError):
    """Something that cannot be written until the service is set up for it; ``mend`` says how."""


class PublishedElsewhere(WritingOff):
    """What only the service that publishes has or does, asked of one that reads; ``mend`` says where to ask."""


class KeyNeeded(FirstoffError):
    """A request without a key where one is needed, or with one that is not known; ``challenge`` is RFC 6750's, 3."""

    mend = "Send the header Authorization: Bearer and a key that whoever runs this service gave you."

    def __init__(self, detail: str, *, challenge: str) -> None:
        super().__init__(detail)
        self.challenge = challenge


class ScopeMissing(FirstoffError):
    """A request with a key that may do other things; ``scope`` is what it lacks, ``challenge`` RFC 6750's, 3.1."""

    mend = "Send a key that has the scope; whoever runs this service makes one with `firstoff new-key`."

    def __init__(self, detail: str, *, scope: str, challenge: str) -> None:
        super().__init__(detail)
        self.scope = scope
        self.challenge = challenge


class TooManyRequests(FirstoffError):
    """More requests than are granted in a minute; one more is in ``retry_after`` seconds."""

    mend = "Wait as long as Retry-After says, and ask less often."

    def __init__(self, detail: str, *, retry_after: int) -> None:
        super().__init__(detail)
        self.retry_after = retry_after


class TooBusy(FirstoffError):
    """Too much is computed already, or an answer took too long; it is worth trying in ``retry_after`` seconds."""

    mend = "Try again after the seconds that Retry-After says; ask for less at a time."

    def __init__(self, detail: str, *, retry_after: int) -> None:
        super().__init__(detail)
        self.retry_after = retry_after


class IdempotencyKeyNeeded(FirstoffError):
    """A request without an idempotency key, or with one that is no UUID."""

    mend = "Send the header Idempotency-Key with a new UUID for each job, and the same one when you send it again."


class KeyReused(FirstoffError):
    """An idempotency key that came before with another body."""

    mend = "Use a new key for another job; send the same body to have the first answer again."

    def __init__(self) -> None:
        super().__init__("This idempotency key came before, with another body.")


class StateFailed(FirstoffError):
    """The folder of what is kept cannot be read or written."""

    mend = "Send it again with the same idempotency key; if it goes on, look at the folder named in FIRSTOFF_STATE."


class OutOfTime(FirstoffError):
    """The time for one answer ended before there was any."""

    mend = "Ask for fewer targets at a time."


class TargetUnreachable(FirstoffError):
    """No plan reaches ``target``, or whatever the ``deed`` is; ``obstacles`` says why, one sentence a step that fails.

    ``limits`` are the limits of the day that stand in the way, ``would_do`` says what would make it reachable.
    """

    def __init__(
        self,
        target: str,
        obstacles: Sequence[str],
        missing_tools: Sequence[str],
        *,
        mend: str,
        limits: Sequence[str] = (),
        would_do: Sequence[str] = (),
        deed: str = "reached",
    ) -> None:
        super().__init__(f"{target} cannot be {deed}. {' '.join(obstacles)}".strip(), mend=mend)
        self.target = target.rstrip(",")
        self.obstacles = tuple(obstacles)
        self.missing_tools = tuple(missing_tools)
        self.limits = tuple(limits)
        self.would_do = tuple(would_do)


class ContentMissing(FirstoffError):
    """A folder or file of content that is not there."""

    mend = "Name a folder that holds one Turtle file for each platform."


class ContentRefused(FirstoffError):
    """Content that did not pass the check and was not published; ``findings`` are those of the check."""

    mend = "Mend the errors that are named; `firstoff check` tells them with their lines."

    def __init__(self, platform: str, findings: Sequence[Any]) -> None:
        super().__init__(f"{platform} was not published: the check found errors. What was served is still served.")
        self.findings = tuple(findings)


class PreconditionNeeded(FirstoffError):
    """A save that does not say which version it replaces."""

    mend = "Send If-Match with the ETag the change was made over, or If-None-Match: * for a new platform."


class UnsupportedMedia(FirstoffError):
    """A body of a kind that is not read here."""

    mend = "Send text/turtle, or an XLSX workbook with its media type."


class QueryMalformed(FirstoffError):
    """A text that is no SPARQL 1.1 query, or none that can be read."""

    mend = "Correct the query (SPARQL 1.1 Query Language)."


class QueryNotAllowed(FirstoffError):
    """A query that changes something or asks another service."""


class QueryStopped(FirstoffError):
    """A query that ran over its time or its memory and was stopped."""

    mend = "Ask for less: bind more, join less, add LIMIT, leave out ORDER BY."


class AnswerTooLarge(FirstoffError):
    """An answer with more rows or bytes than are given out. None of it is given, so that no answer is ever short."""

    mend = "Ask for less: add LIMIT (with ORDER BY and OFFSET for pages), or narrow the query."


class QueriesBusy(FirstoffError):
    """More queries than can wait, or none can be answered yet; ``retry_after`` is in seconds."""

    mend = "Try again after the seconds that Retry-After says."

    def __init__(self, detail: str, *, retry_after: int = 5) -> None:
        super().__init__(detail)
        self.retry_after = retry_after


class QueriesOff(FirstoffError):
    """Queries are turned off here, or the content is too large for them."""

    mend = "Ask for answers at /v1, or have whoever runs the service set FIRSTOFF_SPARQL_WORKERS."


class Stale(FirstoffError):
    """The version a save was meant to replace is not the one that is served; ``changed`` says how they differ.

    ``revision`` is that of the text that is served, None where there is none.
    """

    mend = "Take over what changed, and save again over the present version."

    def __init__(self, detail: str, revision: str | None, changed: Sequence[str] = ()) -> None:
        super().__init__(detail)
        self.revision = revision
        self.changed = tuple(changed)
