"""Steps as they stand on the sheet: what each bares, in as few words as are clear."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from firstoff.sheet.words import listed, minutes
from firstoff_contract.common import CautionNote
from firstoff_contract.removal import HiddenCheck, Step

#: So many isolated points are named at a step; points in any other state are all named.
_MOST_ISOLATED = 4
_SHARED = 3

_STATES = {
    "live": "LIVE",
    "unknown": "UNKNOWN, treat as live",
    "off_not_isolated": "OFF BUT NOT ISOLATED, treat as live",
    "isolated": "isolated",
}


@dataclass(frozen=True, slots=True)
class Reach:
    """Points within reach after a step that are in the same state; ``safe`` for isolated ones alone."""

    state: str
    points: str
    safe: bool


@dataclass(frozen=True, slots=True)
class Line:
    """A step; ``held`` says by what the part is held, with torques, ``needed_for`` what it is done for.

    ``instruction`` is the step's without what is said once for all. ``hidden`` are the checks that the step hides and
    its instruction does not speak of. ``cautions`` are those to be said in full before the step. Those in ``again``
    were; of each, the step out or back that said already how to be safe from it, None where this one is to: always for
    DANGER.
    """

    step: Step
    cautions: tuple[CautionNote, ...]
    again: tuple[tuple[CautionNote, int | None], ...]
    minutes: str
    instruction: str
    held: tuple[str, ...]
    tools: tuple[str, ...]
    reach: tuple[Reach, ...]
    needed_for: str
    hidden: tuple[HiddenCheck, ...]


@dataclass(frozen=True, slots=True)
class Told:
    """What is on the sheet before the steps: cautions said in full, and the points under making safe, by id."""

    cautions: tuple[CautionNote, ...] = ()
    points: frozenset[str] = frozenset()


def lines_of(steps: Sequence[Step], before: Iterable[Step], told: Told, *, why: bool, shared: str = "") -> list[Line]:
    """The steps of one way, out or back (those that ``before`` came out); ``why`` has each say what it is for.

    Torques and seals are told where a part is refitted, drives and locks where it comes off. Tools named on the way out
    are not named again.
    """
    out = list(before)
    at_hand = {tool.id for step in out for tool in step.tools}
    found: list[Line] = []
    known = {(each.id, each.text) for each in [*told.cautions, *(each for step in out for each in step.cautions)]}
    said: dict[tuple[str, str], int] = {}
    last: tuple[Step, int] | None = None
    for step in steps:
        new = tuple(each for each in step.cautions if (each.id, each.text) not in known)
        again = tuple(
            (each, None if each.signal_word == "DANGER" else said.get((each.id, each.text)))
            for each in step.cautions
            if each not in new
        )
        known.update((each.id, each.text) for each in new)
        for each in step.cautions:
            said.setdefault((each.id, each.text), step.n)
        found.append(
            Line(
                step=step,
                cautions=new,
                again=again,
                minutes=minutes(step.minutes) if step.minutes else "",
                instruction=step.instruction.removeprefix(shared).strip(),
                held=tuple(_held_by(step)),
                tools=tuple(tool.label for tool in step.tools if not at_hand.issuperset(t.id for t in step.tools)),
                reach=tuple(_reach(step, last, told.points)),
                needed_for=listed([ref.label for ref in step.needed_for]) if why else "",
                hidden=tuple(each for each in step.hides_checks if each.component.label not in step.instruction),
            )
        )
        if step.exposes:
            last = (step, last[1] if last and _same_points(step, last[0]) else step.n)
    return found


def sentence_of_most(steps: Sequence[Step]) -> str:
    """A sentence that at least three of the instructions begin with, to be said once; empty where there is none."""
    counts = Counter(_first_sentence(step.instruction) for step in steps if step.instruction)
    return next((text for text, count in counts.most_common(1) if count >= _SHARED), "")


def _first_sentence(text: str) -> str:
    first, stop, _ = text.partition(". ")
    return first + "." if stop else first


def _held_by(step: Step) -> Iterable[str]:
    """Fastenings and connections; of a part that is refitted those that nothing else names."""
    refit = step.action == "refit"
    for fastening in step.fastenings:
        text = " ".join(part for part in (fastening.kind, fastening.size) if part)
        if not refit:
            yield f"{fastening.count} × {text}" + (f", {fastening.drive}" if fastening.drive else "")
        elif fastening.single_use and step.renew:
            continue
        elif fastening.torque_nm is None or f"{text} to {fastening.torque_nm:g} N" not in step.instruction:
            tight = f", tighten to {fastening.torque_nm:g} N·m" if fastening.torque_nm is not None else ""
            yield f"{fastening.count} × {text}{tight}" + (", renew" if fastening.single_use else "")
    for connection in step.connections:
        if not refit:
            yield connection.label + (f" ({connection.lock})" if connection.lock else "")
        else:
            seal = f", seal: {connection.seal}" if connection.seal else ""
            yield f"{connection.label}{seal}" + (", renew" if connection.single_use else "")


def _same_points(step: Step, other: Step) -> bool:
    """Whether two steps have the same points within reach, and enough of them to be worth saying so."""
    return len(step.exposes) > 2 and {point.id for point in step.exposes} == {point.id for point in other.exposes}


def _reach(step: Step, last: tuple[Step, int] | None, measured: frozenset[str]) -> Iterable[Reach]:
    """The points by their state, the worst first.

    ``last`` is the last step that had any, and the number of the step at which they are listed: where all of the same
    points are in one state they are not listed again. Nor are all the isolated ones that are ``measured`` anyway; any
    other point is.
    """
    for state, words in _STATES.items():
        points = [point for point in step.exposes if point.state == state]
        if not points:
            continue
        volts = max((point.volts or 0.0 for point in points), default=0.0) if state == "live" else 0.0
        said = words + (f", up to {volts:.4g} V" if volts else "")
        safe = state == "isolated"
        whole = last is not None and (safe or all(point.state != "isolated" for point in last[0].exposes))
        if last and whole and len(points) == len(step.exposes) and _same_points(step, last[0]):
            still = "still" if all(point.state == state for point in last[0].exposes) else "now"
            yield Reach(f"{still} {said}", f"the points listed at step {last[1]}", safe)
            continue
        labels = [point.label for point in points]
        if safe and measured.issuperset(point.id for point in points[_MOST_ISOLATED:]) and len(labels) > _MOST_ISOLATED:
            rest = len(labels) - _MOST_ISOLATED
            labels = [*labels[: _MOST_ISOLATED - 1], f"{labels[_MOST_ISOLATED - 1]} and {rest} more under Make safe"]
        yield Reach(said, "; ".join(labels), safe)
