"""The README's output blocks are what the commands print. Run as a script, this file rewrites them."""

from __future__ import annotations

import json
import os
import re
import shlex
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

README = Path(__file__).resolve().parents[1] / "README.md"
_BLOCK = re.compile(r"```console\n\$ (?P<command>[^\n]+)\n(?P<output>.*?)```", re.DOTALL)
_CURL = re.compile(
    r"curl -s 'http://localhost:8080(?P<address>[^']+)' \| python3 -m json.tool \| head -n (?P<lines>\d+)"
)


def blocks() -> list[tuple[str, str]]:
    """Command and output of every block, in order."""
    found = _BLOCK.finditer(README.read_text(encoding="utf-8"))
    return [(block["command"], block["output"]) for block in found]


def printed(command: str, get: Callable[[str], object]) -> str:
    """What ``command`` prints; ``get`` answers an address with the JSON of the running service."""
    asked = _CURL.fullmatch(command)
    if asked:
        lines = json.dumps(get(asked["address"]), indent=4, ensure_ascii=True).splitlines()
        return "\n".join(lines[: int(asked["lines"])]) + "\n"
    command, _, cut = command.partition(" | head -n ")
    words = shlex.split(command)
    assert words[0] == "firstoff", command
    done = subprocess.run(
        [sys.executable, "-m", "firstoff.cli", *words[1:]],
        capture_output=True,
        text=True,
        timeout=120,
        env={**os.environ, "COLUMNS": "80"},
        check=True,
    )
    return "".join(done.stdout.splitlines(keepends=True)[: int(cut) if cut else None])


@pytest.mark.parametrize(("command", "output"), blocks(), ids=[command[:60] for command, _ in blocks()])
def test_block_is_what_the_command_prints(client: object, command: str, output: str) -> None:
    get = client.get  # type: ignore[attr-defined]
    assert output == printed(command, lambda address: get(address).json())


def test_there_are_blocks_for_the_three_questions() -> None:
    commands = " ".join(command for command, _ in blocks())
    for asked in ("removal-plan", "live-points", "firstoff isolate", "/v1/search"):
        assert asked in commands


def rewrite() -> None:
    """Put the present output into every block."""
    from fastapi.testclient import TestClient

    from firstoff.api.application import create_app
    from firstoff.collection.opening import open_content
    from firstoff.settings import Settings

    settings = Settings()
    with TestClient(create_app(open_content(settings.data), settings)) as client:

        def fresh(block: re.Match[str]) -> str:
            output = printed(block["command"], lambda address: client.get(address).json())
            return f"```console\n$ {block['command']}\n{output}```"

        README.write_text(_BLOCK.sub(fresh, README.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    rewrite()
