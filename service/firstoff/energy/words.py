"""The words of the energy room: what is asked about, and the answers.

Identifiers are slugs of the read model (``firstoff.appliance.model``). Voltages are volts, times seconds.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

SAFE_VOLTS = 42.4
"""Peak or direct voltage below which an accessible part is not live, in volts."""

SAFE_STANDARD = "IEC 60335-1, 8.1.4 (an accessible-part limit, borrowed for service)"
"""Where ``SAFE_VOLTS`` comes from."""

STORED_CHARGE = "stored-charge"
"""Slug of the energy kind that capacitors hold."""


class PointCondition(StrEnum):
    """What a point is, worst first. Only ``ISOLATED`` may be touched, and only once proved dead."""

    LIVE = "live"
    UNKNOWN = "unknown"
    OFF_NOT_ISOLATED = "off_not_isolated"
    ISOLATED = "isolated"


class ProveKind(StrEnum):
    """What a step of proving dead is."""

    PROVE_TESTER = "prove_tester"
    MEASURE = "measure"
    VERIFY = "verify"


@dataclass(frozen=True, slots=True)
class Situation:
    """What has been opened, taken off and released so far.

    ``opened`` holds device ids, control devices too. ``links_open`` holds links that are open or gone for certain,
    ``links_in_doubt`` links that may be: those still conduct, but no bleed is relied on through them. ``bonds_open``
    holds earth bonds that are, or may be, open. ``released`` holds what has been discharged and proved: capacitor
    links, and energy sources held by a component. ``neutral_proved`` says that, with the lines open, the neutral of
    a fixed supply was measured dead to earth.
    """

    opened: frozenset[str] = frozenset()
    links_open: frozenset[str] = frozenset()
    bonds_open: frozenset[str] = frozenset()
    released: frozenset[str] = frozenset()
    neutral_proved: bool = False
    links_in_doubt: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class PointState:
    """The condition of one point and what feeds it in that condition.

    ``volts`` is the highest voltage to earth over all that feeds the point in this condition: nominal for a source
    (never lower than the source's own, however low the point's declared voltage), the highest possible charge for a
    capacitor. ``None`` where it is not known, or where nothing feeds the point. ``current`` is "ac", "dc" or None and
    goes with ``volts``. ``fed_by`` alternates point and link ids, from a feeding point of ``source`` to the point
    itself, by the shortest path without loads where there is one. ``through_load`` says that every path crosses a
    load, winding, capacitor or semiconductor. ``source`` is an energy source, or the capacitor link that holds charge.
    """

    id: str
    state: PointCondition
    volts: float | None = None
    current: str | None = None
    fed_by: tuple[str, ...] = ()
    through_load: bool = False
    source: str | None = None


@dataclass(frozen=True, slots=True)
class StoredCharge:
    """What a capacitor may hold. Waiting is never permission: measure, discharge and measure again.

    ``volts`` is the highest voltage it can be charged to, None where its voltage is not stated. ``wait_s`` counts from
    the moment the capacitor is isolated, and is None wherever no time can be vouched for. ``release`` is the text of
    the discharge step, ``joules`` the energy at the highest voltage and capacitance: no small charge is left out.
    """

    link: str
    component: str
    volts: float | None
    wait_s: float | None
    safe_volts: float
    standard: str
    release: str
    joules: float | None = None


@dataclass(frozen=True, slots=True)
class Release:
    """Energy to release, block or wait for once the devices are open, and proved gone before a hand goes in.

    ``id`` is a capacitor link or an energy source, ``energy`` the slug of the energy kind, ``minutes`` a wait where one
    is stated or follows from how a hot part cools in a warm room, ``competence`` who alone may do it, ``verify`` how
    it is seen to be gone.
    """

    id: str
    energy: str
    component: str
    text: str
    minutes: float | None = None
    competence: str | None = None
    verify: str = ""


@dataclass(frozen=True, slots=True)
class ProveStep:
    """One step of proving dead; ``points`` are the two points a tester goes to, or the one point that is looked at."""

    kind: ProveKind
    points: tuple[str, ...]
    text: str


@dataclass(frozen=True, slots=True)
class IsolationSet:
    """One smallest way to isolate from one kind of energy.

    ``devices`` are opened in this order, on top of those open already; ``release`` follows. An energy that no device
    can shut off (charge alone, a spring, heat, refrigerant) has no devices.
    """

    energy: str
    devices: tuple[str, ...]
    release: tuple[Release, ...] = ()


@dataclass(frozen=True, slots=True)
class Isolation:
    """How to make a set of points safe to touch.

    One of ``sets`` of *each* energy must be carried out. ``upstream_only`` names the energies for which the appliance
    has nothing that does it. ``unknown`` names touched points that no isolation makes safe, since nothing is known of
    them or their earth bond is open. ``if_neutral_proved`` holds, for energies in ``upstream_only``, what would do once
    the neutral of the fixed supply is measured dead to earth (``Situation.neutral_proved``); never before.
    """

    sets: tuple[IsolationSet, ...]
    prove_dead: tuple[ProveStep, ...]
    upstream_only: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    if_neutral_proved: tuple[IsolationSet, ...] = ()
