"""When a request is sent again, and after how long: exponential backoff with full jitter, within a bounded time.

Of the n-th pause the backoff is drawn evenly from 0 to ``first * 2**(n - 1)`` seconds, at most ``most``. Where the
service says ``Retry-After`` (RFC 9110, 10.2.3), as seconds or as a date, the pause is that long and the backoff more,
so that clients that were turned away together do not come back together.
"""

from __future__ import annotations

import math
import random
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from email.utils import parsedate_to_datetime

from .errors import TYPE_BASE
from .judging import problem_of
from .replies import Failed, Reply

_TURNED_AWAY = {429, 503}
_IN_THE_WAY = {429, 502, 503, 504}
#: Kinds of problem that come with one of these statuses, and that the same request meets again.
_LASTING = {f"{TYPE_BASE}{kind}" for kind in ("out-of-time", "content-broken", "queries-off")}


@dataclass(frozen=True, slots=True)
class Retrying:
    """How often and how long: ``attempts`` in all, within ``total`` seconds, the first pause up to ``first`` seconds.

    ``clock`` tells seconds that only grow, ``chance`` draws evenly from 0 to 1.
    """

    attempts: int = 4
    first: float = 0.25
    most: float = 8.0
    total: float = 30.0
    clock: Callable[[], float] = field(default=time.monotonic, repr=False)
    chance: Callable[[], float] = field(default=random.random, repr=False)

    def __post_init__(self) -> None:
        if self.attempts < 1 or min(self.first, self.most, self.total) < 0:
            raise ValueError("attempts must be at least 1, and first, most and total not negative")

    def pause(self, attempt: int, retry_after: float | None) -> float | None:
        """Seconds to wait after the ``attempt``-th attempt (from 1); None where it was the last."""
        if attempt >= self.attempts:
            return None
        backoff = min(self.most, self.first * 2.0 ** min(attempt - 1, 60))
        return (retry_after or 0.0) + self.chance() * backoff


def worth_repeating(reply: Reply, *, repeatable: bool) -> bool:
    """Whether the same request may be sent again after ``reply``, and may then be answered.

    ``repeatable`` is true of requests that do the same however often they arrive. Others are sent again only where the
    service cannot have carried them out: nothing was sent, or it turned them away.
    """
    if isinstance(reply, Failed):
        return reply.how == "unsent" or (repeatable and reply.how in ("late", "broken"))
    if reply.status not in (_IN_THE_WAY if repeatable else _TURNED_AWAY):
        return False
    problem = problem_of(reply)
    return problem is None or problem.type not in _LASTING


def retry_after(headers: Mapping[str, str], now: Callable[[], float] = time.time) -> float | None:
    """The seconds that ``Retry-After`` asks for; None where it is absent or cannot be read.

    A date is taken against the answer's own ``Date``, so that clocks that differ do no harm; against ``now`` where it
    has none. A date that is over is 0 seconds.
    """
    said = headers.get("retry-after", "").strip()
    if said.isascii() and said.isdigit():
        return float(said) if len(said) < 16 else math.inf
    until = _moment(said)
    if until is None:
        return None
    return max(0.0, until - (_moment(headers.get("date", "")) or now()))


def _moment(said: str) -> float | None:
    try:
        moment = parsedate_to_datetime(said)
        return (moment if moment.tzinfo else moment.replace(tzinfo=UTC)).timestamp()
    except (ValueError, TypeError, OverflowError, IndexError):
        return None


def http_date(moment: float) -> str:
    """``moment`` (seconds since 1970) as an HTTP date (RFC 9110, 5.6.7)."""
    return datetime.fromtimestamp(moment, UTC).strftime("%a, %d %b %Y %H:%M:%S GMT")
