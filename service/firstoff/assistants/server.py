"""The Model Context Protocol server: tools and resources over one desk. Needs the SDK, the extra ``mcp``.

A question is worked out in a thread, so that the server goes on answering; at most ``WORKERS`` at a time. One that is
cancelled, or that is not answered within ``SECONDS``, is let go: its thread ends by the time limits of the desk.
"""

from __future__ import annotations

import asyncio
import json
import logging
from collections.abc import AsyncIterator, Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import asynccontextmanager
from dataclasses import dataclass
from functools import cache
from typing import Any

from mcp import types
from mcp.server import Server
from mcp.server.context import ServerRequestContext
from mcp.server.stdio import stdio_server
from mcp.shared.exceptions import MCPError
from pydantic import ValidationError

from firstoff import __version__
from firstoff.answers.desk import Desk
from firstoff.assistants.telling import misasked, no_such_tool, refused, told
from firstoff.assistants.tools import BY_NAME, TOOLS, Tool
from firstoff.assistants.words import INSTRUCTIONS
from firstoff.content import ontology_folder
from firstoff.errors import BadRequest, ContentBroken, FirstoffError, OutOfTime, StateFailed, StoreError

WORKERS, SECONDS = 4, 60.0
#: Longest text that any argument may hold, and the most of nested lists and objects.
_MOST_CHARACTERS, _MOST_DEPTH = 10_000, 20
_MODELS, _ONTOLOGY = "firstoff://models", "firstoff://ontology"
_UNEXPECTED = (
    "The service met an error it did not expect. Nothing may be taken from that: treat the machine as live.\n"
    "Try again; if it goes on, look at the log of this server."
)

_log = logging.getLogger("firstoff.assistants")
_Context = ServerRequestContext[Any]


@dataclass(frozen=True, slots=True)
class Source:
    """Where answers come from: ``desk`` gives the desk of now; ``follow`` takes over what others published."""

    desk: Callable[[], Desk]
    follow: Callable[[], object] | None = None
    every: float = 1.0


def server(source: Source, seconds: float = SECONDS) -> Server[None]:
    """A server that answers from ``source``, each question within ``seconds``."""
    pool = ThreadPoolExecutor(WORKERS, thread_name_prefix="question")

    @asynccontextmanager
    async def running(_: Server[None]) -> AsyncIterator[None]:
        follow = source.follow if source.every else None
        task = asyncio.create_task(_following(follow, source.every)) if follow else None
        try:
            yield
        finally:
            if task is not None:
                task.cancel()

    async def call(context: _Context, params: types.CallToolRequestParams) -> types.CallToolResult:
        tool = BY_NAME.get(params.name)
        if tool is None:
            return _error(no_such_tool(params.name))
        try:
            asked = _checked(tool, params.arguments or {})
            async with asyncio.timeout(seconds), _progress(context):
                loop = asyncio.get_running_loop()
                return await loop.run_in_executor(pool, _answered, tool, source.desk(), asked)
        except ValidationError as error:
            return _error(misasked(tool, error))
        except TimeoutError:
            return _error(refused(OutOfTime(f"{tool.name} was not answered within {seconds:g} seconds.")))
        except FirstoffError as error:
            if isinstance(error, (StoreError, ContentBroken, StateFailed)):
                _log.error("%s in %s", type(error).__name__, tool.name, exc_info=error)
            return _error(refused(error))
        except Exception:
            _log.exception("unexpected error in %s", tool.name)
            return _error(_UNEXPECTED)

    async def read(_: _Context, params: types.ReadResourceRequestParams) -> types.ReadResourceResult:
        if params.uri not in _RESOURCES:
            raise MCPError(
                code=types.INVALID_PARAMS,
                message=f"There is no resource {str(params.uri)[:100]!r}. There are {', '.join(_RESOURCES)}.",
            )
        resource, text = _RESOURCES[params.uri]
        said = await asyncio.get_running_loop().run_in_executor(pool, text, source.desk())
        content = types.TextResourceContents(uri=resource.uri, mime_type=resource.mime_type, text=said)
        return types.ReadResourceResult(contents=[content])

    return Server(
        "firstoff",
        version=__version__,
        title="firstoff: what comes off first, what is still live, what is probably wrong",
        instructions=INSTRUCTIONS,
        lifespan=running,
        get_tool_input_schema=lambda name: BY_NAME[name].input_schema() if name in BY_NAME else None,
        on_list_tools=_list_tools,
        on_call_tool=call,
        on_list_resources=_list_resources,
        on_read_resource=read,
    )


