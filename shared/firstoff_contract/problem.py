"""Problem documents (RFC 9457)."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict, Field


class Problem(BaseModel):
    """Body of every error; further members depend on ``type``."""

    model_config = ConfigDict(extra="allow")

    type: str = Field(description="Stable address of the kind of problem.")
    title: str
    status: int
    detail: str = Field(description="What is wrong, in a sentence.")
    mend: str = Field(description="What to do about it.")
    instance: str | None = None
    nearest: list[str] | None = Field(default=None, description="Nearest names that do exist.")
