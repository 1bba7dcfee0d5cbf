"""Names in a request, looked up in the read model; an unknown one is answered with the nearest."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from firstoff.answers.bared import bared_by
from firstoff.appliance.circuit import (
    Link,
    LinkKind,
)
from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.appliance.terms import Concept
from firstoff.errors import BadRequest, NotFound
from firstoff.search import codes_read, near


def known(what: str, names: Iterable[str], existing: Mapping[str, object]) -> frozenset[str]:
    """``names`` as a set.

    :raises NotFound: one of them is no key of ``existing``; carries the nearest keys.
    """
    found = frozenset(names)
    for name in sorted(found):
        if name not in existing:
            raise NotFound(what, name, near(name, list(existing), limit=3))
    return found


def codes_named(appliance: Appliance, shown: Iterable[str]) -> frozenset[str]:
    """Display codes by slug or as shown; spaces, case, hyphens and O for 0 are forgiven where one code alone fits.

    :raises NotFound: there is no such code, or several read alike; carries the nearest, as the machine shows them.
    """
    notations = {slug: code.notation for slug, code in appliance.codes.items()}
    found = set()
    for each in shown:
        read = codes_read(each, notations)
        if len(read) != 1:
            nearest = [notations[slug] for slug in read] or near(each, list(notations.values()), limit=3)
            raise NotFound("code", each, nearest)
        found.add(read[0])
    return frozenset(found)


def taken_off(appliance: Appliance, named: Iterable[str]) -> tuple[frozenset[str], dict[str, str]]:
    """The components that are off, and by which removal where that was named instead of the component or with it.

    :raises NotFound: a name is neither a component nor a removal; carries the nearest names.
    :raises BadRequest: two removals of one component are named.
    """
    found = known("component or removal", named, {**appliance.components, **appliance.removals})
    ways: dict[str, str] = {}
    for name in sorted(found - appliance.components.keys()):
        component = appliance.removals[name].component
        if ways.setdefault(component, name) != name:
            raise BadRequest(
                f"{component} cannot have come off by both {ways[component]} and {name}.",
                mend="Name the removal that took it off, or the component alone where that is not known.",
            )
    return frozenset(name for name in found if name in appliance.components).union(ways), ways


LIVE_TEST = "live-test"


@dataclass(frozen=True, slots=True)
class Aim:
    """A target as it was asked for: a ``live`` test is made with the supply on, others dead wherever they can be."""

    component: str
    purpose: Purpose
    live: bool = False

    @property
    def said(self) -> str:
        """The purpose as it stands in a request."""
        return LIVE_TEST if self.live else self.purpose.value


def aims(appliance: Appliance, reach: Iterable[str]) -> list[Aim]:
    """Targets as ``component`` or ``component:purpose``, each once, in the order given.

    :raises BadRequest: a purpose is unknown, or a live test is asked for where there is none.
    :raises NotFound: a component is unknown.
    """
    found: dict[Aim, None] = {}
    for each in reach:
        component, _, purpose = each.partition(":")
        known("component", [component], appliance.components)
        found[_aim(appliance, component, purpose or Purpose.REPLACE.value)] = None
    for aim in found:
        if aim.live and Aim(aim.component, aim.purpose) in found:
            raise BadRequest(
                f"{aim.component} is to be tested both dead and live.",
                mend="Ask for the two tests one after the other.",
            )
    return list(found)


def _aim(appliance: Appliance, component: str, purpose: str) -> Aim:
    if purpose == LIVE_TEST:
        paths = appliance.access_paths.values()
        if not any(path.component == component and path.live and path.purpose is Purpose.TEST for path in paths):
            raise BadRequest(f"There is no live test of {component}.", mend=f"Ask for reach={component}:test.")
        return Aim(component, Purpose.TEST, live=True)
    try:
        return Aim(component, Purpose(purpose))
    except ValueError as error:
        raise BadRequest(
            f"{purpose!r} is no purpose.", mend="Give reach=component:inspect, :test, :live-test or :replace."
        ) from error


def ruled_out(appliance: Appliance, asked: Iterable[Aim]) -> frozenset[str]:
    """The access paths that do not count: live ones where there is a dead one, unless a live test is asked for.

    Live parts are de-energised before work unless that is not feasible (29 CFR 1910.333(a)(1)).
    """
    wanted_live = {(aim.component, aim.purpose) for aim in asked if aim.live}
    paths = appliance.access_paths.values()
    dead = {(path.component, path.purpose) for path in paths if not path.live}
    return frozenset(
        path.id
        for path in paths
        if (not path.live if (path.component, path.purpose) in wanted_live else path.live)
        and (path.component, path.purpose) in dead
    )


def capacitors(appliance: Appliance) -> dict[str, Link]:
    """Every capacitor, by slug."""
    return {slug: link for slug, link in appliance.circuit.links.items() if link.kind is LinkKind.CAPACITOR}


def tools(appliance: Appliance) -> dict[str, Concept]:
    """Every tool that anything on the appliance needs, by slug."""
    every = [
        *(tool for removal in appliance.removals.values() for tool in removal.all_tools),
        *(tool for path in appliance.access_paths.values() for tool in path.tools),
        *(tool for preparation in appliance.preparations.values() for tool in preparation.tools),
        *(tool for check in appliance.checks.values() for tool in check.tools),
    ]
    return {tool.id: tool for tool in every}


def touch_points(appliance: Appliance, touch: Iterable[str]) -> tuple[frozenset[str], frozenset[str]]:
    """The points named, or all points of components named and what their removal bares; and the components concerned:
    theirs, and those that hold an energy which a hand at them meets.

    :raises BadRequest: there is none.
    :raises NotFound: a name is neither a point nor a component.
    """
    names = frozenset(touch)
    if not names:
        raise BadRequest("There is nothing to touch.", mend="Give at least one touch= with a point or a component.")
    points = appliance.circuit.points
    known("point or component", names, {**points, **appliance.components})
    of_components = {slug for slug, point in points.items() if point.component in names}
    for removal in appliance.removals.values():
        if removal.component in names:
            of_components |= bared_by(appliance, removal)
    touched = frozenset((names & points.keys()) | of_components)
    holders = frozenset(names & appliance.components.keys()) | {points[slug].component for slug in touched}
    felt = {
        source.held_by
        for source in appliance.circuit.sources.values()
        if source.held_by is not None and source.release_before & names
    }
    return touched, holders | felt
