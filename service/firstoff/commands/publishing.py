"""See what a draft would change, publish it, and look after its versions."""

from __future__ import annotations

import getpass
from pathlib import Path
from typing import Annotated

import typer

from firstoff.answers.publishing import PublishingDesk, platform_of
from firstoff.authoring import history
from firstoff.authoring.digest import word_files
from firstoff.collection.engines import following
from firstoff.collection.replica import Replica
from firstoff.collection.shelf import Shelf
from firstoff.commands.shared import ERR, OUT, AsJson, Data, OutFile, opened_for, settings_for
from firstoff.errors import BadRequest
from firstoff.tables import publishing as tables

Draft = Annotated[Path, typer.Argument(help="Turtle file, XLSX workbook or folder of CSV files.")]
Platform = Annotated[str, typer.Argument(help="Name of the platform, such as tolvane-galewood.")]
Why = Annotated[str, typer.Option(help="Why the content changes, in a sentence. It is kept with the version.")]
Who = Annotated[str | None, typer.Option(help="Who publishes. Default: the name of the user.")]
Over = Annotated[
    str | None,
    typer.Option(
        help="Revision that the change was made over, as `firstoff versions` tells it. Refused where another author "
        "has published since. Default: whatever is served."
    ),
]


def preview(
    draft: Draft,
    data: Data = None,
    serve: Annotated[
        bool, typer.Option("--serve", help="Also serve the draft, and what is published beside it at the next port.")
    ] = False,
    port: Annotated[int, typer.Option(min=1, max=65534, help="Port for --serve.")] = 8090,
    as_json: AsJson = False,
) -> None:
    """What a draft would change for a technician: plans, live points, charges and the ranking of faults.

    The draft is checked and compared with what is published; nothing is changed. Exit status 1 where the check finds an
    error.
    """
    settings = settings_for(data)
    turtle = _turtle(draft)
    shelf = following(opened_for(settings, may_be_empty=True), settings, lambda _: None)
    with ERR.status("checking") as status:
        answer = PublishingDesk(shelf).check(turtle, progress=lambda text: status.update(text))
    if as_json:
        print(answer.model_dump_json(indent=2))
    else:
        tables.preview(OUT, answer)
    if serve:
        _serve_beside(answer.platform, turtle, shelf, data, port)
    if not answer.ok:
        raise typer.Exit(1)


def publish(
    draft: Draft, why: Why, who: Who = None, over: Over = None, data: Data = None, as_json: AsJson = False
) -> None:
    """Publish a platform into the folder of content: checked first, and all of it or nothing.

    A service that runs on the folder serves it within a second or two. Versions before it are kept; see
    `firstoff versions` and `firstoff restore`.
    """
    turtle = _turtle(draft)
    platform = platform_of(turtle)
    desk, folder = _desk(data)
    with ERR.status(f"checking {platform}"):
        done = desk.publish(platform, turtle, over=_over(folder, platform, over), who=_who(who), why=why)
    if as_json:
        print(done.model_dump_json(indent=2))
    else:
        tables.published(OUT, done)


def versions(
    platform: Annotated[str | None, typer.Argument(help="Name of the platform. Default: list all platforms.")] = None,
    data: Data = None,
    provenance: Annotated[bool, typer.Option("--provenance", help="Print PROV-O in Turtle.")] = False,
    as_json: AsJson = False,
) -> None:
    """The versions of a platform: who published them, when and why."""
    desk, _ = _desk(data)
    if platform is None:
        graphs = desk.graphs()
        if as_json:
            print(graphs.model_dump_json(indent=2))
        else:
            tables.graphs(OUT, graphs)
        return
    if provenance:
        print(desk.provenance(platform))
        return
    found = desk.versions(platform)
    if as_json:
        print(found.model_dump_json(indent=2))
    else:
        tables.versions(OUT, found)


