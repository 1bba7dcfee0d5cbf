"""The command line: the same answers as over HTTP, as tables for people or JSON for programs."""

from __future__ import annotations

import sys
from typing import Any

import typer

from firstoff.commands import (
    assisting,
    auditing,
    authoring,
    codes,
    configuring,
    diagnosing,
    energy,
    engines,
    finding,
    handing_over,
    keys,
    planning,
    publishing,
    serving,
    telling,
)
from firstoff.commands.shared import ERR
from firstoff.errors import ContentRefused, FirstoffError, Stale

app = typer.Typer(
    name="firstoff",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode="markdown",
    help="""What comes off first, what is still live, what is probably wrong.

Ask about a model by its slug or by the number on its rating plate. Try:

    firstoff search "drum won't turn"
    firstoff show tgd27-460-s drive-motor
    firstoff plan tgd27-460-s drum-belt
    firstoff live tgd27-460-s --opened power-control
    firstoff isolate tgd27-460-s drive-motor
    firstoff make-safe tgd27-460-s drum-belt
    firstoff reading tgd27-460-s tb-l1 tb-l2
    firstoff diagnose tgd27-460-s --symptom no-heat
    firstoff codes tgd27-460-s E4
    firstoff serve
    firstoff mcp

Every command that answers takes `--json` for programs. The exit status is 0 when the question was answered, 1 when it
could not be (the reason is on standard error), 2 when the command was misspelt.
""",
)

for _command in (
    serving.serve,
    engines.rebuild,
    assisting.mcp,
    authoring.check,
    authoring.template,
    authoring.ontology,
    planning.plan,
    planning.pareto,
    planning.sheet,
    planning.picture,
    handing_over.record,
    planning.exposed,
    planning.while_open,
    planning.hidden,
    energy.live,
    energy.supply,
    energy.isolate,
    energy.make_safe,
    energy.reading,
    energy.socket,
    energy.energies,
    energy.curve,
    energy.refrigerant,
    diagnosing.diagnose,
    diagnosing.carry,
    telling.outcome,
    telling.learned,
    codes.codes,
    codes.service_modes,
    finding.search,
    finding.suggest,
    finding.models,
    finding.show,
    finding.parts,
    configuring.settings,
    auditing.audit,
    serving.version,
):
    app.command()(_command)
app.command("new-key")(keys.make_key)
app.command("import")(authoring.import_workbook)
app.command()(authoring.export)
app.command()(publishing.preview)
app.command()(publishing.publish)
app.command()(publishing.versions)
app.command()(publishing.difference)
app.command("text")(publishing.version_text)
app.command()(publishing.restore)
app.command()(publishing.withdraw)


def main(arguments: list[str] | None = None) -> None:
    """Run a command; an error of ours becomes two plain lines on standard error and exit status 1."""
    try:
        app(arguments, standalone_mode=True)
    except FirstoffError as error:
        _say_error(error)
        sys.exit(1)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(1)


def _say_error(error: FirstoffError) -> None:
    settings: dict[str, Any] = {"markup": False, "highlight": False, "soft_wrap": True}
    ERR.print(f"firstoff: {error.detail}", style="bold", **settings)
    more = error.findings if isinstance(error, ContentRefused) else error.changed if isinstance(error, Stale) else ()
    for each in more:
        ERR.print(f"  {each}", **settings)
    ERR.print(error.mend, **settings)


if __name__ == "__main__":
    main()
