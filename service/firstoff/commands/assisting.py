"""Serve the questions as tools to an assistant."""

from __future__ import annotations

import importlib.util
from ipaddress import ip_address
from typing import TYPE_CHECKING, Annotated

import typer

from firstoff.answers.desk import Desk
from firstoff.collection.engines import following
from firstoff.collection.opening import Opened
from firstoff.commands.serving import listening_on
from firstoff.commands.shared import ERR, Data, State, opened_for, settings_for
from firstoff.errors import BadRequest
from firstoff.settings import Settings

if TYPE_CHECKING:
    from firstoff.assistants.server import Source

_PATH = "/mcp"
_LOOPBACK = ("127.0.0.1", "localhost", "[::1]")


def mcp(
    http: Annotated[
        str | None,
        typer.Option(
            "--http",
            metavar="[HOST:]PORT",
            help="Serve over HTTP there instead of standard input and output. Without HOST this machine alone.",
        ),
    ] = None,
    allow_host: Annotated[
        list[str] | None,
        typer.Option(
            help="Name that clients call this server by, with its port where it has one, such as tools.example:8081. "
            "Needed where it listens on more than this machine. Repeats."
        ),
    ] = None,
    data: Data = None,
    state: State = None,
) -> None:
    """Offer the questions as tools to an assistant, by the Model Context Protocol (MCP).

    An MCP host starts the command itself and speaks to it over standard input and output. Tell the host:

        command: firstoff        args: ["mcp"]

    The tools: find, describe_machine, parts, removal_plan, make_safe, live_points, isolation, diagnose, carry_list,
    display_code, expected_reading, safety_record. Each only reads. Each answer begins with its warnings and cautions.

    With --http 8081 a host is told the address http://localhost:8081/mcp instead. There are no keys: whoever reaches it
    may ask. Put a server that checks who asks in front of it before you listen on more than this machine.

    Needs an extra: pip install 'firstoff[mcp]'
    """
    if importlib.util.find_spec("mcp") is None:
        raise BadRequest(
            "The Model Context Protocol SDK is not installed here.", mend="Install it: pip install 'firstoff[mcp]'"
        )
    import asyncio

    from firstoff.assistants.server import over_stdio, server

    settings = settings_for(data, state)
    if http is None:
        if allow_host:
            raise BadRequest("--allow-host is for HTTP.", mend="Leave it out, or add --http PORT.")
        asyncio.run(over_stdio(server(source_of(opened_for(settings), settings))))
    else:
        _over_http(http, allow_host or [], settings)


def source_of(opened: Opened, settings: Settings) -> Source:
    """The desk, renewed whenever the folder of content changes."""
    from firstoff.assistants.server import Source

    desk = Desk(opened, settings)

    def renew(published: Opened) -> None:
        nonlocal desk
        desk = desk.renewed(published)

    return Source(lambda: desk, following(opened, settings, renew).refresh, settings.refresh_seconds)


def _over_http(where: str, names: list[str], settings: Settings) -> None:
    import uvicorn
    from mcp.server.transport_security import TransportSecuritySettings

    from firstoff.assistants.server import server

    host, port = address(where)
    if not _is_loopback(host) and not names:
        raise BadRequest(
            f"{host} lets others on the network in, and it is not said by which name they call.",
            mend="Name it with --allow-host, such as --allow-host tools.example:8081, or leave out the host.",
        )
    with listening_on(host, port, "--http") as listening:
        port = listening.getsockname()[1]
        allowed = [*(f"{name}:{port}" for name in _LOOPBACK), *names]
        app = server(source_of(opened_for(settings), settings)).streamable_http_app(
            streamable_http_path=_PATH,
            max_request_body_size=settings.body_bytes,
            transport_security=TransportSecuritySettings(
                enable_dns_rebinding_protection=True,
                allowed_hosts=allowed,
                allowed_origins=[f"{scheme}://{name}" for name in allowed for scheme in ("http", "https")],
            ),
        )
        shown = f"[{host}]" if ":" in host else "localhost" if _is_loopback(host) else names[0].partition(":")[0]
        ERR.print(f"An MCP host is told: http://{shown}:{port}{_PATH}", markup=False, highlight=False, soft_wrap=True)
        uvicorn.Server(uvicorn.Config(app, log_level="warning")).run(sockets=[listening])


def address(where: str) -> tuple[str, int]:
    """Host and port of ``PORT``, ``HOST:PORT`` or ``[IPV6]:PORT``; this machine alone where no host is named.

    :raises BadRequest: it is none of these.
    """
    host, _, port = where.rpartition(":")
    bracketed = host.startswith("[") and host.endswith("]")
    if not port.isascii() or not port.isdigit() or int(port) > 65535 or (":" in host and not bracketed):
        raise BadRequest(f"{where!r} is no place to listen on.", mend="Give --http PORT or --http HOST:PORT.")
    return host.strip("[]") or "127.0.0.1", int(port)


def _is_loopback(host: str) -> bool:
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"
