"""Names in a request, looked up in the read model; an unknown one is answered with the nearest."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from firstoff.appliance.model import Appliance, Concept, Purpose
from firstoff.errors import BadRequest, NotFound
from firstoff.search import near


def known(what: str, names: Iterable[str], existing: Mapping[str, object]) -> frozenset[str]:
    """``names`` as a set.

    :raises NotFound: one of them is no key of ``existing``; carries the nearest keys.
    """
    found = frozenset(names)
    for name in sorted(found):
        if name not in existing:
            raise NotFound(what, name, near(name, list(existing), limit=3))
    return found


def targets(appliance: Appliance, reach: Iterable[str]) -> list[tuple[str, Purpose]]:
    """Targets as ``component`` or ``component:purpose``, each once, in the order given.

    :raises BadRequest: there is none, or a purpose is none of inspect, test and replace.
    :raises NotFound: a component is unknown.
    """
    found: dict[tuple[str, Purpose], None] = {}
    for each in reach:
        component, _, purpose = each.partition(":")
        known("component", [component], appliance.components)
        try:
            found[component, Purpose(purpose or "replace")] = None
        except ValueError as error:
            raise BadRequest(
                f"{purpose!r} is no purpose.", mend="Give reach=component:inspect, :test or :replace."
            ) from error
    if not found:
        raise BadRequest("There is nothing to reach.", mend="Give at least one reach=component:purpose.")
    return list(found)


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
    """The points named, or all points of components named; and the components concerned.

    :raises BadRequest: there is none.
    :raises NotFound: a name is neither a point nor a component.
    """
    names = frozenset(touch)
    if not names:
        raise BadRequest("There is nothing to touch.", mend="Give at least one touch= with a point or a component.")
    points = appliance.circuit.points
    known("point or component", names, {**points, **appliance.components})
    of_components = {slug for slug, point in points.items() if point.component in names}
    touched = frozenset((names & points.keys()) | of_components)
    holders = frozenset(names & appliance.components.keys()) | {points[slug].component for slug in touched}
    return touched, holders
