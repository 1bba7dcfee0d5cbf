"""Look at the audit trail."""

from __future__ import annotations

import json

import typer

from firstoff.access.trail import FILE, digest_of, read
from firstoff.commands.shared import ERR, OUT, AsJson, State, settings_for
from firstoff.errors import BadRequest
from firstoff.tables import auditing as tables


def audit(state: State = None, as_json: AsJson = False) -> None:
    """Who wrote what, when and from where, and whether the trail is whole.

    Each line holds the digest of the one before; a line that was changed, taken away or put elsewhere shows, and the
    exit status is 1. Lines that are missing at the end show by the last digest, where you have kept it elsewhere.
    """
    folder = settings_for(None, state).state
    if folder is None:
        raise BadRequest("No folder of a trail is named.", mend="Name one with --state, or set FIRSTOFF_STATE.")
    found = list(read(folder / FILE))
    whole = [line for line in (folder / FILE).read_bytes().split(b"\n") if line]
    if as_json:
        for each in found:
            print(json.dumps({"line": each.number, "wrong": each.wrong, **each.told}))
    else:
        tables.trail(OUT, found, digest_of(whole[-1]) if whole else None)
    wrong = [each for each in found if each.wrong is not None]
    for each in wrong:
        ERR.print(f"line {each.number} {each.wrong}", style="bold", markup=False, highlight=False)
    if wrong:
        raise typer.Exit(1)
