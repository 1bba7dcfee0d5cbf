"""Keys: a name, the digest the key is known by, what it may do, and from when until when.

A key is 256 bits of the system's random source, so its plain SHA-256 digest is enough: nobody can try 2**256 of them,
and salt or a slow hash, which passwords need because people choose them, would cost each request and gain nothing (NIST
SP 800-63B-4, 3.1.2.2, asks for salt and a costly hash where a secret has less than 112 bits).
"""

from __future__ import annotations

import hashlib
import hmac
import re
import secrets
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from difflib import get_close_matches
from typing import Any

from firstoff.errors import BadRequest

SCOPES = ("read", "sparql", "publish", "outcomes", "metrics")
_DIGEST = re.compile(r"[0-9a-f]{64}")
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,62}")
_FIELDS = ("name", "digest", "scopes", "from", "until")


@dataclass(frozen=True, slots=True)
class Key:
    """A key as a service knows it. It holds from ``begins`` on and before ``ends``, where they are told."""

    name: str
    digest: str
    scopes: frozenset[str]
    begins: datetime | None = None
    ends: datetime | None = None

    def holds(self, now: datetime) -> bool:
        """Whether it may be used at ``now``."""
        return (self.begins is None or self.begins <= now) and (self.ends is None or now < self.ends)


def new_key() -> str:
    """A key of 256 random bits, in 43 letters that a header takes."""
    return secrets.token_urlsafe(32)


def key_digest(key: str) -> str:
    """SHA-256 in hexadecimal."""
    return hashlib.sha256(key.encode()).hexdigest()


def found(keys: Iterable[Key], sent: str, now: datetime) -> Key | None:
    """The key that was sent, None where it is not among ``keys`` or does not hold now.

    Every digest is compared, each in a time that does not depend on where it differs.
    """
    digest = key_digest(sent)
    same = [each for each in keys if hmac.compare_digest(digest, each.digest)]
    return next((each for each in same if each.holds(now)), None)


def keys_in(text: str) -> tuple[Key, ...]:
    """The keys of a TOML text: a table ``[[keys]]`` each, with name, digest, scopes, and from and until at will.

    :raises BadRequest: it is something else. No value of the text is told: it might be a key.
    """
    try:
        told = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        where = re.search(r"line \d+", str(error))
        raise BadRequest(f"It is no TOML{', ' + where[0] if where else ''}.", mend=_MEND) from error
    tables = told.pop("keys", [])
    if told or not isinstance(tables, list) or not all(isinstance(each, dict) for each in tables):
        raise BadRequest("It holds something else than tables [[keys]].", mend=_MEND)
    keys = tuple(_key(number, each) for number, each in enumerate(tables, start=1))
    if len({each.digest for each in keys}) < len(keys):
        raise BadRequest("Two keys have one digest.", mend="Give each its own, with `firstoff new-key`.")
    return keys


_MEND = "Correct it; `firstoff new-key` adds a key to a file as it should be."


def _key(number: int, told: Mapping[str, Any]) -> Key:
    def refused(what: str, mend: str = _MEND) -> BadRequest:
        return BadRequest(f"Key {number}: {what}.", mend=mend)

    for field in told:
        if field not in _FIELDS:
            nearest = get_close_matches(field, _FIELDS, n=1) or ["name, digest, scopes, from or until"]
            raise refused(f"a field is none that a key has; nearest: {nearest[0]}")
    name, digest, scopes = told.get("name"), told.get("digest"), told.get("scopes")
    if not isinstance(name, str) or not _NAME.fullmatch(name):
        raise refused("the name is not of 1 to 63 letters, digits, dots, hyphens and underscores")
    if not isinstance(digest, str) or not _DIGEST.fullmatch(digest.lower()):
        raise refused(
            "the digest is no SHA-256 digest in hexadecimal",
            "Put the digest there, never the key; `firstoff new-key` does so.",
        )
    if not isinstance(scopes, list) or not scopes or not all(each in SCOPES for each in scopes):
        raise refused(f"the scopes are no list of some of {', '.join(SCOPES)}")
    try:
        begins, ends = _moment(told.get("from"), timedelta()), _moment(told.get("until"), timedelta(days=1))
    except (ValueError, OverflowError) as error:
        raise refused(
            "from or until is no day and no moment with its offset", "Write 2026-11-27 or 2026-11-27T08:00:00Z."
        ) from error
    if begins and ends and begins >= ends:
        raise refused("until is before from")
    return Key(name, digest.lower(), frozenset(scopes), begins, ends)


def _moment(told: Any, after: timedelta) -> datetime | None:
    """A moment; a day is its begin in UTC and ``after``, so that until a day is to its end.

    :raises ValueError: it is neither, or has no offset.
    """
    if told is None:
        return None
    if isinstance(told, datetime) and told.tzinfo is not None:
        return told.astimezone(UTC)
    if isinstance(told, date) and not isinstance(told, datetime):
        return datetime.combine(told, time(), UTC) + after
    raise ValueError


def table_of(key: Key) -> str:
    """The table of a key, as ``keys_in`` reads it."""
    scopes = ", ".join(f'"{each}"' for each in SCOPES if each in key.scopes)
    times = [
        f"{word} = {moment.astimezone(UTC).isoformat().replace('+00:00', 'Z')}"
        for word, moment in (("from", key.begins), ("until", key.ends))
        if moment is not None
    ]
    lines = ["[[keys]]", f'name = "{key.name}"', f'digest = "{key.digest}"', f"scopes = [{scopes}]", *times]
    return "\n".join(lines) + "\n"
