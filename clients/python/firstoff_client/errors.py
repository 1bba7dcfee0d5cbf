"""The exception tree of the client; each says what is wrong (``detail``) and what to do (``mend``).

::

    FirstoffError
    ├── ProblemError              the service answered with a problem document (RFC 9457)
    │   ├── RequestRefused        the request cannot be answered as it stands (4xx), and every kind not named here
    │   │   ├── NotFound              a name is unknown; ``nearest`` are names that exist
    │   │   ├── NoSuchAddress         the service has no such address
    │   │   ├── AmbiguousModel        a number fits several ``models``
    │   │   ├── SerialNeeded          the answer depends on the serial number; ``ranges`` says how
    │   │   ├── BadRequest            understood, but contradicts itself or says nothing to answer
    │   │   ├── InvalidRequest        not of the expected form; ``fields`` names where
    │   │   ├── TargetUnreachable     no plan reaches ``target``; ``obstacles``, ``missing_tools``, ``limits``
    │   │   ├── NotAcceptable         a representation that is not offered
    │   │   ├── TooLarge              a body or an address that is too long
    │   │   ├── KeyNeeded             there is no key, or it is not known
    │   │   ├── ScopeMissing          the key may not do this
    │   │   ├── TooManyRequests       more was asked than this caller may; ``retry_after`` says how long to wait
    │   │   ├── QueryRefused          a query in SPARQL that is not run, was stopped, or has too large an answer
    │   │   ├── WritingOff            nothing of the kind can be written there
    │   │   ├── IdempotencyKeyNeeded  no idempotency key, or one that is no UUID
    │   │   ├── IdempotencyKeyReused  an idempotency key that came before with another body
    │   │   ├── UnsupportedMedia      a body of a kind that is not read
    │   │   ├── ContentRefused        content that did not pass the check; ``findings``
    │   │   ├── PreconditionNeeded    it is not said which version a save replaces
    │   │   └── Stale                 another version is served than the one a save was to replace; ``changed``
    │   └── ServiceFailed         the service could not answer (5xx)
    │       ├── OutOfTime             the time for one answer ended before there was any
    │       ├── TooBusy               as much is computed as may be at once; ``retry_after`` says how long to wait
    │       └── ContentBroken         the content of the platform cannot be used
    ├── NoAnswer                  nothing came back from the service
    │   ├── Unreachable           no connection; nothing was sent
    │   ├── TimedOut              no whole answer in time
    │   ├── Interrupted           the connection broke before the whole answer was there
    │   └── Unavailable           something in front of the service answered in its place (429, 502, 503, 504)
    ├── Nonsense                  an answer that is not the contract: HTML, broken JSON, a redirect, unknown fields
    │   └── OtherVersion          and the service is of another version than this client
    └── BadName                   a name that cannot be sent; also a ValueError
"""

from __future__ import annotations

from typing import Any

from .contract.problem import Problem

TYPE_BASE = "https://firstoff.example/problems/"


class FirstoffError(Exception):
    """Root of the tree: ``detail`` says what is wrong, ``mend`` what to do; ``nearest`` are names that do exist.

    ``retry_after`` are the seconds after which the service asked to be asked again; None where it did not.
    """

    nearest: tuple[str, ...] = ()
    retry_after: float | None = None

    def __init__(self, detail: str, mend: str) -> None:
        super().__init__(detail, mend)
        self.detail = detail
        self.mend = mend

    def __str__(self) -> str:
        return f"{self.detail} {self.mend}"


class ProblemError(FirstoffError):
    """A problem document, whole in ``problem``; what a kind of problem does not have is empty.

    ``type`` is stable: compare it, or catch the class, and never the text.
    """

    def __init__(self, problem: Problem, retry_after: float | None = None) -> None:
        super().__init__(problem.detail, problem.mend)
        self.args = (problem, retry_after)
        self.problem = problem
        self.retry_after = retry_after
        self.type = problem.type
        self.title = problem.title
        self.status = problem.status
        self.instance = problem.instance
        self.target = problem.target
        self.nearest = tuple(problem.nearest or ())
        self.models = tuple(problem.models or ())
        self.ranges = tuple(problem.ranges or ())
        self.obstacles = tuple(problem.obstacles or ())
        self.missing_tools = tuple(problem.missing_tools or ())
        self.fields = tuple(problem.fields or ())

    @property
    def limits(self) -> tuple[str, ...]:
        """Limits of the day that stand in the way."""
        return self._further("limits")

    @property
    def would_do(self) -> tuple[str, ...]:
        """What would make the target reachable, a sentence each."""
        return self._further("would_do")

    @property
    def changed(self) -> tuple[str, ...]:
        """What another author has changed meanwhile, a sentence each."""
        return self._further("changed")

    @property
    def findings(self) -> tuple[dict[str, Any], ...]:
        """Findings of the check that content did not pass."""
        return self._further("findings")

    def _further(self, name: str) -> tuple[Any, ...]:
        value = (self.problem.model_extra or {}).get(name)
        return tuple(value) if isinstance(value, list) else ()


class RequestRefused(ProblemError):
    """The request cannot be answered as it stands."""


class NotFound(RequestRefused):
    """A name is unknown; ``nearest`` are names that exist."""


