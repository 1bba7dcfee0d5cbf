"""How often somebody may ask: so many in a minute, at once or spread, for each key or address.

The algorithm is GCRA (ITU-T I.371, annex A, virtual scheduling): of each asker one number is kept, the moment at which
all of their share is there again. Time is the caller's and only ever grows (``time.monotonic``), so that a clock which
is set back locks nobody out; the library `limits` counts by ``time.time`` and does. What is kept is bounded.
"""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass
from ipaddress import IPv6Address, ip_address
from math import ceil

WINDOW = 60.0
"""Seconds for which a number of requests holds."""

_MOST_ASKERS = 100_000
_SLACK = 1e-6  # seconds: what floats lose


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether a request may be answered, how many more may be asked at once, and the seconds until there is one more
    (``wait``, 0 where there is one) and until all are there (``reset``)."""

    allowed: bool
    remaining: int
    wait: float
    reset: float


class Rates:
    """``count`` requests in ``WINDOW`` for each asker; of more than ``most`` the one longest silent is forgotten."""

    def __init__(self, count: int, most: int = _MOST_ASKERS) -> None:
        self.count = count
        self._most = most
        self._whole_at: OrderedDict[str, float] = OrderedDict()

    def take(self, asker: str, now: float) -> Verdict:
        """Count a request at ``now``, in seconds; one that is refused does not count."""
        each = WINDOW / self.count
        before = max(self._whole_at.get(asker, now), now)
        after = before + each
        over = after - now - WINDOW
        if over > _SLACK:
            return Verdict(False, 0, over, before - now)
        self._whole_at[asker] = after
        self._whole_at.move_to_end(asker)
        if len(self._whole_at) > self._most:
            self._whole_at.popitem(last=False)
        return Verdict(True, int((WINDOW - (after - now)) / each + _SLACK), 0.0, after - now)


def asker_at(address: str | None) -> str:
    """Who asks from ``address``: of IPv6 the first 64 bits, which one household has (RFC 6177)."""
    try:
        found = ip_address(address or "")
    except ValueError:
        return address or "unknown"
    if isinstance(found, IPv6Address):
        if found.ipv4_mapped is not None:
            return str(found.ipv4_mapped)
        return f"{IPv6Address(int(found) >> 64 << 64)}/64"
    return str(found)


def told(policy: str, count: int, verdict: Verdict) -> tuple[tuple[bytes, bytes], ...]:
    """The header fields of draft-ietf-httpapi-ratelimit-headers-10, sections 3 and 4: what is granted, what is left."""
    left = f'"{policy}";r={verdict.remaining};t={ceil(verdict.reset)}'
    return (
        (b"ratelimit-policy", f'"{policy}";q={count};w={WINDOW:.0f}'.encode()),
        (b"ratelimit", left.encode()),
    )
