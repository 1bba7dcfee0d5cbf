"""Seeded random appliances for the removal room: for its tests and its benchmark.

Everything is invented. Slugs say what a thing is: ``p7`` a part, ``p7-way1`` a removal, ``v0=1`` a state.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from random import Random

from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Component,
    Preparation,
    Purpose,
    Removal,
    State,
    StateVariable,
)
from firstoff.appliance.terms import Concept
from firstoff.removal import Request, Target

KIND = Concept("panel", "panel")
TECHNICIAN = Concept("technician", "technician")


def component(slug: str, *, zone: str = "front", replaced_as: str | None = None) -> Component:
    """A part."""
    return Component(slug, slug, KIND, Concept(zone, zone), replaced_as=replaced_as)


def removal(
    part: str,
    minutes_out: float,
    minutes_back: float = 0.0,
    *,
    off: Iterable[str] = (),
    states: Iterable[str] = (),
    tools: Iterable[str] = (),
    way: int = 0,
) -> Removal:
    """Way number ``way`` to take ``part`` off."""
    return Removal(
        id=f"{part}-way{way}",
        component=part,
        label=f"remove {part} by way {way}",
        minutes_out=minutes_out,
        minutes_back=minutes_back,
        needs_off=frozenset(off),
        needs_states=frozenset(states),
        tools=tuple(Concept(tool, tool) for tool in tools),
    )


def access(
    part: str,
    purpose: Purpose,
    minutes: float = 0.0,
    *,
    off: Iterable[str] = (),
    fitted: Iterable[str] = (),
    states: Iterable[str] = (),
    tools: Iterable[str] = (),
    way: int = 0,
) -> AccessPath:
    """Access path number ``way`` to ``part`` for ``purpose``."""
    return AccessPath(
        id=f"{part}-{purpose}{way}",
        component=part,
        label=f"{purpose} {part} by path {way}",
        purpose=purpose,
        audience=TECHNICIAN,
        minutes=minutes,
        needs_off=frozenset(off),
        needs_fitted=frozenset(fitted),
        needs_states=frozenset(states),
        tools=tuple(Concept(tool, tool) for tool in tools),
    )


def preparation(
    gives: str,
    from_state: str,
    minutes: float,
    undo_minutes: float,
    *,
    off: Iterable[str] = (),
    fitted: Iterable[str] = (),
    states: Iterable[str] = (),
    tools: Iterable[str] = (),
    way: int = 0,
) -> Preparation:
    """Preparation number ``way`` from one state to another."""
    return Preparation(
        id=f"{from_state}>{gives}-{way}",
        label=f"{from_state} to {gives}",
        gives=gives,
        from_state=from_state,
        minutes=minutes,
        undo_minutes=undo_minutes,
        needs_off=frozenset(off),
        needs_fitted=frozenset(fitted),
        needs_states=frozenset(states),
        tools=tuple(Concept(tool, tool) for tool in tools),
    )


def appliance(
    components: Iterable[Component],
    removals: Iterable[Removal],
    paths: Iterable[AccessPath] = (),
    variables: Mapping[str, int] | None = None,
    preparations: Iterable[Preparation] = (),
) -> Appliance:
    """An appliance of these; ``variables`` gives the number of states, of which ``<variable>=0`` is initial."""
    states = {
        f"{name}={value}": State(f"{name}={value}", name, f"{name} {value}", initial=value == 0)
        for name, count in (variables or {}).items()
        for value in range(count)
    }
    return Appliance(
        model="m1",
        model_number="TV 100",
        label="Tolvane test machine",
        platform=Concept("tolvane-t1", "Tolvane T1"),
        maker="Tolvane",
        kind=Concept("washing-machine", "washing machine"),
        revision="r1",
        components={part.id: part for part in components},
        removals={way.id: way for way in removals},
        access_paths={path.id: path for path in paths},
        variables={
            name: StateVariable(name, name, tuple(f"{name}={value}" for value in range(count)))
            for name, count in (variables or {}).items()
        },
        states=states,
        preparations={act.id: act for act in preparations},
    )


@dataclass(frozen=True, slots=True)
class Shape:
    """What a random appliance is like.

    ``parts`` and ``ways`` are totals (each part has one way, further ways fall on parts at random); a way needs up to
    ``needs`` parts off, of which a share ``mutual`` may be any part and the rest come later in the list, within
    ``reach`` places. ``whole_minutes`` keeps times whole, so that oracles may add them in floats.
    """

    parts: int
    ways: int
    needs: int = 3
    mutual: float = 0.0
    reach: int = 1_000_000
    zones: int = 4
    tools: int = 5


def one_phase(rng: Random, shape: Shape) -> Appliance:
    """A random appliance without states. The last part can always come off at once."""
    slugs = [f"p{i}" for i in range(shape.parts)]
    counts = [1] * shape.parts
    for _ in range(shape.ways - shape.parts):
        counts[rng.randrange(shape.parts)] += 1
    removals = []
    for i, slug in enumerate(slugs):
        for way in range(counts[i]):
            off = set()
            for _ in range(rng.randint(0 if way else 1, shape.needs)):
                if rng.random() < shape.mutual:
                    off.add(rng.randrange(shape.parts))
                elif i + 1 < shape.parts:
                    off.add(rng.randint(i + 1, min(shape.parts - 1, i + shape.reach)))
            if i == shape.parts - 1 and way == 0:
                off.clear()
            tools = {f"t{rng.randrange(shape.tools)}"}
            removals.append(
                removal(
                    slug, rng.randint(1, 9), rng.randint(1, 9), off=(slugs[k] for k in off - {i}), tools=tools, way=way
                )
            )
    return appliance((component(slug, zone=f"z{rng.randrange(shape.zones)}") for slug in slugs), removals)


@dataclass(frozen=True, slots=True)
class SmallShape:
    """A small appliance with states, for oracles that look at every situation."""

    parts: int
    extra_ways: int
    variables: tuple[int, ...]
    state_needs: float
    fitted_needs: float


def small(rng: Random, shape: SmallShape) -> Appliance:
    """A random appliance with mutual needs, states, preparations that need parts, and access paths."""
    slugs = [f"p{i}" for i in range(shape.parts)]
    variables = {f"v{number}": count for number, count in enumerate(shape.variables)}
    some = _Some(rng, slugs, variables, shape)
    owners = [*slugs, *(rng.choice(slugs) for _ in range(shape.extra_ways))]
    removals = [
        removal(
            slug, rng.randint(0, 5), rng.randint(0, 5), off=some.parts(2, {slug}), states=some.states(),
            tools=some.tools(), way=number,
        )
        for number, slug in enumerate(owners)
        if rng.random() < 0.95
    ]  # fmt: skip
    preparations = []
    for name, count in variables.items():
        for value in range(1, count):
            for way in range(rng.choice((1, 1, 2))):
                source = rng.randrange(count) if way else rng.randrange(value)
                if source == value:
                    continue
                off = some.parts(1)
                preparations.append(
                    preparation(
                        f"{name}={value}", f"{name}={source}", rng.randint(1, 3), rng.randint(1, 3), off=off,
                        fitted=some.fitted(off), states=some.states({name}), tools=some.tools(), way=way,
                    )
                )  # fmt: skip
    paths = []
    for slug in slugs:
        for way in range(rng.choice((0, 0, 1, 2))):
            off = some.parts(2)
            purpose = rng.choice((Purpose.INSPECT, Purpose.TEST, Purpose.TEST, Purpose.REPLACE))
            paths.append(
                access(
                    slug, purpose, rng.randint(0, 3), off=off, fitted=some.fitted(off), states=some.states(),
                    tools=some.tools(), way=way,
                )
            )  # fmt: skip
    units = [rng.choice(slugs) if rng.random() < 0.15 else None for _ in slugs]
    parts = [component(slug, replaced_as=unit) for slug, unit in zip(slugs, units, strict=True)]
    return appliance(parts, removals, paths, variables, preparations)


class _Some:
    """Random needs."""

    def __init__(self, rng: Random, slugs: list[str], variables: Mapping[str, int], shape: SmallShape) -> None:
        self._rng = rng
        self._slugs = slugs
        self._variables = variables
        self._shape = shape

    def parts(self, most: int, without: frozenset[str] | set[str] = frozenset()) -> set[str]:
        """Up to ``most`` parts."""
        pool = [slug for slug in self._slugs if slug not in without]
        return set(self._rng.sample(pool, min(len(pool), self._rng.randint(0, most))))

    def fitted(self, without: set[str]) -> set[str]:
        """Perhaps a part that has to be fitted."""
        return self.parts(1, without) if self._rng.random() < self._shape.fitted_needs else set()

    def states(self, without: frozenset[str] | set[str] = frozenset()) -> set[str]:
        """Perhaps a state of each variable."""
        return {
            f"{name}={self._rng.randrange(count)}"
            for name, count in self._variables.items()
            if name not in without and self._rng.random() < self._shape.state_needs
        }

    def tools(self) -> set[str]:
        """One of three tools, or none."""
        return {f"t{self._rng.randrange(3)}"} if self._rng.random() < 0.5 else set()


def small_request(rng: Random, machine: Appliance) -> Request:
    """A random request on a small appliance: one or two targets, parts off, states in force, tools, ways ruled out."""
    slugs = list(machine.components)
    targets = tuple(Target(rng.choice(slugs), rng.choice(list(Purpose))) for _ in range(rng.choice((1, 1, 2))))
    off = rng.sample(slugs, rng.choice((0, 0, 1, 2)))
    states = {name: rng.choice(variable.states) for name, variable in machine.variables.items() if rng.random() < 0.5}
    tools = None if rng.random() < 0.6 else frozenset(tool for tool in ("t0", "t1", "t2") if rng.random() < 0.7)
    ways = [*machine.removals, *machine.preparations, *machine.access_paths]
    banned = frozenset(way for way in ways if rng.random() < 0.05)
    return Request(targets, found_off(rng, machine, off), tools, 1, states, banned)


def found_off(rng: Random, machine: Appliance, parts: Iterable[str]) -> frozenset[str]:
    """``parts`` as a request says that they are off: by their slugs or, now and then, by one of their removals."""
    said = set()
    for part in parts:
        ways = [way.id for way in machine.removals.values() if way.component == part]
        said.add(rng.choice(ways) if ways and rng.random() < 0.4 else part)
    return frozenset(said)


def small_case(seed: int) -> tuple[Appliance, Request]:
    """A random appliance of three or four parts and one to three variables, with a request on it."""
    rng = Random(seed)
    parts, count = rng.choice((3, 4)), rng.choice((1, 2, 3))
    variables = tuple(rng.choice((2, 2, 3)) if count < 3 else 2 for _ in range(count))
    shape = SmallShape(parts, rng.randint(0, parts), variables, rng.choice((0.2, 0.5)), rng.choice((0.0, 0.5)))
    machine = small(rng, shape)
    return machine, small_request(rng, machine)


def one_phase_with_states(rng: Random, shape: Shape, variables: int, share: float = 0.15) -> Appliance:
    """``one_phase`` with variables of two states; of each variable a ``share`` of the ways needs the second state.

    Nothing needs an initial state, so no state ever has to change back on the way. One preparation leads to each
    second state; it may need the second state of a variable before it, and some need a part off.
    """
    plain = one_phase(rng, shape)
    names = [f"v{number}" for number in range(variables)]
    slugs = list(plain.components)
    ways = []
    for way in plain.removals.values():
        states = frozenset(f"{name}=1" for name in names if rng.random() < share)
        ways.append(replace(way, needs_states=states))
    preparations = []
    for number, name in enumerate(names):
        states = {f"{names[rng.randrange(number)]}=1"} if number and rng.random() < 0.5 else set()
        off = {rng.choice(slugs[-5:])} if rng.random() < 0.3 else set()
        minutes = rng.randint(1, 9), rng.randint(1, 9)
        preparations.append(preparation(f"{name}=1", f"{name}=0", *minutes, off=off, states=states))
    return appliance(plain.components.values(), ways, (), dict.fromkeys(names, 2), preparations)


def with_live_tests(rng: Random, machine: Appliance, count: int) -> Appliance:
    """``machine`` with a test path to ``count`` parts: in the initial state of the first variable, a part off.

    Where that part's removals need the variable in its second state, it has to change on the way and change back.
    """
    slugs = list(machine.components)
    first = next(iter(machine.variables))
    chosen = rng.sample(slugs, count)
    paths = [
        access(slug, Purpose.TEST, rng.randint(1, 9), off={rng.choice(slugs)}, states={f"{first}=0"}) for slug in chosen
    ]
    return replace(machine, access_paths={path.id: path for path in paths})


def refitted_another_way() -> tuple[Appliance, Request]:
    """The way home needs a part off that can only be refitted where it was taken off, so it comes off twice.

    The cheapest plan takes 14 minutes; h+ is 7.
    """
    machine = appliance(
        [component("p0"), component("p1"), component("p2")],
        [
            removal("p0", 1, 1),
            removal("p1", 1, 1, states={"v0=2"}, way=1),
            removal("p1", 0, 1, off={"p2"}, way=4),
            removal("p2", 1, 1, states={"v0=0"}),
        ],
        variables={"v0": 3},
        preparations=[
            preparation("v0=1", "v0=0", 1, 1, off={"p1"}),
            preparation("v0=1", "v0=2", 1, 1, way=1),
        ],
    )
    return machine, Request((Target("p0", Purpose.REPLACE),), states={"v0": "v0=1"}, alternatives=0)


def live_case(seed: int) -> tuple[Appliance, Request]:
    """A machine with covers over each other, worked on dead and tested live with the covers on, and a request on it.

    ``supply``, and where a seed has them ``leads`` (on a place for each live test, or stowed) and ``posture``. Leads
    are put on and taken off dead, with a part off; a live test needs the supply on, its leads on where there are leads,
    and all parts fitted but one at the most.
    """
    rng = Random(f"live {seed}")
    parts = [f"p{i}" for i in range(rng.choice((3, 4, 5)))]
    tests = rng.choice((1, 1, 2))
    variables = {"supply": 2}
    if rng.random() < 0.7:
        variables["leads"] = 1 + tests
    if rng.random() < 0.6:
        variables["posture"] = 2
    dead = {"supply=1"}

    def needs(i: int) -> set[str]:
        """Parts that lie over number ``i``; now and then any part."""
        pool = parts if rng.random() < 0.15 else parts[:i]
        return set(rng.sample(pool, min(len(pool), rng.choice((0, 1, 1, 2))))) - {parts[i]}

    def held(share: float) -> set[str]:
        """Perhaps a posture, perhaps no leads."""
        states = {f"posture={rng.randrange(2)}"} if "posture" in variables and rng.random() < share else set()
        return states | ({"leads=0"} if "leads" in variables and rng.random() < share else set())

    owners = [*range(len(parts)), *(rng.randrange(len(parts)) for _ in range(rng.choice((0, 1, 2))))]
    removals = [
        removal(
            parts[i], rng.randint(1, 5), rng.randint(1, 5), off=needs(i),
            states=held(0.3) | (dead if rng.random() < 0.9 else set()), way=number,
        )
        for number, i in enumerate(owners)
    ]  # fmt: skip
    preparations = [preparation("supply=1", "supply=0", rng.randint(1, 3), rng.randint(1, 3), states=held(0.1))]
    if "posture" in variables:
        fitted = set(rng.sample(parts, rng.choice((0, 0, 1))))
        preparations.append(preparation("posture=1", "posture=0", 1, 2, fitted=fitted, states=dead))
    for place in range(1, variables.get("leads", 1)):
        off = set(rng.sample(parts, 1))
        states = dead | held(0.2) - {"leads=0"}
        preparations.append(preparation(f"leads={place}", "leads=0", rng.randint(1, 3), 1, off=off, states=states))
    paths = []
    for place in range(1, tests + 1):
        fitted = set(rng.sample(parts, rng.randint(len(parts) - 1, len(parts))))
        leads = {f"leads={place}"} if "leads" in variables else set()
        states = {"supply=0"} | leads | held(0.2) - {"leads=0"}
        paths.append(access(parts[-place], Purpose.TEST, 1, fitted=fitted, states=states))
    machine = appliance([component(part) for part in parts], removals, paths, variables, preparations)
    aims = [Target(parts[-place], Purpose.TEST) for place in range(1, tests + 1)]
    aims.extend(Target(part, Purpose.REPLACE) for part in rng.sample(parts, rng.choice((0, 1, 2))))
    return machine, Request(tuple(aims), alternatives=0)
