"""Random platforms and random changes to them, and an oracle that says what a variant has, straight from the words.

The words are those of ``fo:substitute`` in the ontology: the component that takes the place keeps the original's points
and inherits its removals, ways in, links and faults unless it brings its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass

from hypothesis import strategies as st

from firstoff.appliance.circuit import (
    Circuit,
    Device,
    EnergySource,
    Link,
    LinkKind,
    Point,
)
from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Caution,
    Check,
    Component,
    Connection,
    DisplayCode,
    Effect,
    Fault,
    Outcome,
    Preparation,
    Purpose,
    Remedy,
    Removal,
    State,
    StateVariable,
    Symptom,
)
from firstoff.appliance.terms import Concept
from firstoff.appliance.variant import Changes

KIND = Concept("kind", "kind")


@dataclass(frozen=True)
class Case:
    platform: Appliance
    changes: Changes
    optional: frozenset[str]


def _names(letter: str, count: int) -> list[str]:
    return [f"{letter}{number}" for number in range(count)]


def _some(draw: st.DrawFn, of: Sequence[str], most: int = 3) -> frozenset[str]:
    return frozenset(draw(st.lists(st.sampled_from(of), max_size=most))) if of else frozenset()


@st.composite
def cases(draw: st.DrawFn) -> Case:
    """A platform of up to seven components, and changes whose substitutions run from lower numbers to higher."""
    parts = _names("c", draw(st.integers(2, 7)))
    part = st.sampled_from(parts)

    def some_parts() -> frozenset[str]:
        return _some(draw, parts)

    points = {
        slug: Point(slug, slug, parts[at] if at < len(parts) else draw(part))
        for at, slug in enumerate(_names("p", draw(st.integers(2, 9))))
    }
    point = st.sampled_from(list(points))
    devices = {
        slug: Device(slug, slug, KIND, draw(part), draw(st.booleans()), needs_off=some_parts())
        for slug in _names("d", draw(st.integers(0, 3)))
    }
    links = _links(draw, part, point, list(devices))
    faults = _faults(draw, parts)
    platform = Appliance(
        model="m",
        model_number="m",
        label="m",
        platform=Concept("platform", "platform"),
        maker="Tolvane",
        kind=KIND,
        revision="r",
        components={
            slug: Component(
                slug, slug, KIND, KIND, sits_inside=draw(st.none() | part), replaced_as=draw(st.none() | part)
            )
            for slug in parts
        },
        removals=_removals(draw, parts, list(links), list(points)),
        access_paths={
            slug: AccessPath(
                slug,
                draw(part),
                slug,
                Purpose.TEST,
                KIND,
                needs_off=some_parts(),
                needs_fitted=some_parts(),
                bares=_some(draw, list(points)),
            )
            for slug in _names("w", draw(st.integers(0, 4)))
        },
        variables={"v": StateVariable("v", "v", ("on", "off"))},
        states={
            "on": State("on", "v", "on", initial=True),
            "off": State("off", "v", "off", devices_open=_some(draw, list(devices))),
        },
        preparations={
            "act": Preparation("act", "act", "off", "on", 1, 1, needs_off=some_parts(), needs_fitted=some_parts())
        },
        circuit=Circuit(points, links, devices, _sources(draw, part, list(points))),
        cautions=tuple(
            Caution(slug, "WARNING", KIND, slug, slug, _some(draw, [*parts, *faults, *devices, "act", "platform"]))
            for slug in _names("a", draw(st.integers(0, 3)))
        ),
        symptoms={slug: Symptom(slug, slug) for slug in ("s0", "s1")},
        faults=faults,
        checks=_checks(draw, part, list(points), list(faults)),
        codes={
            slug: DisplayCode(slug, slug, slug, _some(draw, list(faults)), _some(draw, ["s0", "s1"]))
            for slug in _names("k", draw(st.integers(0, 2)))
        },
    )
    return Case(platform, *_changes(draw, parts))


def _changes(draw: st.DrawFn, parts: list[str]) -> tuple[Changes, frozenset[str]]:
    replaces = {}
    for at in draw(st.lists(st.integers(0, len(parts) - 2), max_size=3, unique=True)):
        replaces[parts[at]] = draw(st.sampled_from(parts[at + 1 :]))
    changes = Changes(_some(draw, parts, 2), _some(draw, parts, 2), replaces)
    return changes, changes.adds | frozenset(replaces.values()) | _some(draw, parts, 2)


def _links(
    draw: st.DrawFn, part: st.SearchStrategy[str], point: st.SearchStrategy[str], devices: list[str]
) -> dict[str, Link]:
    slugs = _names("l", draw(st.integers(0, 6)))
    device, bled = st.none() | st.sampled_from([*devices, None]), st.none() | st.sampled_from([*slugs, None])
    return {
        slug: Link(slug, slug, LinkKind.CONTACT, draw(point), draw(point), draw(part), draw(device), bleeds=draw(bled))
        for slug in slugs
    }


def _removals(draw: st.DrawFn, parts: list[str], links: list[str], points: list[str]) -> dict[str, Removal]:
    found = {}
    for slug in _names("r", draw(st.integers(0, 5))):
        connection = Connection(KIND, slug, opens=_some(draw, links))
        found[slug] = Removal(
            slug,
            draw(st.sampled_from(parts)),
            slug,
            1.0,
            1.0,
            needs_off=_some(draw, parts),
            connections=(connection,),
            opens=_some(draw, links) | connection.opens,
            bares=_some(draw, points),
        )
    return found


def _sources(draw: st.DrawFn, part: st.SearchStrategy[str], points: list[str]) -> dict[str, EnergySource]:
    end = st.none() | st.sampled_from(points)
    return {
        slug: EnergySource(
            slug,
            slug,
            KIND,
            lines=tuple(sorted(_some(draw, points))),
            neutral=draw(end),
            protective_earth=draw(end),
            feeds=tuple(sorted(_some(draw, points))),
            derived_from=tuple(sorted(_some(draw, points))),
            held_by=draw(st.none() | part),
            release_before=draw(st.frozensets(part, max_size=3)),
        )
        for slug in _names("e", draw(st.integers(0, 3)))
    }


def _faults(draw: st.DrawFn, parts: list[str]) -> dict[str, Fault]:
    slugs = _names("f", draw(st.integers(0, 4)))
    owner = st.none() | st.sampled_from(parts)
    return {
        slug: Fault(
            slug,
            slug,
            KIND,
            KIND,
            1.0,
            component=draw(owner),
            effects=tuple(Effect(symptom, 0.5) for symptom in sorted(_some(draw, ["s0", "s1"]))),
            brings_on=_some(draw, slugs),
            remedies=(Remedy(f"x-{slug}", slug, KIND, draw(owner)),),
        )
        for slug in slugs
    }


def _checks(draw: st.DrawFn, part: st.SearchStrategy[str], points: list[str], faults: list[str]) -> dict[str, Check]:
    return {
        slug: Check(
            slug,
            slug,
            draw(part),
            Purpose.TEST,
            KIND,
            1.0,
            between=tuple(sorted(_some(draw, points, 2))),
            outcomes=(Outcome(slug, True, speaks_for=_some(draw, faults), rules_out=_some(draw, faults)),),
        )
        for slug in _names("h", draw(st.integers(0, 3)))
    }


# --- the oracle ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Oracle:
    """What a variant has, from the top down: each component that is there, and what it has of its own or inherits."""

    case: Case

    @property
    def present(self) -> set[str]:
        changes = self.case.changes
        brought = set(changes.adds) | set(changes.replaces.values())
        return {
            part
            for part in self.case.platform.components
            if part not in changes.leaves_out
            and part not in changes.replaces
            and (part not in self.case.optional or part in brought)
        }

    def originals(self, part: str) -> list[str]:
        return [original for original, substitute in self.case.changes.replaces.items() if substitute == part]

    def items(self, part: str, owners: Mapping[str, str | None]) -> set[str]:
        """The items of a component: its own, or where it has none those of the components it replaces."""
        own = {slug for slug, owner in owners.items() if owner == part}
        return own or {slug for original in self.originals(part) for slug in self.items(original, owners)}

    def owned(self, owners: Mapping[str, str | None]) -> dict[str, str | None]:
        """Every item that is there, with the component it belongs to now."""
        kept: dict[str, str | None] = {slug: None for slug, owner in owners.items() if owner is None}
        for part in self.present:
            kept.update(dict.fromkeys(self.items(part, owners), part))
        return kept

    def standing_for(self, part: str) -> set[str]:
        """The component and all whose place it takes, directly or by way of others."""
        return {part}.union(*(self.standing_for(original) for original in self.originals(part)))

    def read(self, parts: frozenset[str]) -> set[str]:
        """References to components as the variant has them."""
        return {part for part in self.present if self.standing_for(part) & parts}

    def points(self) -> dict[str, str]:
        return {
            slug: part
            for part in self.present
            for slug, point in self.case.platform.circuit.points.items()
            if point.component in self.standing_for(part)
        }


# --- references ------------------------------------------------------------------------------------

#: Field names that hold slugs, by what the slugs are of.
REFERENCES = {
    "components": {"component", "needs_off", "needs_fitted", "sits_inside", "replaced_as", "held_by", "release_before"},
    "points": {"start", "end", "bares", "between", "lines", "neutral", "protective_earth", "feeds", "derived_from"},
    "links": {"opens", "bleeds"},
    "devices": {"device", "devices_open"},
    "faults": {"faults", "brings_on", "speaks_for", "rules_out"},
    "symptoms": {"symptom", "symptoms"},
    "states": {"needs_states", "gives", "from_state", "gone_in"},
}


def references(value: object) -> Iterator[tuple[str, str]]:
    """Every reference (kind, slug) in a part of the read model; mappings of whole things are walked, not read."""
    if isinstance(value, Mapping):
        for each in value.values():
            yield from references(each)
    elif isinstance(value, tuple):
        for each in value:
            yield from references(each)
    elif is_dataclass(value):
        for field in fields(value):
            content = getattr(value, field.name)
            for kind, names in REFERENCES.items():
                if field.name in names and not isinstance(content, Mapping):
                    slugs = (content,) if isinstance(content, str) else content or ()
                    yield from ((kind, slug) for slug in slugs)
            yield from references(content)


def holding(appliance: Appliance) -> dict[str, set[str]]:
    """The slugs of what an appliance has, by kind."""
    circuit = appliance.circuit
    return {
        "components": set(appliance.components),
        "points": set(circuit.points),
        "links": set(circuit.links),
        "devices": set(circuit.devices),
        "faults": set(appliance.faults),
        "symptoms": set(appliance.symptoms),
        "states": set(appliance.states),
    }
