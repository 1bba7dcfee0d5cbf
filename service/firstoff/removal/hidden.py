"""What a part hides: everything that cannot be reached while it is on.

Ways and states are taken as bringing about and never undoing (delete-free), so what is said to be hidden is hidden
for certain: even then no way leads there.
"""

from __future__ import annotations

from collections.abc import Iterable

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal.request import Target


def hidden_by(appliance: Appliance, component: str, barred: Iterable[str] = ()) -> frozenset[Target]:
    """The targets that can be reached, and by no way with ``component`` on; its own are left out.

    ``barred`` are ids of ways that do not count.
    """
    ruled_out = frozenset(barred)
    own = frozenset(removal.id for removal in appliance.removals.values() if removal.component == component)
    behind = _reached(appliance, ruled_out) - _reached(appliance, ruled_out | own)
    return frozenset(target for target in behind if target.component != component)


def _reached(appliance: Appliance, barred: frozenset[str]) -> frozenset[Target]:
    """Every target that is reached if nothing ever has to be undone."""
    found = _brought_about(appliance, barred)
    targets = {
        Target(path.component, path.purpose)
        for path in appliance.access_paths.values()
        if path.id not in barred and path.needs_off | path.needs_states <= found
    }
    restricted = {path.component for path in appliance.access_paths.values() if path.purpose is Purpose.REPLACE}
    for component in appliance.components.values():
        target = Target(component.id, Purpose.REPLACE)
        off = component.id in found or (component.replaced_as or component.id) in found
        if not off:
            targets.discard(target)
        elif component.id not in restricted:
            targets.add(target)
    return frozenset(targets)


def _brought_about(appliance: Appliance, barred: frozenset[str]) -> frozenset[str]:
    """The components off and the states in force at some time, whatever is done."""
    found = {state.id for state in appliance.states.values() if state.initial}
    ways: list[tuple[frozenset[str], frozenset[str]]] = [
        (removal.needs_off | removal.needs_states, frozenset({removal.component}))
        for removal in appliance.removals.values()
        if removal.id not in barred
    ]
    for each in appliance.preparations.values():
        if each.id not in barred:
            others = each.needs_off | (each.needs_states - {each.gives})
            ways.append((others | {each.from_state}, frozenset({each.gives})))
    changed = True
    while changed:
        changed = False
        for needs, gives in ways:
            if needs <= found and not gives <= found:
                found |= gives
                changed = True
    return frozenset(found)
