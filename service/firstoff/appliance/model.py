"""What is known of one model of appliance, as frozen dataclasses.

Identifiers are slugs: the last part of a resource's IRI, unique within a platform. Concepts of a vocabulary come
as ``Concept`` (slug and label). Times are minutes, masses kilograms, voltages volts, resistances ohms, capacitances
farads; tolerances are fractions.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from firstoff.appliance.circuit import Circuit
from firstoff.appliance.terms import Concept, Source


class Purpose(StrEnum):
    """Why a component is reached."""

    INSPECT = "inspect"
    TEST = "test"
    REPLACE = "replace"


# --- parts and ways in -----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Component:
    """``price_band`` is small, middle or dear; None where it is not told.

    ``cord_metres`` and ``cord_square_millimetres`` (of its earth conductor) are told of a supply cord only.
    """

    id: str
    label: str
    kind: Concept
    zone: Concept
    part_number: str | None = None
    supersedes: tuple[str, ...] = ()
    sits_inside: str | None = None
    replaced_as: str | None = None
    kilograms: float | None = None
    sources: tuple[Source, ...] = ()
    cord_metres: float | None = None
    cord_square_millimetres: float | None = None
    price_band: Concept | None = None


@dataclass(frozen=True, slots=True)
class Fastening:
    kind: Concept
    count: int = 1
    drive: Concept | None = None
    size: str | None = None
    torque: float | None = None
    single_use: bool = False
    tools: tuple[Concept, ...] = ()
    label: str | None = None


@dataclass(frozen=True, slots=True)
class Connection:
    kind: Concept
    label: str
    lock: str | None = None
    seal: str | None = None
    single_use: bool = False
    opens: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class ReassemblyCheck:
    """``before_cover``: the next part hides it; ``after_supply``: it can only be made with electricity and water back.

    ``wait_minutes`` is how long to let it rest before the work goes on.
    """

    text: str
    before_cover: bool = False
    kind: Concept | None = None
    after_supply: bool = False
    wait_minutes: float | None = None


@dataclass(frozen=True, slots=True)
class Removal:
    """A way to take ``component`` off. ``opens`` holds its connections' links too.

    ``refit_instruction`` is told where putting it back is more than the reverse.
    """

    id: str
    component: str
    label: str
    minutes_out: float
    minutes_back: float
    needs_off: frozenset[str] = frozenset()
    needs_states: frozenset[str] = frozenset()
    fastenings: tuple[Fastening, ...] = ()
    connections: tuple[Connection, ...] = ()
    tools: tuple[Concept, ...] = ()
    consumables: tuple[str, ...] = ()
    opens: frozenset[str] = frozenset()
    bares: frozenset[str] = frozenset()
    checks: tuple[ReassemblyCheck, ...] = ()
    instruction: str = ""
    persons: int = 1
    single_use: bool = False
    sources: tuple[Source, ...] = ()
    refit_instruction: str = ""

    @property
    def all_tools(self) -> tuple[Concept, ...]:
        """The removal's own tools and those of its fastenings, each once, in that order."""
        seen = {tool.id: tool for tool in self.tools}
        for fastening in self.fastenings:
            for tool in fastening.tools:
                seen.setdefault(tool.id, tool)
        return tuple(seen.values())


@dataclass(frozen=True, slots=True)
class AccessPath:
    """A way to reach ``component`` for ``purpose``; ``live`` where it only makes sense with the supply on."""

    id: str
    component: str
    label: str
    purpose: Purpose
    audience: Concept
    minutes: float = 0.0
    needs_off: frozenset[str] = frozenset()
    needs_fitted: frozenset[str] = frozenset()
    needs_states: frozenset[str] = frozenset()
    tools: tuple[Concept, ...] = ()
    bares: frozenset[str] = frozenset()
    live: bool = False
    instruction: str = ""
    sources: tuple[Source, ...] = ()


# --- states ----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class State:
    id: str
    variable: str
    label: str
    initial: bool = False
    devices_open: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class StateVariable:
    """``controls`` names the energy kind whose supply the variable stands for, if it does."""

    id: str
    label: str
    states: tuple[str, ...]
    controls: str | None = None

    @property
    def is_mains(self) -> bool:
        """Whether it stands for the electrical supply."""
        return self.controls == "mains"


@dataclass(frozen=True, slots=True)
class Preparation:
    """Gives ``gives`` from ``from_state``; undoing it goes back, under the same needs.

    ``moves_machine``: the machine as a whole is moved or tilted where it stands.
    """

    id: str
    label: str
    gives: str
    from_state: str
    minutes: float
    undo_minutes: float
    needs_off: frozenset[str] = frozenset()
    needs_fitted: frozenset[str] = frozenset()
    needs_states: frozenset[str] = frozenset()
    tools: tuple[Concept, ...] = ()
    instruction: str = ""
    undo_instruction: str = ""
    persons: int = 1
    moves_machine: bool = False
    sources: tuple[Source, ...] = ()


# --- cautions and faults ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Caution:
    """``signal_word`` is DANGER, WARNING, CAUTION or NOTICE; ``applies_to`` holds slugs of any resource."""

    id: str
    signal_word: str
    hazard: Concept
    text: str
    protection: str
    applies_to: frozenset[str]


@dataclass(frozen=True, slots=True)
class Effect:
    symptom: str
    likelihood: float


@dataclass(frozen=True, slots=True)
class Remedy:
    id: str
    label: str
    kind: Concept
    component: str | None
    minutes: float | None = None


