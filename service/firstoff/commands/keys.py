"""Make keys."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Annotated

import typer

from firstoff.access.key_file import add_key
from firstoff.access.keys import SCOPES, Key, key_digest, new_key
from firstoff.commands.shared import ERR, Config
from firstoff.configuration import settings_from
from firstoff.errors import BadRequest


def make_key(
    name: Annotated[str, typer.Argument(help="Whose key it is, such as bench. What is written is kept with the name.")],
    scope: Annotated[list[str], typer.Option(help=f"What it may do: {', '.join(SCOPES)}. Repeats.")],
    starts: Annotated[str | None, typer.Option("--from", help="First day it holds, such as 2026-11-27 (UTC).")] = None,
    until: Annotated[str | None, typer.Option(help="Last day it holds. Default: until it is taken away.")] = None,
    keys: Annotated[Path | None, typer.Option(help="File of keys. Default: the one that FIRSTOFF_KEYS names.")] = None,
    config: Config = None,
) -> None:
    """Make a key and add its digest to the file of keys; the key is printed once and kept nowhere.

    A running service takes the file up by itself. To change a key, make another, hand it over, then delete the table of
    the old one. Try:

        firstoff new-key van-1 --scope outcomes --keys keys.toml
        FIRSTOFF_KEYS=keys.toml FIRSTOFF_STATE=state firstoff serve
    """
    path = keys or settings_from(config=config).keys
    if path is None:
        raise BadRequest("No file of keys is named.", mend="Name one with --keys, or set FIRSTOFF_KEYS to one.")
    for each in scope:
        if each not in SCOPES:
            raise BadRequest(f"There is no scope {each!r}.", mend=f"Give --scope one of {', '.join(SCOPES)}.")
    ends = _day("--until", until)
    key = new_key()
    add_key(
        path,
        Key(name, key_digest(key), frozenset(scope), _day("--from", starts), ends and ends + timedelta(days=1)),
    )
    ERR.print(f"{name} was added to {path}. Hand the key over; it is not shown again.", markup=False, highlight=False)
    print(key)


def _day(option: str, text: str | None) -> datetime | None:
    if text is None:
        return None
    try:
        return datetime.strptime(text, "%Y-%m-%d").replace(tzinfo=UTC)
    except ValueError as error:
        raise BadRequest(f"{option} is {text!r}, which is no day.", mend=f"Give {option} 2026-11-27.") from error