async def over_stdio(served: Server[None]) -> None:
    """Serve one client over standard input and output, until it hangs up."""
    async with stdio_server() as (receiving, sending):
        await served.run(receiving, sending, served.create_initialization_options())


def _answered(tool: Tool, desk: Desk, asked: Any) -> types.CallToolResult:
    answer = tool.ask(desk, asked)
    return types.CallToolResult(
        content=[types.TextContent(type="text", text=told(tool, answer))],
        structured_content=answer.model_dump(mode="json"),
    )


def _checked(tool: Tool, arguments: dict[str, Any]) -> Any:
    """The arguments as the tool's request.

    :raises BadRequest: a text in them is too long, or they nest too deep.
    :raises ValidationError: they are not of the expected form.
    """
    _bounded(arguments, 0)
    return tool.asked.model_validate(arguments)


def _bounded(value: Any, depth: int) -> None:
    if depth > _MOST_DEPTH:
        raise BadRequest("The arguments nest too deep.", mend="Give them as the tool's input schema says.")
    if isinstance(value, str) and len(value) > _MOST_CHARACTERS:
        raise BadRequest(f"A text of {len(value)} characters is too long.", mend=f"Give at most {_MOST_CHARACTERS}.")
    inside = [*value.keys(), *value.values()] if isinstance(value, dict) else value if isinstance(value, list) else ()
    for each in inside:
        _bounded(each, depth + 1)


@asynccontextmanager
async def _progress(context: _Context) -> AsyncIterator[None]:
    """Tell who asked, each second, that the answer is still being worked out; nothing where they do not listen."""

    async def telling() -> None:
        for second in range(1, 1_000_000):
            await asyncio.sleep(1)
            await context.session.report_progress(second, message=f"working it out for {second} s")

    task = asyncio.create_task(telling())
    try:
        yield
    finally:
        task.cancel()


async def _following(follow: Callable[[], object], every: float) -> None:
    while True:
        await asyncio.sleep(every)
        try:
            await asyncio.to_thread(follow)
        except FirstoffError as error:
            _log.error("the folder of content cannot be followed: %s", error.detail)


def _error(text: str) -> types.CallToolResult:
    return types.CallToolResult(content=[types.TextContent(type="text", text=text)], is_error=True)


@cache
def _listed() -> types.ListToolsResult:
    hints = types.ToolAnnotations(
        read_only_hint=True, destructive_hint=False, idempotent_hint=True, open_world_hint=False
    )
    return types.ListToolsResult(
        tools=[
            types.Tool(
                name=tool.name,
                title=tool.title,
                description=tool.description,
                input_schema=tool.input_schema(),
                output_schema=tool.output_schema(),
                annotations=hints,
            )
            for tool in TOOLS
        ]
    )


async def _list_tools(_: _Context, __: types.PaginatedRequestParams | None) -> types.ListToolsResult:
    return _listed()


def _all_models(desk: Desk) -> str:
    """Every model in a line of JSON: name, number, what it is, maker, platform."""
    found = desk.opened.collection.models
    rows = []
    for offset in range(0, len(found), 200):
        rows += [each.model_dump(mode="json") for each in desk.models(None, offset, 200).models]
    return json.dumps({"models": rows, "revision": desk.opened.collection.revision}, ensure_ascii=False)


def _ontology(_: Desk) -> str:
    return (ontology_folder() / "core.ttl").read_text(encoding="utf-8")


_RESOURCES: dict[str, tuple[types.Resource, Callable[[Desk], str]]] = {
    _MODELS: (
        types.Resource(
            uri=_MODELS,
            name="models",
            title="The machines that are described",
            description="Every model with its name, rating-plate number, maker and platform.",
            mime_type="application/json",
        ),
        _all_models,
    ),
    _ONTOLOGY: (
        types.Resource(
            uri=_ONTOLOGY,
            name="ontology",
            title="The words machines are described in",
            description="Classes and properties with their definitions, as RDF in Turtle.",
            mime_type="text/turtle",
        ),
        _ontology,
    ),
}


async def _list_resources(_: _Context, __: types.PaginatedRequestParams | None) -> types.ListResourcesResult:
    return types.ListResourcesResult(resources=[resource for resource, _ in _RESOURCES.values()])
