"""What the picture of a plan shows: the removal graph of its request, with the way that the plan takes through it.

A part is a box; so is a state that parts are in the way of, or that several preparations give. A box with several ways
has a smaller box for each. Other states are letters, explained below the picture. An arrow leads from what comes off
first to what it makes room for; one that the others imply is left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal.graph import Node, Way
from firstoff.sheet.condensing import distinct
from firstoff.sheet.extract import Extract, Key, extract, needs_of
from firstoff.sheet.journey import Journey, journey_of
from firstoff.sheet.words import PURPOSES, at_steps, job_title, letter, listed, minutes
from firstoff_contract.removal import RemovalPlan

#: A picture of more boxes than this cannot be read on a page.
MOST_BOXES = 30


@dataclass(frozen=True, slots=True)
class Box:
    """``steps`` are the plan's steps that bring it about; ``taken`` says that the plan goes this way.

    What is ``off`` is so from the start.

    Of a ``way`` box, ``of`` is the number of the box it leads to; it is -1 for the others.
    """

    kind: Literal["part", "state", "way"]
    text: str
    notes: tuple[str, ...] = ()
    steps: tuple[int, ...] = ()
    taken: bool = False
    target: bool = False
    off: bool = False
    of: int = -1


@dataclass(frozen=True, slots=True)
class Arrow:
    """From box number ``tail``, which comes first, to box number ``head``."""

    tail: int
    head: int
    taken: bool


@dataclass(frozen=True, slots=True)
class Diagram:
    """``keys`` explain the letters, ``left_out`` says what is not shown. The arrows form no circle."""

    title: str
    boxes: tuple[Box, ...]
    arrows: tuple[Arrow, ...]
    keys: tuple[str, ...]
    left_out: tuple[str, ...]

    @property
    def words(self) -> tuple[str, ...]:
        """The same in sentences: the plan's boxes in order of their steps, then the others."""
        firsts: dict[int, list[str]] = {}
        for arrow in self.arrows:
            if self.boxes[arrow.tail].kind != "way":
                firsts.setdefault(arrow.head, []).append(self.boxes[arrow.tail].text)
        order = sorted(range(len(self.boxes)), key=lambda box: _rank(self.boxes, box))
        return tuple(_sentence(self.boxes, box, firsts.get(box, [])) for box in order)


def diagram_of(appliance: Appliance, nodes: Sequence[Node], plan: RemovalPlan, most: int = MOST_BOXES) -> Diagram:
    """The picture of ``plan`` on the removal graph ``nodes`` of its request, in at most ``most`` boxes.

    More only where there are more targets than that.
    """
    journey = journey_of(plan)
    shown = extract([node for node in nodes if not node.closing], journey, most)
    return _Drawing(appliance, journey, shown).drawn(job_title(plan))