@dataclass(frozen=True, slots=True)
class Fault:
    """``alters`` holds links that the fault opens, shorts, welds or changes, as its failure mode says."""

    id: str
    label: str
    origin: Concept
    failure_mode: Concept
    relative_frequency: float
    component: str | None = None
    effects: tuple[Effect, ...] = ()
    brings_on: frozenset[str] = frozenset()
    remedies: tuple[Remedy, ...] = ()
    sources: tuple[Source, ...] = ()
    alters: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Outcome:
    """``at_least`` and ``at_most`` bound a reading in the unit of the check's quantity."""

    label: str
    healthy: bool
    speaks_for: frozenset[str] = frozenset()
    rules_out: frozenset[str] = frozenset()
    at_least: float | None = None
    at_most: float | None = None


@dataclass(frozen=True, slots=True)
class Check:
    id: str
    label: str
    component: str
    purpose: Purpose
    quantity: Concept
    minutes: float
    live: bool = False
    between: tuple[str, ...] = ()
    needs_states: frozenset[str] = frozenset()
    tools: tuple[Concept, ...] = ()
    outcomes: tuple[Outcome, ...] = ()
    instruction: str = ""
    sources: tuple[Source, ...] = ()


@dataclass(frozen=True, slots=True)
class DisplayCode:
    """``set_when``: what the control saw; ``does_not_prove``: what the code leaves open; ``clearing``: how it goes."""

    id: str
    notation: str
    label: str
    faults: frozenset[str] = frozenset()
    symptoms: frozenset[str] = frozenset()
    set_when: str = ""
    does_not_prove: str = ""
    clearing: str = ""
    stored: bool = True


@dataclass(frozen=True, slots=True)
class ServiceStep:
    """``stage`` is enter, read, run, set, clear or leave; it switches on the components ``runs`` by way of ``closes``.

    ``minutes`` is how long it takes, or goes on by itself.
    """

    order: int
    stage: str
    text: str
    shows: str = ""
    runs: frozenset[str] = frozenset()
    closes: frozenset[str] = frozenset()
    minutes: float | None = None


@dataclass(frozen=True, slots=True)
class ServiceMode:
    """``steps`` in their order; none where the content tells the mode in ``instruction`` alone."""

    id: str
    label: str
    instruction: str
    kinds: tuple[Concept, ...] = ()
    needs_states: frozenset[str] = frozenset()
    needs_fitted: frozenset[str] = frozenset()
    steps: tuple[ServiceStep, ...] = ()
    sources: tuple[Source, ...] = ()


@dataclass(frozen=True, slots=True)
class Symptom:
    """A symptom of the shared vocabulary with its labels and alternative labels by language."""

    id: str
    label: str
    labels: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


# --- the whole -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Bulletin:
    id: str
    label: str
    kind: Concept
    text: str
    concerns: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class FinishStep:
    """``before_supply``: done when all is back in place and the supply is still off.

    ``only_after`` holds slugs of components, preparations and states: it is done only where one of them was off, made
    or in force; empty for every job. ``recorded``: it is confirmed by name in the safety record.
    """

    order: int
    text: str
    before_supply: bool = False
    id: str = ""
    label: str = ""
    only_after: frozenset[str] = frozenset()
    wait_minutes: float | None = None
    competence: str | None = None
    recorded: bool = False


@dataclass(frozen=True, slots=True)
class Construction:
    """What decides the limits that prove the machine safe after work; None where the content does not say.

    ``built_to`` is the family of safety standards; ``protection_class`` I, II or III; ``operation`` motor-operated,
    heating or combined; ``rated_input`` in watts.
    """

    built_to: Concept | None = None
    protection_class: str | None = None
    stationary: bool | None = None
    operation: str | None = None
    rated_input: float | None = None


@dataclass(frozen=True, slots=True)
class Appliance:
    """One model with its differences applied, read from one revision of its platform's graph."""

    model: str
    model_number: str
    label: str
    platform: Concept
    maker: str
    kind: Concept
    revision: str
    status: str = "draft"
    serial_range: str | None = None
    components: Mapping[str, Component] = field(default_factory=dict)
    removals: Mapping[str, Removal] = field(default_factory=dict)
    access_paths: Mapping[str, AccessPath] = field(default_factory=dict)
    variables: Mapping[str, StateVariable] = field(default_factory=dict)
    states: Mapping[str, State] = field(default_factory=dict)
    preparations: Mapping[str, Preparation] = field(default_factory=dict)
    circuit: Circuit = field(default_factory=Circuit)
    cautions: tuple[Caution, ...] = ()
    symptoms: Mapping[str, Symptom] = field(default_factory=dict)
    faults: Mapping[str, Fault] = field(default_factory=dict)
    checks: Mapping[str, Check] = field(default_factory=dict)
    codes: Mapping[str, DisplayCode] = field(default_factory=dict)
    service_modes: Mapping[str, ServiceMode] = field(default_factory=dict)
    bulletins: tuple[Bulletin, ...] = ()
    finish: tuple[FinishStep, ...] = ()
    construction: Construction = field(default_factory=Construction)

    def energised(self, states: Iterable[str]) -> bool:
        """True where a variable that stands for the electrical supply is in a state of ``states`` that opens no device.

        Whether the supply is on follows from nothing else.
        """
        return any(
            self.variables[state.variable].is_mains and not state.devices_open
            for state in map(self.states.__getitem__, states)
        )
