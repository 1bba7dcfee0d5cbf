"""Speaking to the tools for assistants as an MCP host does, in memory."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Sequence
from typing import Any, TypeVar

from mcp import Client
from mcp.types import CallToolResult

from firstoff.answers.desk import Desk
from firstoff.assistants.server import Source, server

T = TypeVar("T")
Question = tuple[str, dict[str, Any]]


def with_client(desk: Desk, act: Callable[[Client], Awaitable[T]], **how: Any) -> T:
    """What ``act`` makes of a client of a server over ``desk``; ``how`` is passed on to the server."""

    async def talking() -> T:
        async with Client(server(Source(lambda: desk), **how)) as client:
            return await act(client)

    return asyncio.run(talking())


def called(desk: Desk, questions: Sequence[Question]) -> list[CallToolResult]:
    """The answers to ``questions``, one after the other in one session."""

    async def asking(client: Client) -> list[CallToolResult]:
        return [await client.call_tool(name, arguments) for name, arguments in questions]

    return with_client(desk, asking)


def text_of(result: CallToolResult) -> str:
    """The text content, which must be one block."""
    (block,) = result.content
    assert block.type == "text"
    return block.text