class _Drawing:
    """Boxes and arrows in the making."""

    def __init__(self, appliance: Appliance, journey: Journey, shown: Extract) -> None:
        self._appliance = appliance
        self._journey = journey
        self._shown = shown
        self._letters = {slug: letter(number) for number, slug in enumerate(self._states_in_order())}
        self._boxes: list[Box] = []
        self._number: dict[Key, int] = {}
        self._needs: list[tuple[int, int, int, Key]] = []
        self._arrows: list[Arrow] = []

    def drawn(self, title: str) -> Diagram:
        for key, node in self._shown.nodes.items():
            self._add(key, node)
        notes = self._join()
        direct = self._direct()
        kept = self._kept()
        number = {old: new for new, old in enumerate(kept)}
        boxes = tuple(
            replace(self._boxes[old], notes=(*self._boxes[old].notes, *notes.get(old, ())), of=number.get(of, -1))
            for old in kept
            for of in [self._boxes[old].of]
        )
        arrows = tuple(
            Arrow(number[each.tail], number[each.head], each.taken)
            for each in direct
            if each.tail in number and each.head in number
        )
        return Diagram(title, boxes, arrows, tuple(self._keys()), tuple(self._left_out()))

    def _kept(self) -> list[int]:
        """The boxes from which arrows lead to a target, and all of the plan: others were in circles alone."""
        into: dict[int, list[int]] = {}
        for arrow in self._arrows:
            into.setdefault(arrow.head, []).append(arrow.tail)
        stack = [number for number, box in enumerate(self._boxes) if box.target or box.taken]
        kept = set(stack)
        while stack:
            fresh = [tail for tail in into.get(stack.pop(), ()) if tail not in kept]
            kept.update(fresh)
            stack.extend(fresh)
        return sorted(kept)

    def _states_in_order(self) -> list[str]:
        """The folded states that shown ways need, those of the plan first, in order of their steps."""
        folded = self._shown.folded
        used: dict[str, None] = {}
        waiting = [slug for node in self._shown.nodes.values() for way in node.ways for slug in way.states]
        while waiting:
            slug = waiting.pop(0)
            if slug in folded and slug not in used:
                used[slug] = None
                waiting.extend(folded[slug].ways[0].states)
        return sorted(used, key=lambda slug: min(self._journey.steps(folded[slug]), default=len(used) + 10_000))

    def _add(self, key: Key, node: Node) -> None:
        """The box of a node, and one for each way where there are several."""
        taken = [self._journey.takes(node, way) for way in node.ways]
        number = self._number[key] = len(self._boxes)
        single = len(node.ways) == 1
        notes = [*self._target_notes(node), *(["off already"] if node.given and node.what == "component" else [])]
        notes += self._way_notes(node.ways[0]) if single else []
        if missing := self._shown.hidden.get(key):
            notes.append(f"{missing} more first, not drawn")
        on_plan = any(taken) and (bool(self._journey.steps(node)) or node.what == "target")
        self._boxes.append(
            Box(
                kind="state" if node.what == "state" else "part",
                text=self._label(key),
                notes=tuple(notes),
                steps=self._journey.steps(node) if on_plan else (),
                taken=on_plan,
                target=node.what == "target" or (node.what == "component" and node.id in self._shown.targets),
                off=node.given and node.what == "component",
            )
        )
        texts = distinct([way.label for way in node.ways])
        for way, text, used in zip(node.ways, texts, taken, strict=True):
            head = number
            if not single:
                head = len(self._boxes)
                said = [", ".join([minutes(way.minutes), *self._way_notes(way)])]
                if way.id in self._journey.more and not used:
                    said.append(self._journey.more[way.id])
                self._boxes.append(Box("way", text, tuple(said), taken=used and on_plan, of=number))
                self._arrows.append(Arrow(head, number, used and on_plan))
            rank = 0 if used else 1 if self._journey.knows(node, way) else 2
            self._needs += [(rank, len(self._needs), head, need) for need in needs_of(way, self._shown.folded)]

    def _direct(self) -> list[Arrow]:
        """The arrows without those that others imply: what a need itself needs by every way."""
        into: dict[int, list[Arrow]] = {}
        for arrow in self._arrows:
            into.setdefault(arrow.head, []).append(arrow)
        certain: dict[int, frozenset[int]] = {}
        for number in _first_to_last(len(self._boxes), into):
            before = [certain[arrow.tail] | {arrow.tail} for arrow in into.get(number, ())]
            either = any(self._boxes[arrow.tail].kind == "way" for arrow in into.get(number, ()))
            both = frozenset.intersection if either else frozenset.union
            certain[number] = both(*before) if before else frozenset()
        return [
            arrow
            for arrow in self._arrows
            if not any(arrow.tail in certain[other.tail] for other in into[arrow.head] if other is not arrow)
            or self._boxes[arrow.tail].kind == "way"
        ]

    def _join(self) -> dict[int, tuple[str, ...]]:
        """Arrows for the needs, the plan's first; what would close a circle becomes a note of its box instead."""
        notes: dict[int, tuple[str, ...]] = {}
        ahead: dict[int, list[int]] = {}
        for arrow in self._arrows:
            ahead.setdefault(arrow.tail, []).append(arrow.head)
        for rank, _, head, need in sorted(self._needs):
            tail = self._number.get(need)
            if tail is None:
                continue
            if _leads(ahead, head, tail):
                notes[head] = (*notes.get(head, ()), f"first off: {self._boxes[tail].text}")
                continue
            ahead.setdefault(tail, []).append(head)
            taken = rank == 0 and self._boxes[head].taken
            self._arrows.append(Arrow(tail, head, taken))
        return notes

    def _label(self, key: Key) -> str:
        what, slug = key
        if what == "state":
            return self._appliance.states[slug].label
        return self._appliance.components[slug.partition(":")[0] if what == "target" else slug].label

    def _target_notes(self, node: Node) -> list[str]:
        """What is to be done there, with the steps where the box has not got their numbers."""
        if node.target:
            return [f"target: {self._said(node.id, node.target.purpose)}"]
        purposes = self._shown.targets.get(node.id, ()) if node.what == "component" else ()
        notes = []
        for purpose in purposes:
            served = self._journey.served.get((node.id, purpose), ())
            notes.append(f"target: {self._said(node.id, purpose)}" + (f", {at_steps(served)}" if served else ""))
        return notes

    def _said(self, component: str, purpose: Purpose) -> str:
        return PURPOSES[self._journey.said.get((component, purpose), purpose.value)].lower()

    def _way_notes(self, way: Way) -> list[str]:
        needed = sorted(self._letters[slug] for slug in way.states if slug in self._letters)
        return [f"needs {', '.join(needed)}"] if needed else []

    def _keys(self) -> Iterable[str]:
        """Such as "A: pulled out 70 cm (step 1). B: unplugged (step 2, needs A)."."""
        for slug, name in self._letters.items():
            node = self._shown.folded[slug]
            steps = self._journey.steps(node)
            needed = sorted(self._letters[each] for each in node.ways[0].states if each in self._letters)
            said = [at_steps(steps)] if steps else []
            said += [f"needs {listed(needed)}"] if needed else []
            yield f"{name}: {self._appliance.states[slug].label}" + (f" ({', '.join(said)})" if said else "")

    def _left_out(self) -> Iterable[str]:
        if not self._shown.nodes:
            yield "Nothing has to come off first."
        gone = [self._label_of(node) for node in self._shown.left_out]
        if self._shown.hidden:
            yield f"Only what is nearest to the target is drawn; {len(gone)} more are in the steps or in other ways."
        elif gone:
            yield f"Not drawn, since neither this plan nor the next best need them: {listed(gone, most=8)}."
        elif self._shown.ways_left_out:
            yield "Ways that neither this plan nor the next best take are not drawn."
        drawn = {node.id for key, node in self._shown.nodes.items() if key[0] == "component"}
        gone_ids = {node.id for node in self._shown.left_out}
        also = [
            f"{self._appliance.components[slug].label} ({at_steps(steps)})"
            for slug, steps in self._journey.removed.items()
            if slug not in drawn and slug not in gone_ids
        ]
        if also:
            yield f"Not drawn, since no target needs it, but comes off to put the machine back: {listed(also, most=8)}."
        lacking = [label for node in self._shown.nodes.values() for label in node.lacking]
        if lacking:
            yield f"Not drawn, since they cannot be done here: {listed(list(dict.fromkeys(lacking)), most=6)}."

    def _label_of(self, node: Node) -> str:
        return self._label((node.what, node.id))


