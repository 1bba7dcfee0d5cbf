"""An appliance turned into numbered atoms and options, once for all requests."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from firstoff.appliance.model import (
    Appliance,
    Preparation,
    Purpose,
    Removal,
)
from firstoff.appliance.terms import Concept
from firstoff.removal.blocks import blocks
from firstoff.removal.errors import IllDefinedVariable
from firstoff.removal.options import Option, ticks
from firstoff.removal.plans import ActKind


@dataclass(frozen=True, slots=True, eq=False)
class Compiled:
    """An appliance in numbers.

    Atoms ``0 .. components - 1`` are components, the rest states; ``names[atom]`` is the slug. ``by_head[atom]`` are
    the options that bring an atom about. ``variable[atom]`` is the variable's number of a state atom (-1 for a
    component), ``initial[variable]`` its initial state atom. ``block[atom]`` numbers the atoms so that what is needed
    comes later than what needs it; atoms that may need one another share a block. ``paths`` holds, for each component
    and purpose, the access paths as options without a head.
    """

    appliance: Appliance
    components: int
    names: tuple[str, ...]
    number: dict[str, int]
    state_number: dict[str, int]
    by_head: tuple[tuple[Option, ...], ...]
    variables: tuple[str, ...]
    variable: tuple[int, ...]
    initial: tuple[int, ...]
    block: tuple[int, ...]
    zone: tuple[str, ...]
    paths: dict[tuple[str, Purpose], tuple[Option, ...]]


def compile_appliance(appliance: Appliance) -> Compiled:
    """Compile ``appliance``. Ways that name what the model does not have are left out: they can never be used.

    Raises ``IllDefinedVariable`` where a variable has not exactly one initial state.
    """
    number = {slug: atom for atom, slug in enumerate(appliance.components)}
    state_number: dict[str, int] = {}
    variable = [-1] * len(number)
    initial: list[int] = []
    for position, (slug, declared) in enumerate(appliance.variables.items()):
        first = [state for state in declared.states if appliance.states[state].initial]
        if len(first) != 1:
            raise IllDefinedVariable(slug)
        for state in declared.states:
            state_number[state] = len(variable)
            variable.append(position)
        initial.append(state_number[first[0]])
    reader = _Reader(number, state_number, variable)
    by_head: list[list[Option]] = [[] for _ in variable]
    for option in reader.options(appliance):
        by_head[option.head].append(option)
    heads = [[need for option in options for need in (*option.off, *option.states)] for options in by_head]
    return Compiled(
        appliance=appliance,
        components=len(number),
        names=(*number, *state_number),
        number=number,
        state_number=state_number,
        by_head=tuple(tuple(options) for options in by_head),
        variables=tuple(appliance.variables),
        variable=tuple(variable),
        initial=tuple(initial),
        block=tuple(blocks(heads)),
        zone=tuple(component.zone.id for component in appliance.components.values()),
        paths=reader.paths(appliance),
    )


def _kit(tools: Iterable[Concept]) -> frozenset[str]:
    return frozenset(tool.id for tool in tools)


class _Reader:
    """Translates slugs into atoms."""

    def __init__(self, number: dict[str, int], state_number: dict[str, int], variable: Sequence[int]) -> None:
        self._number = number
        self._state_number = state_number
        self._variable = variable

    def options(self, appliance: Appliance) -> Iterable[Option]:
        """Every removal, preparation and undo that could ever be used."""
        for removal in appliance.removals.values():
            option = self._removal(removal)
            if option is not None:
                yield option
        for preparation in appliance.preparations.values():
            yield from self._preparation(preparation)

    def paths(self, appliance: Appliance) -> dict[tuple[str, Purpose], tuple[Option, ...]]:
        """Access paths by component and purpose; a pair is there even where none of its paths could be used."""
        found: dict[tuple[str, Purpose], list[Option]] = {}
        for path in appliance.access_paths.values():
            options = found.setdefault((path.component, path.purpose), [])
            off, fitted = self._components(path.needs_off), self._components(path.needs_fitted)
            states = self._states(path.needs_states)
            if off is None or fitted is None or states is None or set(off) & set(fitted):
                continue
            options.append(
                Option(
                    kind=ActKind.SERVE, way=path.id, label=path.label, head=-1, cost=ticks(path.minutes),
                    minutes=path.minutes, minutes_back=0.0, off=off, fitted=fitted, states=states,
                    leaves=-1, tools=path.tools, kit=_kit(path.tools),
                )
            )  # fmt: skip
        return {key: tuple(options) for key, options in found.items()}

    def _removal(self, removal: Removal) -> Option | None:
        head = self._number.get(removal.component)
        off, states = self._components(removal.needs_off), self._states(removal.needs_states)
        if head is None or off is None or states is None or head in off:
            return None
        return Option(
            kind=ActKind.REMOVE, way=removal.id, label=removal.label, head=head,
            cost=ticks(removal.minutes_out) + ticks(removal.minutes_back),
            minutes=removal.minutes_out, minutes_back=removal.minutes_back, off=off, fitted=(), states=states,
            leaves=-1, tools=removal.all_tools, kit=_kit(removal.all_tools), cost_back=ticks(removal.minutes_back),
        )  # fmt: skip

    def _preparation(self, preparation: Preparation) -> Iterable[Option]:
        start, end = self._state_number.get(preparation.from_state), self._state_number.get(preparation.gives)
        off, fitted = self._components(preparation.needs_off), self._components(preparation.needs_fitted)
        if start is None or end is None or off is None or fitted is None or set(off) & set(fitted):
            return
        if start == end or self._variable[start] != self._variable[end]:
            return
        # A need of the variable's own state is met by, or at odds with, the state the act starts from; read strictly
        # it would forbid either the act or its undo, so the pair of ends stands for it.
        needed = preparation.needs_states - {preparation.from_state, preparation.gives}
        ways = (
            (ActKind.PREPARE, start, end, preparation.minutes, preparation.undo_minutes),
            (ActKind.UNDO, end, start, preparation.undo_minutes, preparation.minutes),
        )
        for kind, source, head, minutes, back in ways:
            states = self._states(needed | {self._slug(preparation, source == start)})
            if states is not None:
                yield Option(
                    kind=kind, way=preparation.id, label=preparation.label, head=head, cost=ticks(minutes),
                    minutes=minutes, minutes_back=back, off=off, fitted=fitted, states=states, leaves=source,
                    tools=preparation.tools, kit=_kit(preparation.tools), cost_back=ticks(back),
                )  # fmt: skip

    @staticmethod
    def _slug(preparation: Preparation, forward: bool) -> str:
        return preparation.from_state if forward else preparation.gives

    def _components(self, slugs: frozenset[str]) -> tuple[int, ...] | None:
        """The atoms in order, or None where one is not known: it is neither off nor in place for certain."""
        if not all(slug in self._number for slug in slugs):
            return None
        return tuple(sorted(self._number[slug] for slug in slugs))

    def _states(self, slugs: frozenset[str]) -> tuple[int, ...] | None:
        """The atoms in order, or None where they can never hold together."""
        if not all(slug in self._state_number for slug in slugs):
            return None
        atoms = sorted(self._state_number[slug] for slug in slugs)
        if len({self._variable[atom] for atom in atoms}) < len(atoms):
            return None
        return tuple(atoms)
