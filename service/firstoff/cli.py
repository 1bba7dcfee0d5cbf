"""The command line: the same answers as over HTTP, as tables for people or JSON for programs."""

from __future__ import annotations

import socket
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.console import Console

from firstoff import tables
from firstoff.answers.desk import Desk
from firstoff.answers.requests import plan_request, record_request
from firstoff.collection.opening import Opened, open_content
from firstoff.errors import BadRequest, FirstoffError
from firstoff.settings import Settings
from firstoff_contract.common import Answer
from firstoff_contract.removal import PlanRequest

app = typer.Typer(
    name="firstoff",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode="markdown",
    help="""What comes off first, what is still live, what is probably wrong.

Ask about a model by its slug or by the number on its rating plate. Try:

    firstoff search "drum won't turn"
    firstoff plan tgd27-460-s drum-belt
    firstoff live tgd27-460-s --opened power-control
    firstoff isolate tgd27-460-s drive-motor
    firstoff serve

Every command that answers takes `--json` for programs. The exit status is 0 when the question was answered, 1 when it
could not be (the reason is on standard error), 2 when the command was misspelt.
""",
)

Data = Annotated[
    Path | None,
    typer.Option("--data", help="Folder of content, one Turtle file a platform. Default: the demo machines."),
]
AsJson = Annotated[bool, typer.Option("--json", help="Print the answer as JSON, with the fields of the HTTP answer.")]
Model = Annotated[str, typer.Argument(help="Model slug or rating-plate number, such as tgd27-460-s.")]
Serial = Annotated[str | None, typer.Option(help="Serial number, where the answer depends on it.")]

Reach = Annotated[
    list[str] | None,
    typer.Argument(
        help="Targets: component or component:purpose (inspect, test, live-test, replace). Without any, a machine that "
        "stands open is closed up."
    ),
]
Off = Annotated[
    list[str] | None,
    typer.Option(help="Component that is off as found, or the removal that took it off; it is put back. Repeats."),
]
States = Annotated[list[str] | None, typer.Option(help="State in force now, if not the initial one. Repeats.")]
Tools = Annotated[list[str] | None, typer.Option(help="Tool at hand. Repeats. Leave out where all are.")]
Limits = Annotated[
    list[str] | None,
    typer.Option("--limit", help="Limit of the day: alone, no-refrigerant-licence or machine-fixed. Repeats."),
]
Smallest = Annotated[
    str, typer.Option("--minimise", help="What to make smallest: minutes, parts, single-use or exposure.")
]
OutFile = Annotated[Path | None, typer.Option("--out", help="File to write. Default: standard output.")]

_out = Console()
_err = Console(stderr=True)


def _settings(data: Path | None) -> Settings:
    return Settings.from_environment() if data is None else Settings.from_environment(data=data)


def _opened(settings: Settings) -> Opened:
    with _err.status("loading") as status:
        opened = open_content(settings.data, lambda text: status.update(text))
    for each in opened.refused:
        where = f"{each.file}, line {each.line}" if each.line else each.file
        _err.print(f"not served: {where}: {each.reason}", style="yellow", markup=False, highlight=False)
    return opened


def _ask(data: Path | None, as_json: bool, question: Callable[[Desk], Answer], table: Callable[..., None]) -> None:
    settings = _settings(data)
    answer = question(Desk(_opened(settings), settings))
    if as_json:
        print(answer.model_dump_json(indent=2))
    else:
        table(_out, answer)


@app.command()
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

    settings = _settings(data)
    with _listening(host, port) as listening:
        opened = _opened(settings)
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


@app.command()
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

    folder = _settings(data).data
    chosen = files or sorted(folder.glob("*.ttl"))
    if not chosen:
        raise BadRequest(f"There is no Turtle file in {str(folder)!r}.", mend="Name files, or a folder with --data.")
    for file in chosen:
        if not file.is_file():
            raise BadRequest(f"There is no file {str(file)!r}.", mend="Name a Turtle file that is there.")
    with _err.status(f"checking {len(chosen)} files"):
        reports = check_files(chosen)
    if record:
        for place in sorted({file.parent for file in chosen}):
            beside = record_file(place)
            own = [report for file, report in zip(chosen, reports, strict=True) if file.parent == place]
            write_record(recorded(read_record(beside), own), beside)
    if as_json:
        print(tables.reports_json(reports))
    else:
        tables.reports(_out, reports)
    if not all(report.ok for report in reports):
        raise typer.Exit(1)


