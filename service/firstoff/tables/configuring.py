"""Settings, for people at a terminal."""

from __future__ import annotations

from dataclasses import fields

from rich.console import Console

from firstoff.configuration import DEFAULT, Configured, default_of, shown


def settings(out: Console, found: Configured) -> None:
    """Each setting in a paragraph: its value and where that came from, its default, what it does."""
    for each in fields(found.settings):
        value, origin = shown(each, getattr(found.settings, each.name)), found.origins[each.name]
        default = "" if origin == DEFAULT else f"; default {shown(each, default_of(each))}"
        out.print(f"{each.name} = {value}", style="bold", markup=False, highlight=False)
        out.print(f"    from: {origin}{default}", markup=False, highlight=False)
        out.print(f"    {each.metadata['help']}", markup=False, highlight=False)
