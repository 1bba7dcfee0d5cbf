"""What the models of a platform change of it, and which of them have a part, show a symptom or a code."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from firstoff.appliance.compile import changes_of
from firstoff.appliance.compile_faults import codes
from firstoff.appliance.serial import leave_no_gap, serial_key
from firstoff.appliance.statements import Resource, Statements
from firstoff.appliance.variant import Cause, Changes, had


@dataclass(frozen=True, slots=True)
class SerialRange:
    id: str
    first: str | None
    last: str | None
    changes: Changes

    @property
    def words(self) -> str:
        """The range in words, such as ``serial numbers from 2500 to 2999``."""
        ends = [f"from {self.first}" if self.first else "", f"to {self.last}" if self.last else ""]
        return "serial numbers " + (" ".join(end for end in ends if end) or "of any kind")


@dataclass(frozen=True, slots=True)
class Fitted:
    """By model, by slug, its changes and its serial ranges in their order.

    ``optional`` are the components that some model or range adds or uses as a substitute.
    """

    changes: Mapping[str, Changes]
    ranges: Mapping[str, tuple[SerialRange, ...]]
    optional: frozenset[str]

    @classmethod
    def of(cls, graph: Statements) -> Fitted:
        """:raises ContentBroken: a substitution is not complete, or two are of one component."""
        models = list(graph.of_class("Model"))
        changes = {each.id: changes_of(each) for each in models}
        ranges = {
            each.id: tuple(sorted(map(_range, each.parts("hasSerialRange")), key=_range_order)) for each in models
        }
        every = [*changes.values(), *(each.changes for own in ranges.values() for each in own)]
        optional = frozenset[str]().union(*(each.adds | frozenset(each.replaces.values()) for each in every))
        return cls(changes, ranges, optional)

    def possible(self, model: str) -> tuple[SerialRange | None, ...]:
        """The serial ranges that a machine of this model may be of, None for in none of them."""
        ranges = self.ranges.get(model, ())
        gapless = leave_no_gap((each.first, each.last) for each in ranges)
        return ranges if gapless else (None, *ranges)

    def changed(self, model: str, serials: SerialRange | None) -> Changes:
        """What the model and then its serial range do to the platform."""
        changes = self.changes.get(model, Changes())
        return changes if serials is None else changes.merged(serials.changes)


def models_having(graph: Statements) -> Mapping[tuple[str, str], frozenset[str]]:
    """By kind (``component``, ``symptom``, ``code``) and slug the models that have it, in some serial range at least.

    ``graph`` needs the statements of the query ``fitted`` alone. What is not named is of no model.

    :raises ContentBroken: it says nothing that can be followed.
    """
    fitted = Fitted.of(graph)
    components = frozenset(each.id for each in graph.of_class("Component"))
    causes = {each.id: _cause(each) for each in graph.of_class("Fault")}
    shown = codes(graph)
    found: dict[tuple[str, str], set[str]] = defaultdict(set)
    for model in fitted.changes:
        for serials in fitted.possible(model):
            own = had(components, causes, shown, fitted.changed(model, serials), fitted.optional)
            for kind, slugs in (("component", own.components), ("symptom", own.symptoms), ("code", own.codes)):
                for slug in slugs:
                    found[kind, slug].add(model)
    return {each: frozenset(models) for each, models in found.items()}


def _cause(fault: Resource) -> Cause:
    return Cause(fault.slug("afflicts"), frozenset(part.needed_slug("symptom") for part in fault.parts("effect")))


def _range(resource: Resource) -> SerialRange:
    return SerialRange(resource.id, resource.text("firstSerial"), resource.text("lastSerial"), changes_of(resource))


def _range_order(serials: SerialRange) -> tuple[tuple[int, str], str]:
    return (0, "") if serials.first is None else serial_key(serials.first), serials.id
