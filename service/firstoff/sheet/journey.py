"""A plan as the way it takes through the removal graph of its request."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from firstoff.appliance.model import Purpose
from firstoff.removal.graph import Node, Way
from firstoff.sheet.words import minutes
from firstoff_contract.removal import RemovalPlan, Step

_GIVES_A_STATE = ("prepare", "isolate", "isolate_again")
_SERVES = ("inspect", "test", "replace", "read_hands_off")


@dataclass(frozen=True, slots=True)
class Journey:
    """``ways`` are those that the plan uses, ``other_ways`` those of its alternatives.

    ``removed`` has the steps by component, ``prepared`` by preparation, ``served`` by component and purpose. ``said``
    is the purpose of each target as it was asked for. ``more`` says of ways not taken how much more work the whole job
    would be. ``off`` are the components off from the start.
    """

    ways: frozenset[str]
    other_ways: frozenset[str]
    removed: dict[str, tuple[int, ...]]
    prepared: dict[str, tuple[int, ...]]
    served: dict[tuple[str, Purpose], tuple[int, ...]]
    said: dict[tuple[str, Purpose], str]
    more: dict[str, str]
    off: frozenset[str]

    def takes(self, node: Node, way: Way) -> bool:
        """Whether the plan brings ``node`` about by ``way``."""
        if node.what == "target":
            return way.id in (None, *self.ways) and self.off.union(self.removed).issuperset(way.off)
        return way.id in self.ways

    def knows(self, node: Node, way: Way) -> bool:
        """Whether the plan or one of its alternatives goes by ``way``."""
        return self.takes(node, way) or way.id is None or way.id in self.other_ways

    def steps(self, node: Node) -> tuple[int, ...]:
        """The steps out that bring ``node`` about, none where the plan does not."""
        if node.what == "component":
            return self.removed.get(node.id, ())
        if node.what == "state":
            return tuple(sorted(n for way in node.ways for n in self.prepared.get(way.id or "", ())))
        return self.served.get((node.id, node.target.purpose), ()) if node.target else ()


def journey_of(plan: RemovalPlan) -> Journey:
    """The way of ``plan``, by its steps out."""
    said = {(target.component.id, _purpose(target.purpose)): target.purpose for target in plan.reach}
    return Journey(
        ways=frozenset(step.way for step in plan.steps if step.way is not None),
        other_ways=frozenset(way for other in plan.alternatives for way in other.ways),
        removed=_by_name(
            (step.component.id, step.n) for step in plan.steps if step.action == "remove" and step.component
        ),
        prepared=_by_name((step.way, step.n) for step in plan.steps if step.action in _GIVES_A_STATE and step.way),
        served={key: _served(plan.steps, *key) for key in said},
        said={key: str(purpose) for key, purpose in said.items()},
        more=dict(_more(plan)),
        off=frozenset(ref.id for ref in plan.off),
    )


def _more(plan: RemovalPlan) -> Iterator[tuple[str, str]]:
    for each in plan.rejected:
        if each.kind == "more" and each.more is not None and plan.minimise == "minutes":
            yield each.way.id, f"{'' if each.proved else 'at least '}{minutes(each.more)} more in all"


def _purpose(said: str) -> Purpose:
    return Purpose.TEST if said == "live-test" else Purpose(said)


def _served(steps: Iterable[Step], component: str, purpose: Purpose) -> tuple[int, ...]:
    """The steps in which the target is served: the purpose stands in what the step is needed for."""
    served = [step for step in steps if step.action in _SERVES and step.component and step.component.id == component]
    exact = [step.n for step in served if step.action == purpose.value]
    return tuple(exact or [step.n for step in served if step.action == "read_hands_off"])


def _by_name(pairs: Iterable[tuple[str, int]]) -> dict[str, tuple[int, ...]]:
    found: dict[str, tuple[int, ...]] = {}
    for name, n in pairs:
        found[name] = (*found.get(name, ()), n)
    return found
