"""What each address needs: a scope, or nothing. What is not named here is reading."""

from __future__ import annotations

import re

from firstoff.access.keys import Key
from firstoff.errors import FirstoffError, KeyNeeded, ScopeMissing, WritingOff

CHALLENGE = 'Bearer realm="firstoff"'
_ALWAYS_OPEN = re.compile(r"/|/healthz|/readyz|/favicon\.ico|/(phone|javascript)/.*")
_READS = ("GET", "HEAD", "OPTIONS")

WRITING = ("publish", "outcomes")
"""Scopes of what changes something."""

_DEEDS = {
    "read": "Reading",
    "sparql": "Asking queries",
    "publish": "Publishing",
    "outcomes": "Telling outcomes",
    "metrics": "Reading the metrics",
}
_OFF = {
    "publish": "This service publishes nothing over HTTP: no key is set up for it.",
    "outcomes": "This service takes no outcomes: no key is set up for it.",
}


def needed(method: str, path: str, *, reading_by_key: bool, keys_are_set_up: bool) -> str | None:
    """The scope that a request needs, None where anybody may.

    Metrics are open only where there are no keys at all: a service on one's own machine.
    """
    if method not in _READS:
        if path == "/v1/graphs" or path.startswith("/v1/graphs/"):
            return "publish"
        if path == "/v1/outcomes":
            return "outcomes"
    if path == "/metrics":
        return "metrics" if keys_are_set_up else None
    if not reading_by_key or (method in _READS and _ALWAYS_OPEN.fullmatch(path)):
        return None
    return "sparql" if path == "/sparql" else "read"


def refusal(scope: str, key: Key | None, *, sent: bool, anyone_may: bool) -> FirstoffError | None:
    """Why whoever has ``key`` may not do what needs ``scope``; None where they may. ``sent``: a key came along."""
    if not anyone_may and scope in _OFF:
        return WritingOff(
            _OFF[scope],
            mend="Whoever runs it sets FIRSTOFF_KEYS to a file, and adds a key to it with "
            f"`firstoff new-key NAME --scope {scope}`.",
        )
    if not sent:
        return KeyNeeded(f"{_DEEDS[scope]} needs a key.", challenge=CHALLENGE)
    if key is None:
        return KeyNeeded(
            "This key is not known here, or does not hold now.", challenge=f'{CHALLENGE}, error="invalid_token"'
        )
    if scope not in key.scopes:
        return ScopeMissing(
            f"This key may not do this: {_DEEDS[scope].lower()} needs the scope {scope!r}.",
            scope=scope,
            challenge=f'{CHALLENGE}, error="insufficient_scope", scope="{scope}"',
        )
    return None
