"""What can never come off or come about, whatever is done first.

Parts off and states are facts; removals and preparations give one fact each once all their needs are facts. The facts
that can be had are the smallest set that is closed under this (delete relaxation: nothing had is lost again). What lies
outside waits for itself, or for something that has no way at all.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from firstoff.appliance.model import Appliance
from firstoff.authoring.draft import Draft
from firstoff.authoring.findings import Problem, error, warning

Fact = str  # the slug of a component that is off, or of a state that holds: slugs are unique across classes


@dataclass(frozen=True, slots=True)
class _Way:
    """A removal or preparation: gives ``fact`` once ``needs`` hold. ``act`` puts it in words."""

    fact: Fact
    needs: tuple[Fact, ...]


def never(draft: Draft) -> Iterator[Problem]:
    """Parts that never come off and states that never come about, with the reason; each reason once.

    A part that only waits for another which is told already is not told again.
    """
    told: set[frozenset[Fact]] = set()
    for variant in draft.variants:
        ways = _ways(variant.appliance)
        had = facts_to_be_had(variant.appliance)
        for fact in sorted(set(ways) - had):
            chain = _waiting(fact, ways, had)
            if chain is None or frozenset(chain) in told:
                continue
            told.add(frozenset(chain))
            yield _problem(draft, variant.appliance, variant.words, chain)


def never_reached(draft: Draft) -> Iterator[Problem]:
    """Ways in that wait for something without any way, and states that no preparation gives."""
    told: set[tuple[str, str]] = set()
    for variant in draft.variants:
        appliance, ways = variant.appliance, _ways(variant.appliance)
        had = facts_to_be_had(appliance)
        for path in appliance.access_paths.values():
            for need in sorted((path.needs_off | path.needs_states) - had - set(ways)):
                if (path.id, need) not in told and _known(appliance, need):
                    told.add((path.id, need))
                    yield error(
                        "way-in-never-open",
                        path.id,
                        f"This way in waits for {_words(draft, appliance, need)}, which nothing brings about.",
                        "Describe the removal or preparation that does, or correct the need.",
                    )


def fixed_components(draft: Draft) -> Iterator[Problem]:
    """Components that nothing takes off and no way leads to."""
    if draft.whole is None:
        return
    removable = {removal.component for removal in draft.whole.removals.values()}
    reached = {path.component for path in draft.whole.access_paths.values()}
    originals = {
        original: substitute
        for resource in draft.statements.of_class("Substitution")
        if (original := resource.slug("original")) and (substitute := resource.slug("substitute"))
    }
    inheriting = {substitute for original, substitute in originals.items() if original in removable | reached}
    for component in draft.whole.components.values():
        unit = component.replaced_as
        if component.id in removable | reached | inheriting or component.kind.id in ("supply-outlet", "stop-tap"):
            continue
        if unit is not None and unit in removable:
            continue
        yield warning(
            "component-fixed",
            component.id,
            "Nothing takes this component off and no way leads to it.",
            "Describe a removal or an access path, or leave it so where it is fixed and out of reach.",
        )


def facts_to_be_had(appliance: Appliance, without: frozenset[Fact] = frozenset()) -> frozenset[Fact]:
    """Components that can be off and states that can hold, in time linear in the needs.

    ``without`` are facts that nothing may bring about.
    """
    waiting: dict[Fact, list[int]] = {}
    ways = [way for own in _ways(appliance).values() for way in own]
    missing = [len(way.needs) for way in ways]
    for number, way in enumerate(ways):
        for need in way.needs:
            waiting.setdefault(need, []).append(number)
    had: set[Fact] = set()
    ready = [state.id for state in appliance.states.values() if state.initial]
    ready += [way.fact for way, count in zip(ways, missing, strict=True) if count == 0]
    while ready:
        fact = ready.pop()
        if fact in had or fact in without:
            continue
        had.add(fact)
        for number in waiting.get(fact, ()):
            missing[number] -= 1
            if missing[number] == 0:
                ready.append(ways[number].fact)
    return frozenset(had)


def _ways(appliance: Appliance) -> dict[Fact, list[_Way]]:
    ways: dict[Fact, list[_Way]] = {}
    for removal in appliance.removals.values():
        needs = tuple(sorted(removal.needs_off | removal.needs_states))
        ways.setdefault(removal.component, []).append(_Way(removal.component, needs))
    for preparation in appliance.preparations.values():
        needs = tuple(sorted(preparation.needs_off | preparation.needs_states | {preparation.from_state}))
        ways.setdefault(preparation.gives, []).append(_Way(preparation.gives, needs))
    return ways


def _waiting(fact: Fact, ways: Mapping[Fact, list[_Way]], had: frozenset[Fact]) -> tuple[Fact, ...] | None:
    """The circle ``fact`` stands in, from its smallest member, or the pair of ``fact`` and a need without any way.

    None where it only waits for such a circle or pair.
    """
    chain: list[Fact] = [fact]
    while True:
        needs = [need for way in ways[chain[-1]] for need in way.needs if need not in had]
        following = needs[0]
        if following not in ways:
            return (fact, following) if len(chain) == 1 else None
        if following in chain:
            circle = chain[chain.index(following) :]
            if fact not in circle:
                return None
            start = circle.index(min(circle))
            return tuple(circle[start:] + circle[:start])
        chain.append(following)


def _problem(draft: Draft, appliance: Appliance, words: str, chain: tuple[Fact, ...]) -> Problem:
    first = chain[0]
    rule = "never-comes-off" if first in appliance.components else "state-out-of-reach"
    where = f" (seen on {words})" if len(draft.variants) > 1 else ""
    if len(chain) == 2 and chain[1] not in _ways(appliance):
        return error(
            rule,
            first,
            f"{_act(draft, appliance, first)} waits for {_words(draft, appliance, chain[1])}, "
            f"which nothing brings about{where}.",
            "Describe the removal or preparation that does, or take the need away.",
        )
    steps = [
        f"{_act(draft, appliance, fact)} waits for {_words(draft, appliance, following)}"
        for fact, following in zip(chain, (*chain[1:], first), strict=True)
    ]
    return error(
        rule,
        first,
        f"The needs run in a circle: {'; '.join(steps)}{where}.",
        "Take one of these needs away, or describe another way for one of these parts.",
    )


def _known(appliance: Appliance, fact: Fact) -> bool:
    return fact in appliance.components or fact in appliance.states


def _act(draft: Draft, appliance: Appliance, fact: Fact) -> str:
    return ("taking off " if fact in appliance.components else "the state ") + draft.label(fact)


def _words(draft: Draft, appliance: Appliance, fact: Fact) -> str:
    return f"{draft.label(fact)} off" if fact in appliance.components else f"the state {draft.label(fact)}"
