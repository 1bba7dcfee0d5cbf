"""Moves: the acts of a plan in numbers, before they become a timeline."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from firstoff.removal.compiled import Compiled
from firstoff.removal.options import Option


@dataclass(frozen=True, slots=True, eq=False)
class Move:
    """An option carried out; with ``back``, the refit of what a removal took off, or of what was found off."""

    option: Option
    back: bool = False


def inverse(compiled: Compiled, edge: Option) -> Option:
    """The change of state that takes ``edge`` back: the undo of a preparation, or the preparation of an undo."""
    for option in compiled.by_head[edge.leaves]:
        if option.way == edge.way and option.leaves == edge.head:
            return option
    raise LookupError(f"{edge.way} has no way back")


def taken_back(compiled: Compiled, moves: Iterable[Move]) -> list[Move]:
    """The reverse of ``moves`` without the targets served: every part as before, every state taken back.

    Whatever a move needed is so again when it is taken back, so the reverse can be carried out if the moves can.
    """
    return [
        Move(inverse(compiled, move.option)) if move.option.is_edge else Move(move.option, back=not move.back)
        for move in reversed(list(moves))
        if move.option.is_edge or move.option.head < compiled.components
    ]


def cost_of(moves: Sequence[Move]) -> int:
    """What ``moves`` cost in ticks; a removal counts with its refit."""
    return sum(move.option.cost for move in moves if not move.back or move.option.puts_back)
