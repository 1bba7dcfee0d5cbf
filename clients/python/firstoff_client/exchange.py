"""The whole of an exchange without the network: ask, wait and ask again, keep, read, and say what went wrong.

An exchange is a generator of steps. It yields a :class:`Send` and is given the reply, or a :class:`Wait` and is given
nothing; it returns the value, or raises an error of the tree. Whoever drives it does the sending and waiting, blocking
or not; so everything that is decided is decided here, once.
"""

from __future__ import annotations

from collections.abc import Generator, Mapping
from dataclasses import dataclass, field, replace
from typing import TypeVar
from urllib.parse import urlsplit

from .asking import JSON, LONGEST_ADDRESS, Question, UnknownFields
from .caching import Cache
from .contract.operation import Health
from .errors import BadName, FirstoffError, Nonsense, NoSuchAddress, OtherVersion
from .judging import Unread, judged
from .replies import Got, Reply, Send, Wait
from .retrying import Retrying, retry_after, worth_repeating
from .version import __version__

T = TypeVar("T")
Steps = Generator[Send | Wait, Reply | None, T]

#: Seconds that a slow question may take, where the client's own limits are shorter.
SLOW = 180.0
_PROBE = 5.0  # seconds to ask for the service's version


@dataclass(frozen=True, slots=True)
class Setup:
    """What every exchange of a client goes by. ``timeout`` are the seconds of one attempt."""

    base: str
    keys: Mapping[str, str] = field(default_factory=dict, repr=False)
    timeout: float = 10.0
    retrying: Retrying = field(default_factory=Retrying)
    unknown_fields: UnknownFields = "refuse"


def base_of(address: str) -> str:
    """The address of a service, without a slash at its end.

    :raises ValueError: it is no address of a service; says what one looks like.
    """
    parts = urlsplit(address)
    if parts.scheme not in ("http", "https") or not parts.hostname or parts.query or parts.fragment or parts.username:
        raise ValueError(f"{address!r} is no address of a service; give one such as http://localhost:8080")
    return address.rstrip("/")


def exchange(question: Question[T], setup: Setup, cache: Cache) -> Steps[T]:
    """Ask ``question`` and return its answer; what is kept of an earlier answer is asked for with its ETag.

    :raises FirstoffError: there is no good answer; the class says why.
    """
    if len(question.address) > 2 * LONGEST_ADDRESS:
        raise BadName(f"The address would be {len(question.address)} characters long.", "Ask for less at a time.")
    key = (question.address, question.form.accept)
    held = cache.held(key) if question.method == "GET" else None
    where = f"{question.method} {setup.base}{question.address}"
    if len(where) > 200:
        where = f"{where[:200]}…"
    reply = yield from _tried(_request(question, setup, held), question, setup)
    wait = retry_after(reply.headers) if isinstance(reply, Got) else None
    if isinstance(reply, Got) and reply.status == 304:
        reply = _still(reply, held, where)
    try:
        value = judged(question, reply, where, setup.unknown_fields, wait)
    except Unread as unread:
        raise (yield from _unread(unread.why, where, setup)) from unread.__cause__
    except NoSuchAddress as problem:
        raise (yield from _other_version(setup, where, "it has no such address")) or problem from None
    if question.method == "GET" and isinstance(reply, Got) and reply is not held:
        cache.keep(key, reply)
    return value


def _request(question: Question[T], setup: Setup, held: Got | None) -> Send:
    headers = {"accept": question.form.accept, "user-agent": f"firstoff-client/{__version__}", **question.headers}
    if held is not None and held.etag is not None:
        headers["if-none-match"] = held.etag
    secret = setup.keys.get(question.key) if question.key else None
    if secret is not None:
        headers["authorization"] = f"Bearer {secret}"
    for name, value in headers.items():
        if not value.isascii() or not value.isprintable():
            raise BadName(f"What is given for {name} has letters that a header cannot have.", "Give it in plain ASCII.")
    seconds = max(setup.timeout, SLOW) if question.slow else setup.timeout
    return Send(question.method, setup.base + question.address, headers, question.body, seconds)


def _tried(send: Send, question: Question[T], setup: Setup) -> Generator[Send | Wait, Reply | None, Reply]:
    """Send until there is a reply that asking again would not better, or the attempts or the time are over."""
    retrying = setup.retrying
    end = retrying.clock() + max(retrying.total, send.seconds if question.slow else 0.0)
    attempt = 0
    while True:
        attempt += 1
        left = end - retrying.clock()
        reply = yield replace(send, seconds=min(send.seconds, max(left, 0.001)))
        assert reply is not None, "a Send is answered with a reply"
        if not worth_repeating(reply, repeatable=question.repeatable) or _answers(question, reply):
            return reply
        pause = retrying.pause(attempt, retry_after(reply.headers) if isinstance(reply, Got) else None)
        if pause is None or retrying.clock() + pause >= end:
            return reply
        yield Wait(pause)


def _answers(question: Question[T], reply: Reply) -> bool:
    return isinstance(reply, Got) and reply.status in question.answered and reply.media_type == question.form.accept


def _still(reply: Got, held: Got | None, where: str) -> Got:
    """The answer kept, which a 304 says still holds.

    :raises Nonsense: nothing was kept, or something else is said to hold.
    """
    if held is None:
        raise Nonsense(
            f"{where}: answered 304 (not modified), though nothing was kept to be modified.",
            "Ask without a cache in between; if it goes on, see what stands in front of the service.",
        )
    if reply.etag is not None and reply.etag.removeprefix("W/") != (held.etag or "").removeprefix("W/"):
        raise Nonsense(
            f"{where}: answered 304 (not modified) for another answer than the one that is kept.",
            "Ask with a new client; if it goes on, see what stands in front of the service.",
        )
    return held


def _unread(why: str, where: str, setup: Setup) -> Generator[Send | Wait, Reply | None, FirstoffError]:
    """The error for a good answer that cannot be read; asks the service for its version to say why."""
    other = yield from _other_version(setup, where, why)
    return other or Nonsense(
        f"{where}: the answer is not what the contract says: {why}.",
        "See whether a firstoff service is at this address, and nothing changes its answers on the way.",
    )


def _other_version(setup: Setup, where: str, why: str) -> Generator[Send | Wait, Reply | None, OtherVersion | None]:
    """An error that names both versions, None where the service's is ours or cannot be told."""
    headers = {"accept": JSON, "user-agent": f"firstoff-client/{__version__}"}
    reply = yield Send("GET", f"{setup.base}/healthz", headers, None, min(setup.timeout, _PROBE))
    try:
        theirs = Health.model_validate_json(reply.body).version if isinstance(reply, Got) else __version__
    except ValueError:
        return None
    if theirs == __version__:
        return None
    return OtherVersion(
        f"{where}: the service is version {theirs}, this client {__version__}, and the answer cannot be read: {why}.",
        f"Install firstoff-client {theirs}.",
        theirs,
        __version__,
    )