@app.command()
def plan(
    model: Model,
    reach: Reach = None,
    off: Off = None,
    state: States = None,
    tools: Tools = None,
    limit: Limits = None,
    minimise: Smallest = "minutes",
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What comes off first: the cheapest plan that reaches every target, and how it all goes back."""
    _ask(
        data,
        as_json,
        lambda desk: desk.removal_plan(model, _plan_request(reach, off, state, tools, limit, minimise, serial)),
        tables.plan,
    )


@app.command()
def pareto(
    model: Model,
    reach: Reach = None,
    off: Off = None,
    state: States = None,
    tools: Tools = None,
    limit: Limits = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """The plans that no other beats: in minutes, parts taken off, single-use parts broken, exposures to a hazard."""
    asked = _plan_request(reach, off, state, tools, limit, "minutes", serial)
    _ask(data, as_json, lambda desk: desk.pareto(model, asked), tables.pareto)


@app.command()
def sheet(
    model: Model,
    reach: Reach = None,
    off: Off = None,
    state: States = None,
    tools: Tools = None,
    limit: Limits = None,
    minimise: Smallest = "minutes",
    serial: Serial = None,
    out: OutFile = None,
    data: Data = None,
) -> None:
    """The plan as a job sheet: one HTML page to print, or to save as PDF by a browser's print."""
    from firstoff.sheet import page

    _write(
        data,
        out,
        lambda desk: page(desk.job_sheet(model, _plan_request(reach, off, state, tools, limit, minimise, serial))),
    )


@app.command()
def picture(
    model: Model,
    reach: Reach = None,
    off: Off = None,
    state: States = None,
    tools: Tools = None,
    limit: Limits = None,
    minimise: Smallest = "minutes",
    serial: Serial = None,
    out: OutFile = None,
    data: Data = None,
) -> None:
    """The plan as a picture: all that may have to come off, drawn in layers as SVG, with the plan's way through it."""
    from firstoff.sheet import picture as drawn

    _write(
        data,
        out,
        lambda desk: drawn(
            desk.job_sheet(model, _plan_request(reach, off, state, tools, limit, minimise, serial)).diagram
        ),
    )


def _plan_request(
    reach: list[str] | None,
    off: list[str] | None,
    state: list[str] | None,
    tools: list[str] | None,
    limit: list[str] | None,
    minimise: str,
    serial: str | None,
) -> PlanRequest:
    return plan_request(
        reach or [],
        off=off or [],
        states=state or [],
        tools=tools or None,
        limits=limit or [],
        minimise=minimise,
        serial=serial,
    )


def _write(data: Path | None, out: Path | None, question: Callable[[Desk], str]) -> None:
    """The answer into a file, or to standard output where none is named."""
    settings = _settings(data)
    text = question(Desk(_opened(settings), settings))
    if out is None:
        print(text)
        return
    try:
        out.write_text(text, encoding="utf-8")
    except OSError as error:
        reason = error.strerror or str(error)
        raise BadRequest(f"Cannot write {str(out)!r}: {reason}.", mend="Name another file with --out.") from error
    _err.print(f"wrote {out}", markup=False, highlight=False)


@app.command()
def record(
    model: Model,
    earth: Annotated[
        list[str] | None, typer.Option(help="Earth continuity in ohms: 0.08, '80 mohm'. Repeats for each place.")
    ] = None,
    insulation: Annotated[
        list[str] | None, typer.Option(help="Insulation resistance in megohms: 12, '900 kohm', '>500'. Repeats.")
    ] = None,
    leakage: Annotated[
        list[str] | None, typer.Option(help="Leakage current in milliamperes: 0.4, '400 uA'. Repeats.")
    ] = None,
    confirm: Annotated[
        list[str] | None, typer.Option(help="Line that was done and by whom: finish-leak='A. Technician'. Repeats.")
    ] = None,
    done: Annotated[
        list[str] | None,
        typer.Option(help="Component taken off, preparation made or state brought about. Repeats. '' for none."),
    ] = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What proves the machine safe after work: readings against their limits. Blank without readings."""
    asked = record_request(
        earth=earth or [],
        insulation=insulation or [],
        leakage=leakage or [],
        confirm=confirm or [],
        done=done,
        serial=serial,
    )
    _ask(data, as_json, lambda desk: desk.safety_record(model, asked), tables.safety_record)


@app.command()
def exposed(
    model: Model,
    off: Off = None,
    state: States = None,
    tools: Tools = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What is within reach as the machine stands, and what one more removal would open."""
    _ask(
        data,
        as_json,
        lambda desk: desk.exposed(model, serial, off=off or [], states=state or [], tools=tools or None),
        tables.exposed,
    )


@app.command()
def while_open(
    model: Model,
    reach: Reach = None,
    off: Off = None,
    state: States = None,
    tools: Tools = None,
    limit: Limits = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What is worth doing while the machine is open: worn parts that the plan lays open, and what doing them saves."""
    asked = _plan_request(reach, off, state, tools, limit, "minutes", serial)
    _ask(data, as_json, lambda desk: desk.while_open(model, asked), tables.while_open)


@app.command()
def hidden(
    model: Model,
    component: Annotated[str, typer.Argument(help="The part in front.")],
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What a part hides: every component that cannot be reached, or is best not reached, while it is on."""
    _ask(data, as_json, lambda desk: desk.hidden(model, component, serial), tables.hidden)


@app.command()
def live(
    model: Model,
    opened: Annotated[list[str] | None, typer.Option(help="Device that is open. Repeats.")] = None,
    off: Annotated[
        list[str] | None, typer.Option(help="Component that is off, or the removal that took it off. Repeats.")
    ] = None,
    released: Annotated[list[str] | None, typer.Option(help="Capacitor discharged and proved dead. Repeats.")] = None,
    at: Annotated[list[str] | None, typer.Option(help="Point or component to show. Repeats. All where none.")] = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What is still live: the state of every point, what feeds it and what would clear it."""
    _ask(
        data,
        as_json,
        lambda desk: desk.live_points(
            model, serial, opened=opened or [], off=off or [], released=released or [], at=at or []
        ),
        tables.live_points,
    )


@app.command()
def isolate(
    model: Model,
    touch: Annotated[list[str], typer.Argument(help="Points or components to be touched.")],
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """How to make points safe to touch: what to open in which order, what to release, where to prove dead."""
    _ask(data, as_json, lambda desk: desk.isolation(model, serial, touch=touch), tables.isolation)


@app.command()
def search(
    words: Annotated[list[str], typer.Argument(help="Symptom, part, code or model; typing errors are forgiven.")],
    model: Annotated[str | None, typer.Option(help="The model in hand.")] = None,
    kind: Annotated[str | None, typer.Option(help="symptom, component, code or model only.")] = None,
    lang: Annotated[str | None, typer.Option(help="Language of the query, such as en.")] = None,
    limit: Annotated[int, typer.Option(min=1, max=50, help="How many hits at the most.")] = 10,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """Find symptoms, components, codes and models; a symptom lists its faults and the checks that tell them apart."""
    if kind not in (None, "symptom", "component", "code", "model"):
        raise BadRequest(f"{kind!r} is no kind.", mend="Give symptom, component, code or model.")
    _ask(
        data,
        as_json,
        lambda desk: desk.search(" ".join(words), model=model, serial=serial, kind=kind, lang=lang, limit=limit),
        tables.hits,
    )


@app.command()
def models(
    number: Annotated[str | None, typer.Argument(help="Number as it stands on a rating plate.")] = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """List the models, or find the one a rating plate names."""
    _ask(data, as_json, lambda desk: desk.models(number, 0, 200), tables.models)


@app.command()
def version() -> None:
    """Print the version."""
    from firstoff import __version__

    print(__version__)


def main(arguments: list[str] | None = None) -> None:
    """Run a command; an error of ours becomes two plain lines on standard error and exit status 1."""
    try:
        app(arguments, standalone_mode=True)
    except FirstoffError as error:
        _say_error(error.detail, error.mend)
        sys.exit(1)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(1)


def _say_error(detail: str, mend: str) -> None:
    settings: dict[str, Any] = {"markup": False, "highlight": False, "soft_wrap": True}
    _err.print(f"firstoff: {detail}", style="bold", **settings)
    _err.print(mend, **settings)


if __name__ == "__main__":
    main()
