"""Serve the API, print the version."""

from __future__ import annotations

import os
import socket
import threading
from collections.abc import Callable, Iterable, Sequence
from contextlib import ExitStack
from typing import Annotated

import typer

from firstoff.collection.engines import open_service
from firstoff.collection.opening import Opened
from firstoff.collection.settling import settled
from firstoff.commands.shared import (
    Config,
    Data,
    opened_for,
    settings_for,
)
from firstoff.errors import BadRequest
from firstoff.logs import write_logs
from firstoff.settings import Settings
from firstoff.tables.shared import counted


def serve(
    host: Annotated[
        str, typer.Option(help="Address to listen on. 0.0.0.0 lets others on the network in.")
    ] = "127.0.0.1",
    port: Annotated[int, typer.Option(min=0, max=65535, help="Port to listen on.")] = 8080,
    data: Data = None,
    config: Config = None,
) -> None:
    """Serve the API and the phone app; one process, the engine in memory, the demo machines unless told otherwise.

    FIRSTOFF_ENGINE chooses another engine: a folder, or the address of a SPARQL 1.1 server.
    """
    import uvicorn

    from firstoff.api.application import create_app
    from firstoff.api.noted import present_id
    from firstoff.api.stopping import Graceful
    from firstoff.api.telemetry import provider_from

    settings = settings_for(data, config=config)
    tracers = provider_from(os.environ)
    with listening_on(host, port) as listening:
        opened = opened_for(settings, opening=open_service)
        app = create_app(opened, settings, tracers)
        settled()
        shown = "localhost" if host in ("127.0.0.1", "0.0.0.0", "::") else f"[{host}]" if ":" in host else host
        models = len(opened.collection.models)
        platforms = counted(opened.collection.platform_count, "platform")
        print(f"firstoff serves {counted(models, 'model')} of {platforms}.", flush=True)
        print(f"Open http://{shown}:{listening.getsockname()[1]}/", flush=True)
        first = (app.state.desk.warm, app.state.sparql.prepare)
        threading.Thread(target=_each, args=(first,), daemon=True).start()
        proxies = list(settings.trusted_proxies)
        write_logs("json" if settings.log == "json" else "plain", settings.log_level, present_id)
        config_of_server = uvicorn.Config(
            app,
            log_config=None,
            access_log=False,
            server_header=False,
            proxy_headers=bool(proxies),
            forwarded_allow_ips=proxies,
            timeout_graceful_shutdown=settings.stop_seconds,
        )

        def stopping() -> None:
            app.state.stopping = True

        Graceful(config_of_server, said=stopping, grace=settings.grace_seconds).run(sockets=[listening])


def _each(acts: Iterable[Callable[[], None]]) -> None:
    """What the first who asks would wait for, done at once."""
    for act in acts:
        act()


def serve_both(services: Sequence[tuple[str, Opened, Settings, int]]) -> None:
    """Serve several contents on this machine alone, each on its port, until the command is ended."""
    import uvicorn

    from firstoff.api.application import create_app

    with ExitStack() as sockets:
        servers = []
        for name, opened, settings, port in services:
            listening = sockets.enter_context(listening_on("127.0.0.1", port))
            config = uvicorn.Config(create_app(opened, settings), log_level="warning")
            servers.append((uvicorn.Server(config), listening))
            print(f"{name}: http://localhost:{port}/", flush=True)
        for server, listening in servers[1:]:
            threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True).start()
        server, listening = servers[0]
        server.run(sockets=[listening])


def listening_on(host: str, port: int, option: str = "--port") -> socket.socket:
    """A socket that queues connections already, so that the address printed answers at once.

    Its protocol is named, since asyncio sends small answers without delay only on sockets that say they are TCP.
    """
    try:
        found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE)
    except OSError as error:
        raise _cannot_listen(host, port, option, error) from error
    family, kind, _, _, address = found[0]
    listening = socket.socket(family, kind, socket.IPPROTO_TCP)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind(address)
        listening.listen(2048)
    except OSError as error:
        listening.close()
        raise _cannot_listen(host, port, option, error) from error
    return listening


def _cannot_listen(host: str, port: int, option: str, error: OSError) -> BadRequest:
    return BadRequest(
        f"Cannot listen on {host} port {port}: {error.strerror or error}.",
        mend=f"Choose another port with {option}, or another address{' with --host' if option == '--port' else ''}.",
    )


def version() -> None:
    """Print the version."""
    from firstoff import __version__

    print(__version__)
