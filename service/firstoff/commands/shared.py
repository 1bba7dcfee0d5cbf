"""What several commands share: options, the open collection, and how an answer gets out."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.console import Console

from firstoff.answers.desk import Desk
from firstoff.collection.engines import open_answers
from firstoff.collection.opening import Opened
from firstoff.configuration import settings_from
from firstoff.errors import BadRequest
from firstoff.settings import Settings
from firstoff.tables.shared import grounds
from firstoff_contract.common import Answer, Grounded

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


State = Annotated[
    Path | None, typer.Option("--state", help="Folder that outcomes are kept in. Default: FIRSTOFF_STATE.")
]


Limits = Annotated[
    list[str] | None,
    typer.Option("--limit", help="Limit of the day: alone, no-refrigerant-licence or machine-fixed. Repeats."),
]


Smallest = Annotated[
    str, typer.Option("--minimise", help="What to make smallest: minutes, parts, single-use or exposure.")
]


OutFile = Annotated[Path | None, typer.Option("--out", help="File to write. Default: standard output.")]


OUT = Console()


ERR = Console(stderr=True)


Config = Annotated[
    Path | None, typer.Option("--config", help="TOML file of settings. Default: the one that FIRSTOFF_CONFIG names.")
]


def settings_for(data: Path | None, state: Path | None = None, config: Path | None = None) -> Settings:
    given: dict[str, Any] = {"data": data, "state": state}
    return settings_from(config=config, **{name: value for name, value in given.items() if value is not None})


def opened_for(
    settings: Settings, *, may_be_empty: bool = False, opening: Callable[..., Opened] = open_answers
) -> Opened:
    """The content, by ``open_answers`` or ``open_service``; what is refused is told."""
    with ERR.status("loading") as status:
        opened = opening(settings, lambda text: status.update(text), may_be_empty=may_be_empty)
    for each in opened.refused:
        where = f"{each.file}, line {each.line}" if each.line else each.file
        ERR.print(f"not served: {where}: {each.reason}", style="yellow", markup=False, highlight=False)
    return opened


def ask(
    data: Path | None,
    as_json: bool,
    question: Callable[[Desk], Answer],
    table: Callable[..., None],
    state: Path | None = None,
) -> None:
    settings = settings_for(data, state)
    show(question(Desk(opened_for(settings), settings)), as_json, table)


def show(answer: Answer, as_json: bool, table: Callable[..., None]) -> None:
    """The answer as JSON, or as a table."""
    if as_json:
        print(answer.model_dump_json(indent=2))
    else:
        if isinstance(answer, Grounded):
            grounds(OUT, answer)
        table(OUT, answer)


def write(data: Path | None, out: Path | None, question: Callable[[Desk], str]) -> None:
    """The answer into a file, or to standard output where none is named."""
    settings = settings_for(data)
    text = question(Desk(opened_for(settings), settings))
    if out is None:
        print(text)
        return
    try:
        out.write_text(text, encoding="utf-8")
    except OSError as error:
        reason = error.strerror or str(error)
        raise BadRequest(f"Cannot write {str(out)!r}: {reason}.", mend="Name another file with --out.") from error
    ERR.print(f"wrote {out}", markup=False, highlight=False)
