"""Steps as they stand on the sheet: what each bares, in as few words as are clear."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from firstoff.sheet.words import listed, minutes
from firstoff_contract.common import CautionNote
from firstoff_contract.removal import ConnectionNote, FasteningNote, Step

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

    ``cautions`` are those to be said in full before the step. Those in ``again`` were; of each, the step out or back
    that said already how to be safe from it, None where this one is to.
    """

    step: Step
    cautions: tuple[CautionNote, ...]
    again: tuple[tuple[CautionNote, int | None], ...]
    minutes: str
    held: tuple[str, ...]
    tools: tuple[str, ...]
    reach: tuple[Reach, ...]
    needed_for: str


@dataclass(frozen=True, slots=True)
class Told:
    """What is on the sheet before the steps: cautions said in full, and the points under making safe, by id."""

    cautions: tuple[CautionNote, ...] = ()
    points: frozenset[str] = frozenset()


def lines_of(steps: Sequence[Step], before: Iterable[Step], told: Told, *, why: bool) -> list[Line]:
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
        again = tuple((each, said.get((each.id, each.text))) for each in step.cautions if each not in new)
        known.update((each.id, each.text) for each in new)
        for each in step.cautions:
            said.setdefault((each.id, each.text), step.n)
        found.append(
            Line(
                step=step,
                cautions=new,
                again=again,
                minutes=minutes(step.minutes) if step.minutes else "",
                held=(
                    *(_held(each, refit=step.action == "refit") for each in step.fastenings),
                    *(_connected(each, refit=step.action == "refit") for each in step.connections),
                ),
                tools=tuple(tool.label for tool in step.tools if not at_hand.issuperset(t.id for t in step.tools)),
                reach=tuple(_reach(step, last, told.points)),
                needed_for=listed([ref.label for ref in step.needed_for]) if why else "",
            )
        )
        if step.exposes:
            last = (step, last[1] if last and _same_points(step, last[0]) else step.n)
    return found


def instruction_of_most(steps: Sequence[Step]) -> str:
    """An instruction that at least three of the steps share, to be said once; empty where there is none."""
    counts = Counter(step.instruction for step in steps if step.instruction)
    return next((text for text, count in counts.most_common(1) if count >= _SHARED), "")


def _held(each: FasteningNote, *, refit: bool) -> str:
    parts = [f"{each.count} × {each.kind}", *([each.size] if each.size else [])]
    text = " ".join(parts)
    text += f", {each.drive}" if each.drive and not refit else ""
    text += f", tighten to {each.torque_nm:g} N·m" if each.torque_nm is not None and refit else ""
    return text + (", renew" if each.single_use and refit else "")


def _connected(each: ConnectionNote, *, refit: bool) -> str:
    text = each.label
    text += f" ({each.lock})" if each.lock and not refit else ""
    text += f", seal: {each.seal}" if each.seal and refit else ""
    return text + (", renew" if each.single_use and refit else "")


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
