"""What passes between the pure core and the network: a request to send, a wait, and what came of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Send:
    """A request that is to be sent to ``address``; it has ``seconds`` until its whole answer must be there."""

    method: str
    address: str
    headers: Mapping[str, str]
    body: bytes | None
    seconds: float


@dataclass(frozen=True, slots=True)
class Wait:
    """Nothing is to be done for ``seconds``."""

    seconds: float


@dataclass(frozen=True, slots=True)
class Got:
    """An answer, read whole. Names of ``headers`` are in small letters."""

    status: int
    headers: Mapping[str, str]
    body: bytes

    @property
    def media_type(self) -> str:
        """The media type without its parameters; empty where none is told."""
        return self.headers.get("content-type", "").partition(";")[0].strip().lower()

    @property
    def etag(self) -> str | None:
        return self.headers.get("etag")


@dataclass(frozen=True, slots=True)
class Failed:
    """There is no answer, and why.

    ``unsent``: no connection, so nothing was sent. ``late``: the time was over. ``broken``: the connection broke.
    ``garbled``: what came cannot be read, or is more than is read.
    """

    how: Literal["unsent", "late", "broken", "garbled"]
    said: str


Reply = Got | Failed