def _leads(ahead: dict[int, list[int]], start: int, end: int) -> bool:
    """Whether arrows lead from ``start`` to ``end``, or they are the same."""
    seen = {start}
    stack = [start]
    while stack:
        box = stack.pop()
        if box == end:
            return True
        fresh = [each for each in ahead.get(box, ()) if each not in seen]
        seen.update(fresh)
        stack.extend(fresh)
    return False


def _first_to_last(boxes: int, into: dict[int, list[Arrow]]) -> list[int]:
    """The boxes in an order in which every arrow leads on; the arrows form no circle."""
    order: list[int] = []
    seen: set[int] = set()
    for start in range(boxes):
        stack = [(start, False)]
        while stack:
            number, done = stack.pop()
            if done:
                order.append(number)
            elif number not in seen:
                seen.add(number)
                stack.append((number, True))
                stack.extend((arrow.tail, False) for arrow in into.get(number, ()))
    return order


def _rank(boxes: Sequence[Box], number: int) -> tuple[bool, int, int, int]:
    """Boxes of the plan by their steps, then the others; a way after the box it leads to."""
    box = boxes[number]
    part = boxes[box.of] if box.kind == "way" else box
    at = box.of if box.kind == "way" else number
    return (not part.taken, min(part.steps, default=10_000_000), at, number)


def _sentence(boxes: Sequence[Box], number: int, firsts: Sequence[str]) -> str:
    box = boxes[number]
    said = [box.text]
    if box.kind == "way":
        said = [f"{'By this way' if box.taken else 'Another way'} to {boxes[box.of].text}: {box.text}"]
    elif box.steps:
        said = [f"{at_steps(box.steps).capitalize()}: {box.text}"]
    elif not box.taken and not box.off:
        said = [f"Not needed by this plan: {box.text}"]
    said += box.notes
    said += [f"first off: {listed(firsts)}"] if firsts else []
    return "; ".join(said) + "."
