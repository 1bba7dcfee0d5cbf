"""What an answer rests on: content that is not reviewed, and bulletins that touch what it names."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeVar

from pydantic import BaseModel

from firstoff.answers.notes import bulletin_notes
from firstoff.appliance.model import Appliance, Bulletin
from firstoff_contract.common import Grounded

Said = TypeVar("Said")


def grounded(answer: Said, appliances: Sequence[Appliance]) -> Said:
    """``answer`` saying whether it rests on a draft, and with the bulletins that touch it.

    ``appliances`` are all that the machine in hand may be. An answer that lists its bulletins itself keeps its list.
    """
    if not isinstance(answer, Grounded):
        return answer
    named = frozenset(_named(answer))
    found = {each.id: each for appliance in appliances for each in _touching(appliance, named)}
    more = {} if answer.bulletins else {"bulletins": bulletin_notes(found[slug] for slug in sorted(found))}
    return answer.model_copy(update={**more, "draft": any(each.status != "reviewed" for each in appliances)})


def touching_parts(appliance: Appliance, bulletin: Bulletin) -> frozenset[str] | None:
    """The components of which an answer has to name one for ``bulletin`` to touch it; None where it touches any."""
    parts = bulletin.concerns & appliance.components.keys()
    return None if not parts or bulletin.kind.id == "safety-recall" else parts


def _touching(appliance: Appliance, named: frozenset[str]) -> Iterator[Bulletin]:
    """The bulletins that concern a component that is named, or no component in particular, or safety."""
    for each in appliance.bulletins:
        parts = touching_parts(appliance, each)
        if parts is None or parts & named:
            yield each


def _named(value: object) -> Iterator[str]:
    """Every identifier in a contract model."""
    if isinstance(value, BaseModel):
        for name in type(value).model_fields:
            inner = getattr(value, name)
            if isinstance(inner, str):
                if name in ("id", "component"):
                    yield inner
            else:
                yield from _named(inner)
    elif isinstance(value, (list, tuple)):
        for each in value:
            yield from _named(each)
    elif isinstance(value, dict):
        for each in value.values():
            yield from _named(each)
