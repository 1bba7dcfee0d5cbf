"""The undecided part of a problem in bit masks: what every choice entails."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from firstoff.removal.blocks import blocks
from firstoff.removal.problem import Choice, Choices


def bits(mask: int) -> Iterator[int]:
    """The positions of the ones in ``mask``, lowest first."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


class Open:
    """Atoms still to be chosen for, numbered by *place* so that what needs comes before what is needed.

    ``atoms[place]`` is the atom, ``choices[place]`` its choices, ``needs[place][k]`` the places that choice k needs at
    once and ``entails[place][k]`` the mask of all places it needs in the end, whatever is chosen for them.
    ``least[place]`` is the weight of the cheapest choice, ``required`` the mask of places in every solution, ``span``
    the mask of the places that share a place's block and ``tangled`` the places that share it with another.
    """

    def __init__(self, required: set[int], undecided: Sequence[int], live: Choices, block: Sequence[int]) -> None:
        """``required`` are atoms known to be needed, ``undecided`` those of them with several choices."""
        found = self._collect(required, undecided, live, block)
        number = self._numbers(found, live, block)
        self.atoms = sorted(found, key=lambda atom: (number[atom], atom))
        place = {atom: i for i, atom in enumerate(self.atoms)}
        count = len(self.atoms)
        self.choices: list[list[Choice]] = [live[atom] for atom in self.atoms]
        self.needs = [
            [tuple(place[need] for need in choice[1] if need in place) for choice in choices]
            for choices in self.choices
        ]
        self.span = self._spans([number[atom] for atom in self.atoms])
        self.tangled = sum(1 << i for i in range(count) if self.span[i] & (self.span[i] - 1))
        self.entails = self._landmarks()
        paid = {place[atom] for atom in required if atom in place and len(live[atom]) == 1}
        self.least = [0 if i in paid else min(choice[0] for choice in self.choices[i]) for i in range(count)]
        self.required = 0
        for atom in required:
            if atom in place:
                self.required |= self.marks[place[atom]]

    @staticmethod
    def _collect(required: set[int], undecided: Sequence[int], live: Choices, block: Sequence[int]) -> list[int]:
        """Undecided atoms, all that their choices may need, and required atoms tangled up with those."""
        found = set(undecided)
        stack = list(undecided)
        while stack:
            for choice in live[stack.pop()]:
                for need in choice[1]:
                    if need not in found and need not in required:
                        found.add(need)
                        stack.append(need)
        touched = {block[atom] for atom in found}
        found.update(atom for atom in required if block[atom] in touched)
        return sorted(found)

    @staticmethod
    def _numbers(atoms: Sequence[int], live: Choices, block: Sequence[int]) -> dict[int, int]:
        """Block numbers of ``atoms``; taken anew from what is live where some may need one another in ``block``."""
        if len({block[atom] for atom in atoms}) == len(atoms):
            return {atom: block[atom] for atom in atoms}
        place = {atom: i for i, atom in enumerate(atoms)}
        needs = [
            sorted({place[need] for choice in live[atom] for need in choice[1] if need in place}) for atom in atoms
        ]
        return dict(zip(atoms, blocks(needs), strict=True))

    @staticmethod
    def _spans(numbers: Sequence[int]) -> list[int]:
        """For every place the mask of places with the same block number; ``numbers`` ascend."""
        spans: list[int] = []
        start, count = 0, len(numbers)
        while start < count:
            end = start + 1
            while end < count and numbers[end] == numbers[start]:
                end += 1
            spans.extend([(1 << end) - (1 << start)] * (end - start))
            start = end
        return spans

    def _landmarks(self) -> list[list[int]]:
        """Set ``marks`` (what each place entails, itself included) and return what each choice entails.

        The greatest solution of marks(a) = {a} + intersection over a's choices of the union of the needs' marks. A
        choice that entails its own atom can never be made; it is struck out and the marks are taken anew.
        """
        count = len(self.atoms)
        self.marks = [0] * count
        i = count - 1
        while i >= 0:
            span = self.span[i]
            if not self.tangled >> i & 1:
                self.marks[i] = self._mark(i)
                i -= 1
                continue
            first = (span & -span).bit_length() - 1
            self._settle(range(first, i + 1))
            i = first - 1
        return [[self._union(needs) for needs in self.needs[i]] for i in range(count)]

    def _settle(self, places: range) -> None:
        """Take the marks of a tangled block."""
        struck = True
        while struck:
            for i in places:
                self.marks[i] = -1
            changed = True
            while changed:
                changed = False
                for i in reversed(places):
                    mark = self._mark(i)
                    if mark != self.marks[i]:
                        self.marks[i] = mark
                        changed = True
            struck = False
            for i in places:
                kept = [k for k, needs in enumerate(self.needs[i]) if not self._union(needs) >> i & 1]
                if len(kept) < len(self.needs[i]):
                    struck = True
                    self.needs[i] = [self.needs[i][k] for k in kept]
                    self.choices[i] = [self.choices[i][k] for k in kept]

    def _mark(self, i: int) -> int:
        common = -1
        for needs in self.needs[i]:
            common &= self._union(needs)
        return common | 1 << i

    def _union(self, needs: Iterable[int]) -> int:
        mask = 0
        for need in needs:
            mask |= self.marks[need]
        return mask

    def total(self, mask: int) -> int:
        """The weight of the places in ``mask``, each at its cheapest."""
        least, amount = self.least, 0
        while mask:
            low = mask & -mask
            amount += least[low.bit_length() - 1]
            mask ^= low
        return amount
