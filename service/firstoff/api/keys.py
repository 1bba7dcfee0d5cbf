"""Keys as the routes know them: whose key it is, and the key that makes a request count once."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Annotated

from fastapi import Depends, Header, Request
from fastapi.security import HTTPAuthorizationCredentials, HTTPBearer

from firstoff.access.needs import refusal
from firstoff.api.access import key_of
from firstoff.errors import IdempotencyKeyNeeded

_UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")


def _holder(scope: str) -> Callable[..., str]:
    """A dependency: the name of whoever's key a request was sent with, which has ``scope``.

    The key was judged before the body was read; it is judged here again, so that no route is open by itself.
    """
    documented = Depends(
        HTTPBearer(auto_error=False, scheme_name=scope, description=f"A key with the scope `{scope}`.")
    )

    def holder(request: Request, credentials: HTTPAuthorizationCredentials | None = documented) -> str:
        key = key_of(request.scope)
        anyone_may = request.app.state.keys.anyone_may(scope)
        refused = refusal(scope, key, sent=credentials is not None, anyone_may=anyone_may)
        if refused is not None:
            raise refused
        assert key is not None  # or it would have been refused
        return key.name

    return holder


MayTell = Depends(_holder("outcomes"))
MayPublish = Depends(_holder("publish"))
Publisher = Annotated[str, MayPublish]


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
