"""What a service is set to, and where that came from."""

from __future__ import annotations

import os
from typing import Annotated

import typer

from firstoff import configuration
from firstoff.commands.shared import ERR, OUT, Config
from firstoff.tables import configuring as tables


def settings(
    config: Config = None,
    example: Annotated[bool, typer.Option("--example", help="Print a commented TOML file of every setting.")] = False,
) -> None:
    """Every setting: its default, its present value, where that came from, and what it does. Secrets are not shown.

    A default gives way to a TOML file, that to a variable FIRSTOFF_<NAME>, that to an option of a command. Try:

        firstoff settings --example > firstoff.toml
        firstoff settings --config firstoff.toml
    """
    if example:
        print(configuration.example(), end="")
        return
    found = configuration.configured(os.environ, {}, config)
    tables.settings(OUT, found)
    for each in found.unknown:
        ERR.print(f"{each} is set, and no setting has that name.", style="yellow", markup=False, highlight=False)
