"""Examples of the addresses of authors: one change of the dryer, from the draft to its withdrawal."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from firstoff.content import data_folder

_PLATFORM = "tolvane-galewood"
_GRAPH = f"/v1/graphs/{_PLATFORM}"
_BEFORE, _AFTER = 'rdfs:label "drum lamp"@en', 'rdfs:label "lamp in the drum"@en'
_KEY = "a key for examples"
_WHEN = "2026-11-27T09:30:00Z"


def authored(folder: Path) -> dict[str, Any]:
    """An answer for each path of the OpenAPI document below ``/v1/graphs``, from a service on the empty ``folder``."""
    from fastapi.testclient import TestClient

    from firstoff.access.key_file import add_key
    from firstoff.access.keys import Key, key_digest
    from firstoff.api.application import create_app
    from firstoff.collection.opening import open_content
    from firstoff.settings import Settings

    name = f"{_PLATFORM}.ttl"
    for each in (name, "checked.json"):
        (folder / each).write_bytes((data_folder() / each).read_bytes())
    turtle = (folder / name).read_text(encoding="utf-8")
    draft = turtle.replace(_BEFORE, _AFTER, 1)
    keys = folder / "keys.toml"
    add_key(keys, Key("bench", key_digest(_KEY), frozenset({"publish"})))
    settings = Settings(data=folder, keys=keys, refresh_seconds=0)
    headers = {"authorization": f"Bearer {_KEY}", "content-type": "text/turtle", "if-match": "*"}
    with TestClient(create_app(open_content(folder), settings)) as client:

        def said(method: str, address: str, why: str | None = None, content: str | None = None) -> Any:
            params = None if why is None else {"why": why}
            sent = headers if method != "GET" else {}
            response = client.request(method, address, params=params, content=content, headers=sent)
            response.raise_for_status()
            return response.json()

        check = said("POST", "/v1/graphs/check", content=draft)
        published = said("PUT", _GRAPH, "Named as on the parts list.", draft)
        restored = said("POST", f"{_GRAPH}/versions/1/restore", "The parts list was wrong.")
        found = {
            "/v1/graphs": said("GET", "/v1/graphs"),
            "/v1/graphs/check": check,
            "/v1/graphs/{platform}": published,
            "/v1/graphs/{platform}/versions": said("GET", f"{_GRAPH}/versions"),
            "/v1/graphs/{platform}/versions/{number}/restore": restored,
            "/v1/graphs/{platform}/difference": said("GET", f"{_GRAPH}/difference?before=1&after=2"),
        }
    return {path: _at_one_time(answer) for path, answer in found.items()}


def _at_one_time(value: Any) -> Any:
    """The answer as if it had been given at one fixed time."""
    if isinstance(value, dict):
        return {name: _WHEN if name == "when" else _at_one_time(inner) for name, inner in value.items()}
    return [_at_one_time(each) for each in value] if isinstance(value, list) else value
