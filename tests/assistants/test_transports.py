"""The command as an MCP host meets it: over standard input and output, and over HTTP with its guards."""

from __future__ import annotations

import asyncio
import importlib.util
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from typing import Any

import httpx2
import pytest
from mcp import Client
from mcp.client.stdio import StdioServerParameters

from firstoff.assistants.tools import TOOLS
from firstoff.cli import main
from firstoff.commands.assisting import address
from firstoff.errors import BadRequest
from firstoff_contract.common import NOTICE
from support.assistants import text_of

COMMAND = [sys.executable, "-m", "firstoff.cli", "mcp"]
INITIALIZE = {
    "jsonrpc": "2.0",
    "id": 1,
    "method": "initialize",
    "params": {"protocolVersion": "2025-06-18", "capabilities": {}, "clientInfo": {"name": "test", "version": "1"}},
}
TYPES = {"content-type": "application/json", "accept": "application/json, text/event-stream"}


async def a_visit(client: Client) -> None:
    listed = await client.list_tools()
    assert [each.name for each in listed.tools] == [tool.name for tool in TOOLS]
    plan = await client.call_tool("removal_plan", {"model": "TGD27/46O S", "reach": ["drum-belt"]})
    assert not plan.is_error
    assert text_of(plan).startswith(NOTICE)
    assert plan.structured_content["optimal"] is True
    bad = await client.call_tool("removal_plan", {"model": "TGD27/46O S", "reach": ["drum-bolt"]})
    assert bad.is_error
    assert "drum-belt" in text_of(bad)
    live = await client.call_tool("live_points", {"model": "tgd27-460-s"})
    assert any(each["state"] == "live" for each in live.structured_content["points"])


@pytest.mark.parametrize("mode", ["auto", "legacy"])
def test_over_standard_input_and_output(mode: str) -> None:
    async def visiting() -> None:
        parameters = StdioServerParameters(command=COMMAND[0], args=COMMAND[1:], env=dict(os.environ))
        async with Client(parameters, mode=mode) as client:
            await a_visit(client)

    asyncio.run(visiting())


def test_standard_output_carries_the_protocol_alone_and_rubbish_does_not_end_it() -> None:
    import json

    lines = ["not json", '{"jsonrpc": "2.0"}', json.dumps(INITIALIZE)]
    done = subprocess.run(
        COMMAND, input="\n".join(lines) + "\n", capture_output=True, text=True, timeout=120, check=False
    )
    assert done.returncode == 0, done.stderr
    messages = [json.loads(line) for line in done.stdout.splitlines()]
    assert all(each["jsonrpc"] == "2.0" for each in messages)
    assert [each for each in messages if each.get("id") == 1 and each["result"]["serverInfo"]["name"] == "firstoff"]


@pytest.fixture(scope="module")
def served() -> Iterator[str]:
    """The address of a server over HTTP on this machine."""
    process = subprocess.Popen([*COMMAND, "--http", "0"], stderr=subprocess.PIPE, text=True)
    try:
        assert process.stderr is not None
        said = process.stderr.readline()
        while said and "told" not in said:
            said = process.stderr.readline()
        found = re.search(r"http://localhost:\d+/mcp", said)
        assert found, said
        yield found[0]
    finally:
        process.terminate()
        process.wait(30)
        assert process.stderr is not None
        process.stderr.close()


def test_over_http(served: str) -> None:
    async def visiting() -> None:
        async with Client(served) as client:
            await a_visit(client)

    asyncio.run(visiting())


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({}, 200),
        ({"host": "rebound.example"}, 421),
        ({"host": "localhost.rebound.example:80"}, 421),
        ({"origin": "http://rebound.example"}, 403),
        ({"content-type": "text/plain"}, 400),
    ],
)
def test_requests_from_elsewhere_are_refused(served: str, headers: dict[str, str], status: int) -> None:
    assert httpx2.post(served, json=INITIALIZE, headers=TYPES | headers).status_code == status


def test_a_body_that_is_too_large_is_refused(served: str) -> None:
    body = INITIALIZE | {"more": "x" * 1_100_000}
    assert httpx2.post(served, json=body, headers=TYPES).status_code == 413


def told(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    with pytest.raises(SystemExit) as ended:
        main(list(arguments))
    assert ended.value.code == 1
    return capsys.readouterr().err


def test_without_the_extra_it_says_how_to_install_it(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    plain = importlib.util.find_spec
    monkeypatch.setattr(importlib.util, "find_spec", lambda name, *more: None if name == "mcp" else plain(name, *more))
    said = told(capsys, "mcp")
    assert "is not installed here" in said
    assert "pip install 'firstoff[mcp]'" in said


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--http", "0.0.0.0:0"), "--allow-host"),
        (("--http", "[::]:0"), "--allow-host"),
        (("--http", "somewhere"), "--http PORT"),
        (("--http", "127.0.0.1:99999"), "--http PORT"),
        (("--http", "::1:8081"), "--http PORT"),
        (("--http", "192.0.2.1:0", "--allow-host", "tools.example"), "another port with --http"),  # not ours (RFC 5737)
        (("--allow-host", "tools.example"), "add --http PORT"),
        (("--data", "nowhere"), "folder"),
    ],
)
def test_bad_options_say_what_to_do(capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], words: str) -> None:
    assert words in told(capsys, "mcp", *arguments)


@pytest.mark.parametrize(
    ("where", "place"),
    [
        ("8081", ("127.0.0.1", 8081)),
        (":8081", ("127.0.0.1", 8081)),
        ("localhost:0", ("localhost", 0)),
        ("0.0.0.0:80", ("0.0.0.0", 80)),
        ("[::1]:8081", ("::1", 8081)),
    ],
)
def test_places_to_listen_on(where: str, place: tuple[str, int]) -> None:
    assert address(where) == place


@pytest.mark.parametrize("where", ["", "x", "1:2:3", "host:", "-1", "70000", "host:8a", "::"])
def test_no_places_to_listen_on(where: str) -> None:
    with pytest.raises(BadRequest):
        address(where)


def test_help_names_every_tool(capsys: pytest.CaptureFixture[str]) -> None:
    done = subprocess.run([*COMMAND, "--help"], capture_output=True, text=True, timeout=120, check=True)
    said: Any = done.stdout
    for tool in TOOLS:
        assert tool.name in said
    assert "pip install 'firstoff[mcp]'" in said
