"""Examples in Python, in the client's README and in the tree's, print what they say. Run as a script, this file
rewrites what they print."""

from __future__ import annotations

import ast
import contextlib
import doctest
import io
import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from types import SimpleNamespace
from typing import Any

import httpx2
import pytest
from fastapi.testclient import TestClient

import firstoff_client.async_client
import firstoff_client.client
from firstoff.api.application import create_app
from firstoff.collection.opening import open_content
from firstoff.content import data_folder
from firstoff.settings import Settings
from support.keys import key_file

ROOT = Path(__file__).resolve().parents[3]
README = ROOT / "clients" / "python" / "README.md"
READMES = (README, ROOT / "README.md")
_BLOCK = re.compile(r"```pycon\n(.*?)```", re.DOTALL)
_SERVICE = "localhost:8080"


@contextlib.contextmanager
def service(folder: Path) -> Iterator[tuple[Callable[[], Any], Callable[[], Any]]]:
    """Makers of an HTTP client, blocking and not, for a service on a copy of the demo machines that takes keys. An
    address other than its own has nobody there."""
    content, state = folder / "content", folder / "state"
    shutil.copytree(data_folder(), content)
    settings = Settings(
        data=content,
        state=state,
        keys=key_file(
            folder, {"van": ("the key of the van", "outcomes"), "bench": ("the key of the bench", "publish")}
        ),
        refresh_seconds=0,
    )
    app = create_app(open_content(content), settings)
    with TestClient(app) as running:
        yield (
            lambda: httpx2.Client(mounts={f"http://{_SERVICE}": running._transport}),
            lambda: httpx2.AsyncClient(transport=httpx2.ASGITransport(app)),
        )


@contextlib.contextmanager
def instead_of_the_network(folder: Path) -> Iterator[None]:
    """Both clients make their connections to :func:`service`."""
    modules = (firstoff_client.client, firstoff_client.async_client)
    with service(folder) as (blocking, asynchronous):
        for module in modules:
            module.httpx2 = SimpleNamespace(Client=blocking, AsyncClient=asynchronous)  # type: ignore[assignment]
        try:
            yield
        finally:
            for module in modules:
                module.httpx2 = httpx2  # type: ignore[assignment]


def printed(block: str, names: dict[str, Any]) -> str:
    """``block`` with what its examples print now; ``names`` are those that blocks before have made."""
    lines = []
    for example in doctest.DocTestParser().get_examples(block):
        output = io.StringIO()
        with contextlib.redirect_stdout(output):
            exec(compile(ast.Interactive(ast.parse(example.source).body), "example", "single"), names)
        first, *rest = example.source.splitlines()
        lines += [f">>> {first}", *(f"... {line}" for line in rest), *output.getvalue().splitlines()]
    return "\n".join(lines) + "\n"


def examples(readme: Path) -> str:
    """``readme`` with what its examples print now."""
    names: dict[str, Any] = {}
    text = readme.read_text(encoding="utf-8")
    return _BLOCK.sub(lambda block: f"```pycon\n{printed(block[1], names)}```", text)


@pytest.mark.parametrize("readme", READMES, ids=["of the client", "of the tree"])
def test_examples_print_what_the_readme_says(tmp_path: Path, readme: Path) -> None:
    assert _BLOCK.search(readme.read_text(encoding="utf-8"))
    with instead_of_the_network(tmp_path):
        now = examples(readme)
    assert now == readme.read_text(encoding="utf-8"), "Run this file as a script and look at what changed."


def test_every_error_of_the_table_is_there() -> None:
    from firstoff_client import errors

    named = re.findall(r"`(\w+)`", README.read_text(encoding="utf-8").split("| --- | --- | --- |")[1].split("\n\n")[0])
    missing = [name for name in named if name[0].isupper() and not hasattr(errors, name)]
    assert missing == []
    assert "ProblemError" in named


if __name__ == "__main__":
    for each in READMES:
        with TemporaryDirectory() as folder, instead_of_the_network(Path(folder)):
            each.write_text(examples(each), encoding="utf-8")
