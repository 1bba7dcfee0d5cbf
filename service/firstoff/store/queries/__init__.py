"""The named queries, one ``.rq`` file each."""

from __future__ import annotations

from functools import cache
from importlib import resources


@cache
def query_text(name: str) -> str:
    """The text of the query ``name``.

    :raises FileNotFoundError: there is no such file.
    """
    return resources.files(__name__).joinpath(f"{name}.rq").read_text(encoding="utf-8")


def query_names() -> tuple[str, ...]:
    """The names of all queries, sorted."""
    folder = resources.files(__name__)
    return tuple(sorted(entry.name[:-3] for entry in folder.iterdir() if entry.name.endswith(".rq")))
