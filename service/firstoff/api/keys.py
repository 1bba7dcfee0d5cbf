"""Who may write: keys known by their SHA-256 digests alone; and the key that makes a request count once."""

from __future__ import annotations

import hashlib
import hmac
import re
from collections.abc import Sequence
from typing import Annotated

from fastapi import Depends, Header, Request
from fastapi.security import HTTPAuthorizationCredentials, HTTPBearer

from firstoff.api.routing import desk_of
from firstoff.errors import IdempotencyKeyNeeded, KeyNeeded, WritingOff

_UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
_CHALLENGE = 'Bearer realm="firstoff"'
_bearer = HTTPBearer(auto_error=False, description="A key whose SHA-256 digest is in FIRSTOFF_OUTCOME_KEYS.")

_publishing = HTTPBearer(
    auto_error=False, scheme_name="publishing", description="A key whose digest is in FIRSTOFF_PUBLISH_KEYS."
)


def may_tell(
    request: Request, credentials: Annotated[HTTPAuthorizationCredentials | None, Depends(_bearer)] = None
) -> None:
    """Let a request pass whose bearer token (RFC 6750) is a key that may tell outcomes.

    :raises WritingOff: no key is set up.
    :raises KeyNeeded: there is no key, or it is not one of them.
    """
    known = [("", each) for each in desk_of(request).settings.key_digests]
    if not known:
        raise WritingOff(
            "This service takes no outcomes: no key is set up for it.",
            mend="Whoever runs it sets FIRSTOFF_STATE to a folder and FIRSTOFF_OUTCOME_KEYS to the digest that "
            "`firstoff new-key` prints.",
        )
    _holder(credentials, known, "Telling outcomes needs a key.", "This key may not tell outcomes.")


MayTell = Depends(may_tell)


def _publisher(
    request: Request, credentials: Annotated[HTTPAuthorizationCredentials | None, Depends(_publishing)] = None
) -> str:
    """The name of whoever's key the bearer token is.

    :raises WritingOff: no key is set up.
    :raises KeyNeeded: there is no key, or it is not one of them.
    """
    known = desk_of(request).settings.publishers
    if not known:
        raise WritingOff(
            "This service publishes nothing over HTTP: no key is set up for it.",
            mend="Whoever runs it sets FIRSTOFF_PUBLISH_KEYS to a name and the digest that `firstoff new-key` prints.",
        )
    return _holder(credentials, known, "Publishing needs a key.", "This key may not publish.")


MayPublish = Depends(_publisher)
Publisher = Annotated[str, MayPublish]


def _holder(
    credentials: HTTPAuthorizationCredentials | None, known: Sequence[tuple[str, str]], needed: str, refused: str
) -> str:
    """The name beside the digest of the key that was sent, of ``known`` names and digests.

    Every digest is compared, each in a time that does not depend on where it differs.
    """
    if credentials is None:
        raise KeyNeeded(needed, challenge=_CHALLENGE)
    sent = hashlib.sha256(credentials.credentials.encode()).hexdigest()
    names = [name for name, each in known if hmac.compare_digest(sent, each)]
    if not names:
        raise KeyNeeded(refused, challenge=f'{_CHALLENGE}, error="invalid_token"')
    return names[0]


def _idempotency_key(
    idempotency_key: Annotated[
        str | None,
        Header(description="A new UUID for each job; the same when a report is sent again, which then counts once."),
    ] = None,
) -> str:
    """The UUID of the header, in small letters; in quotes or not (draft-ietf-httpapi-idempotency-key-header, 2.1).

    :raises IdempotencyKeyNeeded: there is none, or it is something else: what is kept of it must name nobody.
    """
    if idempotency_key is None:
        raise IdempotencyKeyNeeded("There is no Idempotency-Key header.")
    found = idempotency_key.strip().lower()
    found = found[1:-1] if len(found) > 1 and found[0] == found[-1] == '"' else found
    if not _UUID.fullmatch(found):
        raise IdempotencyKeyNeeded("The idempotency key is no UUID.")
    return found


IdempotencyKey = Annotated[str, Depends(_idempotency_key)]
