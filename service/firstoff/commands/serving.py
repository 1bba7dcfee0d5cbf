"""Serve the API, check content, print the version."""

from __future__ import annotations

import socket
from pathlib import Path
from typing import Annotated

import typer

from firstoff.commands.shared import (
    ERR,
    OUT,
    AsJson,
    Data,
    opened_for,
    settings_for,
)
from firstoff.errors import BadRequest
from firstoff.tables import content as tables


def serve(
    host: Annotated[
        str, typer.Option(help="Address to listen on. 0.0.0.0 lets others on the network in.")
    ] = "127.0.0.1",
    port: Annotated[int, typer.Option(min=0, max=65535, help="Port to listen on.")] = 8080,
    data: Data = None,
) -> None:
    """Serve the API and the start page; one process, the embedded engine, the demo machines unless told otherwise."""
    import uvicorn

    from firstoff.api.application import create_app

    settings = settings_for(data)
    with _listening(host, port) as listening:
        opened = opened_for(settings)
        shown = "localhost" if host in ("127.0.0.1", "0.0.0.0", "::") else f"[{host}]" if ":" in host else host
        models = len(opened.collection.models)
        print(f"firstoff serves {models} models of {opened.collection.platform_count} platforms.", flush=True)
        print(f"Open http://{shown}:{listening.getsockname()[1]}/", flush=True)
        server = uvicorn.Server(uvicorn.Config(create_app(opened, settings), log_level="warning"))
        server.run(sockets=[listening])


def _listening(host: str, port: int) -> socket.socket:
    """A socket that queues connections already, so that the address printed answers at once.

    Its protocol is named, since asyncio sends small answers without delay only on sockets that say they are TCP.
    """
    try:
        found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE)
    except OSError as error:
        raise _cannot_listen(host, port, error) from error
    family, kind, _, _, address = found[0]
    listening = socket.socket(family, kind, socket.IPPROTO_TCP)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind(address)
        listening.listen(2048)
    except OSError as error:
        listening.close()
        raise _cannot_listen(host, port, error) from error
    return listening


def _cannot_listen(host: str, port: int, error: OSError) -> BadRequest:
    return BadRequest(
        f"Cannot listen on {host} port {port}: {error.strerror or error}.",
        mend="Choose another port with --port, or another address with --host.",
    )


def check(
    files: Annotated[list[Path] | None, typer.Argument(help="Turtle files. Default: every file of the folder.")] = None,
    data: Data = None,
    record: Annotated[bool, typer.Option("--record", help="Keep the digests that passed beside the files.")] = False,
    as_json: AsJson = False,
) -> None:
    """Check content: syntax, shapes, and what needs thought. Exit status 1 where there is an error, 0 otherwise.

    With `--record`, files that passed are served without being checked again until they or the shapes change.
    """
    from firstoff.authoring import read_record, record_file, recorded, write_record
    from firstoff.authoring.check import check_files

    folder = settings_for(data).data
    chosen = files or sorted(folder.glob("*.ttl"))
    if not chosen:
        raise BadRequest(f"There is no Turtle file in {str(folder)!r}.", mend="Name files, or a folder with --data.")
    for file in chosen:
        if not file.is_file():
            raise BadRequest(f"There is no file {str(file)!r}.", mend="Name a Turtle file that is there.")
    with ERR.status(f"checking {len(chosen)} files"):
        reports = check_files(chosen)
    if record:
        for place in sorted({file.parent for file in chosen}):
            beside = record_file(place)
            own = [report for file, report in zip(chosen, reports, strict=True) if file.parent == place]
            write_record(recorded(read_record(beside), own), beside)
    if as_json:
        print(tables.reports_json(reports))
    else:
        tables.reports(OUT, reports)
    if not all(report.ok for report in reports):
        raise typer.Exit(1)


def version() -> None:
    """Print the version."""
    from firstoff import __version__

    print(__version__)
