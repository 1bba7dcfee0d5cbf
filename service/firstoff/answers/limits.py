"""Limits of the day: what they rule out of a model, and why, in the trade's words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from firstoff.answers.exposures import MOST_KILOGRAMS_ALONE, frees_refrigerant, too_heavy_alone
from firstoff.appliance.model import (
    Appliance,
    Preparation,
    Removal,
)
from firstoff.errors import BadRequest
from firstoff.search import near


class Limit(StrEnum):
    """What cannot be done today."""

    ALONE = "alone"
    NO_LICENCE = "no-refrigerant-licence"
    FIXED = "machine-fixed"


LABELS: Mapping[Limit, str] = {
    Limit.ALONE: "working alone",
    Limit.NO_LICENCE: "no licence for refrigerant work",
    Limit.FIXED: "the machine cannot be moved",
}
LIFTED_BY: Mapping[Limit, str] = {
    Limit.ALONE: "a second person",
    Limit.NO_LICENCE: "a licensed refrigeration technician",
    Limit.FIXED: "room to move the machine",
}


@dataclass(frozen=True, slots=True)
class Day:
    """The limits of a day: ``rules_out`` says for each what ways it rules out, by id, and why."""

    limits: tuple[Limit, ...]
    rules_out: Mapping[Limit, Mapping[str, str]]

    def banned(self, without: frozenset[Limit] = frozenset()) -> frozenset[str]:
        """The ways ruled out by the limits, those ``without`` left aside."""
        return frozenset().union(*(self.rules_out[limit] for limit in self.limits if limit not in without))

    def reasons(self) -> dict[str, str]:
        """Why each way is ruled out, all limits that do so together."""
        found: dict[str, list[str]] = {}
        for limit in self.limits:
            for way, reason in self.rules_out[limit].items():
                found.setdefault(way, []).append(reason)
        return {way: ", and ".join(reasons) for way, reasons in found.items()}

    def ruling_out(self, ways: Iterable[str]) -> tuple[Limit, ...]:
        """The limits that rule out any of ``ways``."""
        wanted = frozenset(ways)
        return tuple(limit for limit in self.limits if not wanted.isdisjoint(self.rules_out[limit]))


def day_of(appliance: Appliance, named: Iterable[str]) -> Day:
    """The limits named, each once, in a fixed order.

    :raises BadRequest: one is unknown; names the nearest.
    """
    words = [each.value for each in Limit]
    given = frozenset(named)
    for name in sorted(given):
        if name not in words:
            nearest = near(name, words, limit=1)
            hint = f" Do you mean {nearest[0]}?" if nearest else ""
            raise BadRequest(f"There is no limit {name[:100]!r}.{hint}", mend=f"The limits are {', '.join(words)}.")
    limits = tuple(limit for limit in Limit if limit.value in given)
    return Day(limits, {limit: dict(_ruled_out(appliance, limit)) for limit in limits})


def refuse_contradictions(appliance: Appliance, day: Day, states: Mapping[str, str]) -> None:
    """A state in force that the plan has to end, and that a limit leaves no way back from, is a contradiction.

    :raises BadRequest: says which limit, and by what way back it would have gone.
    """
    for slug in states.values():
        state = appliance.states[slug]
        ways = _ways_home(appliance, slug, frozenset())
        if state.initial or not ways or _ways_home(appliance, slug, day.banned()):
            continue
        limits = day.ruling_out(ways)
        words = " and ".join(limit.value for limit in limits)
        back = ", ".join(f"{appliance.preparations[way].label} (undone)" for way in sorted(ways & day.banned()))
        raise BadRequest(
            f"The machine is said to be: {state.label}. The work ends by taking that back, and {words} rules out the "
            f"only way back: {back}.",
            mend=f"Leave out limits={words}, or what says that the machine is so: states={slug}, or parts in off=.",
        )


def _ways_home(appliance: Appliance, slug: str, banned: frozenset[str]) -> frozenset[str]:
    """The preparations that lead from ``slug`` to the initial state, whatever they need; none where none does."""
    joined: dict[str, list[tuple[str, str]]] = {}
    for each in appliance.preparations.values():
        if each.id not in banned:
            joined.setdefault(each.gives, []).append((each.from_state, each.id))
            joined.setdefault(each.from_state, []).append((each.gives, each.id))
    reached, ways, waiting = {slug}, set[str](), [slug]
    while waiting:
        for other, way in joined.get(waiting.pop(), ()):
            ways.add(way)
            if other not in reached:
                reached.add(other)
                waiting.append(other)
    home = any(appliance.states[each].initial for each in reached if each in appliance.states)
    return frozenset(ways) if home else frozenset()


def _ruled_out(appliance: Appliance, limit: Limit) -> Iterator[tuple[str, str]]:
    """The ways that ``limit`` rules out, with the reason as it follows a way's label and a colon."""
    ways: list[Removal | Preparation] = [*appliance.removals.values(), *appliance.preparations.values()]
    for way in ways:
        reason = _REASONS[limit](appliance, way)
        if reason:
            yield way.id, reason


def _not_alone(appliance: Appliance, way: Removal | Preparation) -> str:
    if way.persons > 1:
        return f"it takes {way.persons} persons, and you work alone"
    if isinstance(way, Removal) and too_heavy_alone(appliance, way):
        part = appliance.components[way.component]
        return f"{part.label} weighs {part.kilograms:g} kg, and over {MOST_KILOGRAMS_ALONE:g} kg is not lifted alone"
    return ""


def _not_without_licence(appliance: Appliance, way: Removal | Preparation) -> str:
    source = frees_refrigerant(appliance, way)
    if source is None:
        return ""
    who = f": {source.competence}" if source.competence else ""
    return f"it opens the refrigerant circuit, which takes a licence{who}"


def _not_moved(_appliance: Appliance, way: Removal | Preparation) -> str:
    moves = isinstance(way, Preparation) and way.moves_machine
    return "it moves the machine, which cannot be moved today" if moves else ""


_REASONS = {Limit.ALONE: _not_alone, Limit.NO_LICENCE: _not_without_licence, Limit.FIXED: _not_moved}