def difference(
    platform: Platform,
    before: Annotated[int, typer.Argument(min=1, help="Number of the version before.")],
    after: Annotated[
        int | None, typer.Argument(min=1, help="Number of the version after. Default: served now.")
    ] = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What differs between two versions of a platform, in words."""
    desk, _ = _desk(data)
    answer = desk.difference(platform, before, after)
    if as_json:
        print(answer.model_dump_json(indent=2))
    else:
        tables.differences(OUT, answer.differences)


def version_text(
    platform: Platform,
    number: Annotated[int | None, typer.Argument(min=1, help="Number of the version. Default: served now.")] = None,
    data: Data = None,
    out: OutFile = None,
) -> None:
    """The Turtle text of a version, as it was published."""
    desk, _ = _desk(data)
    text = desk.text(platform, number)
    if out is None:
        print(text, end="")
        return
    out.write_text(text, encoding="utf-8")
    ERR.print(f"wrote {out}", markup=False, highlight=False)


def restore(
    platform: Platform,
    number: Annotated[int, typer.Argument(min=1, help="Number of the version to publish again.")],
    why: Why,
    who: Who = None,
    over: Over = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """Publish an earlier version again. It becomes a version of its own; nothing is taken away."""
    desk, folder = _desk(data)
    done = desk.restore(platform, number, over=_over(folder, platform, over), who=_who(who), why=why)
    if as_json:
        print(done.model_dump_json(indent=2))
    else:
        tables.published(OUT, done)


def withdraw(
    platform: Platform, why: Why, who: Who = None, over: Over = None, data: Data = None, as_json: AsJson = False
) -> None:
    """Serve a platform no more. Its versions are kept, and `firstoff restore` brings it back."""
    desk, folder = _desk(data)
    done = desk.withdraw(platform, over=_over(folder, platform, over), who=_who(who), why=why)
    if as_json:
        print(done.model_dump_json(indent=2))
    else:
        tables.published(OUT, done)


def _desk(data: Path | None) -> tuple[PublishingDesk, Path]:
    settings = settings_for(data)
    shelf = following(opened_for(settings, may_be_empty=True), settings, lambda _: None)
    return PublishingDesk(shelf), shelf.folder


def _over(folder: Path, platform: str, over: str | None) -> list[str] | None:
    if over is not None:
        return [over]
    return ["*"] if history.served(folder, platform) is not None else None


def _who(who: str | None) -> str:
    return who if who is not None else getpass.getuser()


def _turtle(draft: Path) -> str:
    """The Turtle of a draft; a workbook that cannot be read whole is told and ends the command."""
    from firstoff.authoring.importing import imported, is_workbook
    from firstoff.tables.content import reports

    if not draft.exists():
        raise BadRequest(f"There is no file {str(draft)!r}.", mend="Name a Turtle file or workbook that is there.")
    if not is_workbook(draft):
        try:
            return draft.read_bytes().decode("utf-8")
        except UnicodeDecodeError as error:
            raise BadRequest(f"{draft.name} is not UTF-8 text.", mend="Save it as UTF-8.") from error
    found = imported(draft)
    if found.turtle is None:
        reports(OUT, [found.report])
        raise typer.Exit(1)
    return found.turtle


def _serve_beside(platform: str, turtle: str, shelf: Shelf | Replica, data: Path | None, port: int) -> None:
    """The draft at ``port`` and what is published at the next, until the command is ended."""
    import shutil
    import tempfile

    from firstoff.commands.serving import serve_both

    settings = settings_for(data)
    with tempfile.TemporaryDirectory(prefix="firstoff-draft-") as folder:
        place = Path(folder)
        for file in settings.data.glob("*.ttl"):
            shutil.copy2(file, place)
        if (settings.data / "checked.json").exists():
            shutil.copy2(settings.data / "checked.json", place)
        for file in word_files(settings.data):
            (place / "words").mkdir(exist_ok=True)
            shutil.copy2(file, place / "words")
        (place / f"{platform}.ttl").write_text(turtle, encoding="utf-8")
        drafted = settings_for(place)
        serve_both([("the draft", opened_for(drafted), drafted, port),
                    ("what is published", shelf.opened, settings, port + 1)])  # fmt: skip
