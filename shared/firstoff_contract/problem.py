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
    request_id: str | None = Field(default=None, description="What the log has the error under.")
    nearest: list[str] | None = Field(default=None, description="Nearest names that do exist.")
    models: list[str] | None = Field(default=None, description="Models that a number may stand for.")
    ranges: list[str] | None = Field(default=None, description="Serial ranges and how they differ.")
    target: str | None = Field(default=None, description="The target that cannot be reached.")
    obstacles: list[str] | None = Field(default=None, description="What stands in the way, a sentence for each step.")
    missing_tools: list[str] | None = Field(default=None, description="Tools that would lift the obstacle.")
    fields: list[dict[str, str]] | None = Field(default=None, description="Where a request is wrong, and what.")
