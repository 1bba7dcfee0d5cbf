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


class ReadinessCheck(Answer):
    """One thing that has to hold."""

    name: str
    status: Literal["ready", "degraded", "unavailable"]
    said: str = Field(description="What was found, in a sentence.")


class Readiness(Answer):
    status: Literal["ready", "degraded", "unavailable"] = Field(
        description="The worst of the checks: `degraded` where something of the service is missing, `unavailable` "
        "where no request should be sent to it."
    )
    checks: list[ReadinessCheck]
    revision: str
    platforms: int
    models: int
    refused: list[Refused]
