"""Logs: one line an event, plain for a person or JSON for a collector, on standard error.

A line holds no control character, so that nothing a caller sends can look like a line of its own.
"""

from __future__ import annotations

import json
import logging
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any, Literal, TextIO

Form = Literal["plain", "json"]


class _Lines(logging.Formatter):
    def __init__(self, form: Form, request_id: Callable[[], str | None]) -> None:
        super().__init__()
        self._form = form
        self._request_id = request_id

    def format(self, record: logging.LogRecord) -> str:
        told: dict[str, Any] = {
            "time": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "logger": record.name,
            "said": record.getMessage(),
            "request_id": self._request_id(),
            **getattr(record, "told", {}),
        }
        if record.exc_info:
            told["traceback"] = self.formatException(record.exc_info)
        told = {name: value for name, value in told.items() if value is not None}
        if self._form == "json":
            return json.dumps(told, ensure_ascii=True, default=str)
        first = " ".join(_plain(str(told.pop(name))) for name in ("time", "level", "logger", "said"))
        traceback = str(told.pop("traceback", ""))
        rest = " ".join(f"{name}={_plain(str(value))}" for name, value in told.items())
        lines = "".join(f"\n    {_plain(line)}" for line in traceback.splitlines())
        return f"{first} {rest}".rstrip() + lines


def _plain(text: str) -> str:
    """``text`` with every character that is not printed written as an escape."""
    return "".join(each if each.isprintable() else each.encode("unicode_escape").decode() for each in text)


def write_logs(
    form: Form, level: str, request_id: Callable[[], str | None] = lambda: None, stream: TextIO | None = None
) -> None:
    """Send the logs of the service and of its server to ``stream`` (standard error unless given) and nowhere else."""
    handler = logging.StreamHandler(stream or sys.stderr)
    handler.setFormatter(_Lines(form, request_id))
    root = logging.getLogger()
    root.handlers[:] = [handler]
    root.setLevel(logging.WARNING)
    logging.getLogger("firstoff").setLevel(level.upper())
    for name in ("uvicorn", "uvicorn.error", "uvicorn.access"):
        own = logging.getLogger(name)
        own.handlers[:] = []
        own.propagate = name != "uvicorn.access"  # a line for each request is written already
