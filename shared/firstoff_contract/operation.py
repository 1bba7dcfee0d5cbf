"""Health and readiness."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .common import Answer


class Health(Answer):
    status: Literal["ok"]
    version: str


class Refused(Answer):
    """A content file that is not served, and why."""

    file: str
    line: int | None
    reason: str


class Readiness(Answer):
    status: Literal["ready", "degraded", "unavailable"] = Field(
        description="`degraded` where some content or a new file of keys was refused, `unavailable` where nothing is "
        "served or the engine does not answer."
    )
    revision: str
    platforms: int
    models: int
    refused: list[Refused]
    engine: str | None = Field(default=None, description="Why the engine cannot be counted on; null where it can.")
    keys: str | None = Field(
        default=None, description="Why the keys are not as their file is now; null where they are."
    )
