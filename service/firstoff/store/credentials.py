"""Who the service is to its engine. Shown nowhere."""

from __future__ import annotations

from collections.abc import Generator, Mapping
from dataclasses import dataclass, field

import httpx2

from firstoff.errors import BadRequest

USER, PASSWORD = "FIRSTOFF_ENGINE_USER", "FIRSTOFF_ENGINE_PASSWORD"


@dataclass(frozen=True, slots=True)
class Credentials:
    """From the environment alone; ``repr`` shows neither part."""

    user: str = field(repr=False)
    password: str = field(repr=False)

    @classmethod
    def from_environment(cls, environment: Mapping[str, str]) -> Credentials | None:
        """None where neither is set.

        :raises BadRequest: only one of the two is set.
        """
        user, password = environment.get(USER, ""), environment.get(PASSWORD, "")
        if not user and not password:
            return None
        if not user or not password:
            raise BadRequest(
                f"Only one of {USER} and {PASSWORD} is set.",
                mend="Set both, or neither where the engine asks for none.",
            )
        return cls(user, password)


class AsAsked(httpx2.Auth):
    """Nothing until the server asks; then Digest where it offers that (RFC 7616), else Basic (RFC 7617)."""

    def __init__(self, credentials: Credentials) -> None:
        self._digest = httpx2.DigestAuth(credentials.user, credentials.password)
        self._basic = httpx2.BasicAuth(credentials.user, credentials.password)
        self._chosen: httpx2.Auth | None = None

    def auth_flow(self, request: httpx2.Request) -> Generator[httpx2.Request, httpx2.Response, None]:
        if self._chosen is None:
            response = yield request
            if response.status_code != 401:
                return
            asked = " ".join(response.headers.get_list("www-authenticate")).lower()
            if "digest " in asked:
                self._chosen = self._digest
            elif "basic " in asked:
                self._chosen = self._basic
            else:
                return
        yield from self._chosen.auth_flow(request)
