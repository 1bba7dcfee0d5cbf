"""Hands and tools: fastenings that need one, and ways a customer may go."""

from __future__ import annotations

from collections.abc import Iterator

from firstoff.authoring.draft import Draft
from firstoff.authoring.findings import Problem, error

#: Drives that fingers can undo.
_BY_HAND = frozenset({"hand", "squeeze"})
#: Kinds that are turned with a driver, drilled out or cut, as their definitions in the vocabulary say.
_TOOL_KINDS = frozenset(
    {
        "screw",
        "machine-screw",
        "self-tapping-screw",
        "shoulder-screw",
        "set-screw",
        "bolt",
        "nut",
        "left-hand-nut",
        "rivet",
        "tie",
    }
)
#: What a household has and a customer may use (common practice, no source).
_HOUSEHOLD = frozenset({"torch", "measuring-jug", "spirit-level", "thermometer", "vacuum-brush", "bucket-and-towels"})


def fastenings_have_tools(draft: Draft) -> Iterator[Problem]:
    """A fastening whose drive is not the hand, or that is turned or cut, names its tool, or its removal names one."""
    if draft.whole is None:
        return
    for removal in draft.whole.removals.values():
        for fastening in removal.fastenings:
            drive = fastening.drive
            by_hand = fastening.kind.id not in _TOOL_KINDS if drive is None else drive.id in _BY_HAND
            if by_hand or fastening.tools or removal.tools:
                continue
            named = f"the drive {drive.label}" if drive else "no drive told"
            yield error(
                "fastening-without-tool",
                removal.id,
                f"A {fastening.kind.label} with {named} has no tool, so nobody carries one.",
                "Write fo:tool in the fastening; where fingers undo it, fo:drive drive:hand.",
            )


def customer_ways(draft: Draft) -> Iterator[Problem]:
    """A customer goes no way with trade tools or bare points, and takes nothing off that needs a tool."""
    whole = draft.whole
    if whole is None:
        return
    by_hand = {
        removal.component
        for removal in whole.removals.values()
        if not (removal.all_tools or removal.bares or removal.opens)
    }
    removable = {removal.component for removal in whole.removals.values()}
    for path in whole.access_paths.values():
        if path.audience.id != "customer":
            continue
        reasons = [
            *(f"uses a {tool.label}" for tool in path.tools if tool.id not in _HOUSEHOLD),
            *(["bares a point"] if path.bares else []),
            *(
                f"needs {draft.label(part)} off, which takes a tool"
                for part in sorted((path.needs_off & removable) - by_hand)
            ),
        ]
        if reasons:
            yield error(
                "customer-way-takes-tools",
                path.id,
                f"It is for the customer and {', '.join(reasons)}.",
                "Write fo:audience audience:technician, or describe a way without.",
            )