class NoSuchAddress(RequestRefused):
    """The service has no such address."""


class AmbiguousModel(RequestRefused):
    """A number fits several ``models``."""


class SerialNeeded(RequestRefused):
    """The answer depends on the serial number; ``ranges`` says how, a sentence each."""


class BadRequest(RequestRefused):
    """The request is understood, but contradicts itself or says nothing to answer."""


class InvalidRequest(RequestRefused):
    """The request is not of the expected form; ``fields`` says where, and what."""


class TargetUnreachable(RequestRefused):
    """No plan reaches ``target``; ``obstacles`` says why."""


class NotAcceptable(RequestRefused):
    """A representation that is not offered."""


class TooLarge(RequestRefused):
    """A body or an address is too long."""


class KeyNeeded(RequestRefused):
    """There is no key, or it is not known."""


class ScopeMissing(RequestRefused):
    """The key may not do this."""


class TooManyRequests(RequestRefused):
    """More was asked than this caller may ask in the time."""


class QueryRefused(RequestRefused):
    """A query in SPARQL that is not run, was stopped, or has too large an answer."""


class WritingOff(RequestRefused):
    """Nothing of the kind can be written at this service."""


class IdempotencyKeyNeeded(RequestRefused):
    """There is no idempotency key, or it is no UUID."""


class IdempotencyKeyReused(RequestRefused):
    """The idempotency key came before, with another body."""


class UnsupportedMedia(RequestRefused):
    """A body of a kind that is not read."""


class ContentRefused(RequestRefused):
    """The content did not pass the check and was not published; ``findings`` are the check's."""


class PreconditionNeeded(RequestRefused):
    """It is not said which version a save replaces."""


class Stale(RequestRefused):
    """Another version is served than the one a save was to replace; ``changed`` says how they differ."""

    @property
    def etag(self) -> str | None:
        """ETag of the version that is served, None where there is none."""
        revision = (self.problem.model_extra or {}).get("revision")
        return f'"{revision}"' if isinstance(revision, str) and revision else None


class ServiceFailed(ProblemError):
    """The service could not answer."""


class OutOfTime(ServiceFailed):
    """The time for one answer ended before there was any."""


class TooBusy(ServiceFailed):
    """As much is computed as may be at once."""


class ContentBroken(ServiceFailed):
    """The content of the platform cannot be used."""


class NoAnswer(FirstoffError):
    """Nothing came back from the service."""


class Unreachable(NoAnswer):
    """There was no connection; nothing was sent."""


class TimedOut(NoAnswer):
    """There was no whole answer in time."""


class Interrupted(NoAnswer):
    """The connection broke before the whole answer was there."""


class Unavailable(NoAnswer):
    """Something in front of the service answered in its place."""


class Nonsense(FirstoffError):
    """An answer that is not the contract."""


class OtherVersion(Nonsense):
    """The service is of another version than this client, and its answer cannot be read."""

    def __init__(self, detail: str, mend: str, theirs: str, ours: str) -> None:
        super().__init__(detail, mend)
        self.args = (detail, mend, theirs, ours)
        self.theirs = theirs
        self.ours = ours


class BadName(FirstoffError, ValueError):
    """A name, or what is given for a header, that cannot be sent."""


#: The class of each kind of problem, by the last part of its ``type``.
KINDS: dict[str, type[ProblemError]] = {
    "not-found": NotFound,
    "no-such-address": NoSuchAddress,
    "ambiguous-model": AmbiguousModel,
    "serial-needed": SerialNeeded,
    "bad-request": BadRequest,
    "invalid-request": InvalidRequest,
    "malformed-body": InvalidRequest,
    "method-not-allowed": RequestRefused,
    "http-error": RequestRefused,
    "target-unreachable": TargetUnreachable,
    "not-acceptable": NotAcceptable,
    "body-too-large": TooLarge,
    "address-too-long": TooLarge,
    "key-needed": KeyNeeded,
    "scope-missing": ScopeMissing,
    "too-many-requests": TooManyRequests,
    "body-too-slow": RequestRefused,
    "malformed-query": QueryRefused,
    "query-not-allowed": QueryRefused,
    "query-stopped": QueryRefused,
    "answer-too-large": QueryRefused,
    "writing-off": WritingOff,
    "idempotency-key-needed": IdempotencyKeyNeeded,
    "idempotency-key-reused": IdempotencyKeyReused,
    "unsupported-media": UnsupportedMedia,
    "content-refused": ContentRefused,
    "precondition-needed": PreconditionNeeded,
    "stale": Stale,
    "out-of-time": OutOfTime,
    "too-busy": TooBusy,
    "queries-busy": TooBusy,
    "queries-off": ServiceFailed,
    "content-broken": ContentBroken,
    "store-failed": ServiceFailed,
    "state-failed": ServiceFailed,
    "unexpected": ServiceFailed,
}


def problem_error(problem: Problem, retry_after: float | None) -> ProblemError:
    """The exception of ``problem``: by its type, and by its status where the type is none that is known here."""
    by_status = ServiceFailed if problem.status >= 500 else RequestRefused
    kind = problem.type.removeprefix(TYPE_BASE) if problem.type.startswith(TYPE_BASE) else ""
    return KINDS.get(kind, by_status)(problem, retry_after)
