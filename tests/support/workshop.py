"""A service in a process of its own that is published to, told outcomes and asked, over the small platform."""

from __future__ import annotations

import json
import urllib.error
import urllib.request
import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from http.client import HTTPException
from pathlib import Path
from typing import Any

from support.keys import key_file
from support.served import Served
from support.small_platform import NAME, TURTLE, changed

KEY = "a key for one workshop"
PLATFORM = "small-box"
GRAPH = f"/v1/graphs/{PLATFORM}"
PLAN = "/v1/models/box-10/removal-plan?reach=lamp&serial=150"


def keyed(folder: Path, key: str = KEY) -> dict[str, str]:
    """Variables of a service below ``folder`` that lets ``key`` publish, tell outcomes and read metrics."""
    return {
        "FIRSTOFF_STATE": str(folder / "state"),
        "FIRSTOFF_KEYS": str(key_file(folder, {"bench": (key, "publish outcomes metrics")})),
    }


def text(number: int) -> str:
    """The small platform with ``number`` in its name."""
    return changed('rdfs:label "small box"@en', f'rdfs:label "small box {number}"@en') if number else TURTLE


@dataclass(frozen=True, slots=True)
class Said:
    """An answer: its status and text; status 0 where there was none."""

    status: int
    body: str
    headers: Mapping[str, str]

    @property
    def json(self) -> Any:
        return json.loads(self.body)


class Workshop:
    """``folder`` holds all of it: ``content``, ``state`` and the log."""

    def __init__(self, folder: Path, settings: Mapping[str, str] | None = None) -> None:
        self.folder = folder
        self.content = folder / "content"
        self.content.mkdir()
        (self.content / NAME).write_text(TURTLE, encoding="utf-8")
        self.service = Served(folder / "log", self.content, {**keyed(folder), **(settings or {})})

    def ask(self, method: str, address: str, body: str | None = None, **headers: str) -> Said:
        """What the service says; every failure of the network is an answer of status 0."""
        sent = {"authorization": f"Bearer {KEY}", **{name.replace("_", "-"): value for name, value in headers.items()}}
        data = None if body is None else body.encode("utf-8")
        request = urllib.request.Request(self.service.address + address, data, sent, method=method)
        try:
            with urllib.request.urlopen(request, timeout=60) as answer:
                return Said(answer.status, answer.read().decode("utf-8"), dict(answer.headers))
        except urllib.error.HTTPError as error:
            with error:
                return Said(error.code, error.read().decode("utf-8"), dict(error.headers))
        except (OSError, HTTPException) as error:
            return Said(0, str(error), {})

    def publish(self, number: int) -> Said:
        """Publish ``text(number)`` over whatever is served."""
        return self.ask("PUT", f"{GRAPH}?why=number+{number}", text(number), content_type="text/turtle", if_match="*")

    def tell(self, once: str | None = None) -> Said:
        """Tell of a job of today on which the lamp was broken; ``once`` is the key that makes it count once."""
        told = json.dumps({"model": "box-10", "fault": "lamp-broken"})
        key = once or str(uuid.uuid4())
        return self.ask("POST", "/v1/outcomes", told, content_type="application/json", idempotency_key=key)

    def served_number(self) -> int:
        """The number in the name of the platform that is served.

        :raises AssertionError: what is served is none of the texts that were published.
        """
        graph = self.ask("GET", GRAPH)
        assert graph.status == 200, graph
        named = graph.body.partition('rdfs:label "small box')[2].partition('"')[0].strip()
        number = int(named or 0)
        assert graph.body == text(number)
        return number

    def versions(self) -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = self.ask("GET", f"{GRAPH}/versions").json["versions"]
        return found
