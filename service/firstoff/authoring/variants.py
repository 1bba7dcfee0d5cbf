"""What a model cannot do without: parts left out, added or replaced are held against what is left."""

from __future__ import annotations

from collections.abc import Iterator

from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import AccessPath, Appliance, Removal
from firstoff.authoring.circuit import joints
from firstoff.authoring.draft import Draft, Variant
from firstoff.authoring.findings import Problem, error, warning


def guards_left_out(draft: Draft) -> Iterator[Problem]:
    """A part whose removal bares points, on a model that leaves it out and keeps the points: they lie open there."""
    whole = draft.whole
    if whole is None:
        return
    replaced = {resource.slug("original") for resource in draft.statements.of_class("Substitution")}
    for removal in whole.removals.values():
        for variant in draft.variants:
            own = variant.appliance
            open_there = sorted((removal.bares & own.circuit.points.keys()) - _bared(own))
            if open_there and removal.component not in own.components.keys() | replaced:
                named = ", ".join(draft.label(point) for point in open_there[:3])
                more = f" and {len(open_there) - 3} more" if len(open_there) > 3 else ""
                yield warning(
                    "guard-left-out",
                    removal.component,
                    f"{_named(variant)} does not have it and keeps {named}{more}, which taking it off bares, so that "
                    "they would lie open and no plan says so.",
                    "Let the model keep or replace it, or name another part whose removal bares them.",
                )
                break


def circuits_cut(draft: Draft) -> Iterator[Problem]:
    """Points to which a source leads on the platform and none on a model: a part in between is left out."""
    whole = draft.whole
    if whole is None:
        return
    fed = _fed(whole)
    told: set[str] = set()
    for variant in draft.variants:
        own = variant.appliance
        joined = {end for link in own.circuit.links.values() for end in (link.start, link.end)}
        cut = sorted((fed & joined) - _fed(own) - told)
        if cut:
            told.update(cut)
            more = f" and {len(cut) - 1} more points" if len(cut) > 1 else ""
            yield warning(
                "model-cuts-circuit",
                cut[0],
                f"On {variant.words} no source leads to it{more}, since a part between is left out; their state is "
                "unknown there.",
                "Let the model keep or replace the part whose links lead there, or leave out what hangs on it too.",
            )


def primaries_left_out(draft: Draft) -> Iterator[Problem]:
    """A secondary whose primary points are all gone: nobody can say when it is dead."""
    whole = draft.whole
    if whole is None:
        return
    for source in whole.circuit.sources.values():
        for variant in draft.variants:
            own = variant.appliance.circuit.sources.get(source.id)
            if own is not None and source.derived_from and not own.derived_from:
                yield error(
                    "primary-left-out",
                    source.id,
                    f"{_named(variant)} has this secondary and leaves out what feeds it, so nobody can say when it is "
                    "dead.",
                    "Let the model keep or replace the part that feeds it, or leave out the secondary's part too.",
                )
                break


def remedies_left_out(draft: Draft) -> Iterator[Problem]:
    """A fault that a model can have and whose every remedy works on a part that it has not."""
    whole = draft.whole
    if whole is None:
        return
    for fault in whole.faults.values():
        for variant in draft.variants:
            own = variant.appliance.faults.get(fault.id)
            if own is not None and fault.remedies and not own.remedies:
                yield error(
                    "remedy-left-out",
                    fault.id,
                    f"{_named(variant)} can have this fault, and leaves out every part that a remedy works on.",
                    "Give the fault a remedy on a part that the model has.",
                )
                break


def _bared(appliance: Appliance) -> frozenset[str]:
    """Points that some removal or way in bares."""
    ways: tuple[Removal | AccessPath, ...] = (*appliance.removals.values(), *appliance.access_paths.values())
    return frozenset(point for way in ways for point in way.bares)


def _fed(appliance: Appliance) -> frozenset[str]:
    """Points joined to a source by whatever links."""
    joint = joints(appliance, frozenset(LinkKind))
    starts = {
        joint.get(point, point)
        for source in appliance.circuit.sources.values()
        for point in (*source.lines, *source.feeds, source.neutral, source.protective_earth)
        if point is not None
    }
    return frozenset(point for point in appliance.circuit.points if joint[point] in starts)


def _named(variant: Variant) -> str:
    return variant.words[:1].upper() + variant.words[1:]
