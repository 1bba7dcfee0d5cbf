"""Assumed faults: a circuit as it would be with a welded relay, a broken neutral, an earth that is lost, and so on.

An assumption changes the circuit and nothing else, so that live points and meter readings under a fault are those of
the changed circuit. A fault that opens something takes nothing away from what isolation has to open: it may close.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from firstoff.appliance.circuit import Circuit, EnergySource, Link, LinkKind
from firstoff.energy.errors import Contradiction, UnknownSubject
from firstoff.energy.words import Situation

BAD_JOINT_OHMS = 1000.0
"""Resistance of a corroded or burnt joint, in ohms, give or take nearly all of it. Common practice, no source."""

DRAWN_APART = frozenset({"plug", "appliance-connector"})
"""Slugs of device kinds whose contacts are drawn apart by hand and in sight, so that none of them can weld."""


class AssumedKind(StrEnum):
    """What is assumed to be wrong."""

    OPEN = "open"
    SHORTED = "shorted"
    WELDED = "welded"
    EARTHED = "earthed"
    HIGH_RESISTANCE = "high-resistance"
    OPEN_NEUTRAL = "open-neutral"
    SWAPPED = "swapped"
    LOST_EARTH = "lost-earth"


_BOND = LinkKind.EARTH_BOND

OF_A_SUPPLY = frozenset({AssumedKind.OPEN_NEUTRAL, AssumedKind.SWAPPED, AssumedKind.LOST_EARTH})
"""Faults of a supply; their subject is a source, and may be left out where there is one supply only."""


@dataclass(frozen=True, slots=True)
class Assumption:
    """One assumed fault: ``subject`` is a link, a device (``WELDED``) or a source (``OF_A_SUPPLY``).

    A supply of several lines is ``SWAPPED`` at the line whose point is the subject, at its first where that is the
    source.
    """

    kind: AssumedKind
    subject: str

    @property
    def text(self) -> str:
        """As it is written in a request."""
        return f"{self.kind.value}:{self.subject}"


@dataclass(frozen=True, slots=True)
class World:
    """A circuit under assumptions: ``links_open`` and ``bonds_open`` are open as long as the fault lasts,
    ``neutral_open`` are sources whose neutral conductor is broken on the supply side. ``inside`` are points that the
    faults add inside parts, where no probe goes; ``earthed_origins`` are sources declared to have their neutral earthed
    at the origin, on whichever side of a fault that lies. ``unearthed`` are points on metal that a lost earth leaves
    to whatever touches it: nobody may take it for safe, whatever else is open."""

    circuit: Circuit
    links_open: frozenset[str] = frozenset()
    bonds_open: frozenset[str] = frozenset()
    neutral_open: frozenset[str] = frozenset()
    inside: frozenset[str] = frozenset()
    earthed_origins: frozenset[str] = frozenset()
    unearthed: frozenset[str] = frozenset()

    def over(self, situation: Situation) -> Situation:
        """``situation`` with what the faults open; an open bond that bonds to no earth is an open conductor."""
        bonds = situation.bonds_open | self.bonds_open
        wires = {id_ for id_ in bonds if id_ in self.circuit.links and self.circuit.links[id_].kind is not _BOND}
        return replace(
            situation,
            links_open=situation.links_open | self.links_open | wires,
            bonds_open=situation.bonds_open | self.bonds_open,
        )


def supplies(circuit: Circuit) -> tuple[EnergySource, ...]:
    """The electrical sources that are derived from no other."""
    return tuple(
        source for source in circuit.sources.values() if source.lines and not source.derived_from and not source.held_by
    )


def parsed(text: str, circuit: Circuit) -> Assumption:
    """An assumption as it is written: ``kind:subject``, or the kind alone where it is of the one supply there is.

    Raises ``UnknownSubject`` where kind or subject is none there is, ``Contradiction`` where the subject is left out
    and there is not exactly one supply.
    """
    kind_text, _, subject = (part.strip() for part in text.partition(":"))
    kinds = {each.value: each for each in AssumedKind}
    if kind_text not in kinds:
        raise UnknownSubject("fault to assume", kind_text, sorted(kinds))
    kind = kinds[kind_text]
    if not subject:
        named = [source.id for source in supplies(circuit)]
        if kind not in OF_A_SUPPLY or len(named) != 1:
            raise Contradiction(f"It is not said what is assumed to be {kind.value}: write {kind.value}:NAME.")
        subject = named[0]
    candidates = _candidates(kind, circuit)
    if subject not in candidates:
        raise UnknownSubject(_SUBJECTS[kind], subject, sorted(candidates))
    return Assumption(kind, subject)


_SUBJECTS = {
    AssumedKind.OPEN: "link",
    AssumedKind.SHORTED: "link",
    AssumedKind.WELDED: "device or contact",
    AssumedKind.EARTHED: "link",
    AssumedKind.HIGH_RESISTANCE: "link",
    AssumedKind.OPEN_NEUTRAL: "supply with a neutral",
    AssumedKind.SWAPPED: "supply with a neutral",
    AssumedKind.LOST_EARTH: "supply with a protective earth",
}


def _candidates(kind: AssumedKind, circuit: Circuit) -> set[str]:
    electrical = {id_ for id_, link in circuit.links.items() if link.kind is not LinkKind.PIPE}
    if kind in OF_A_SUPPLY:
        earth = kind is AssumedKind.LOST_EARTH
        own = [each for each in supplies(circuit) if (each.protective_earth if earth else each.neutral) is not None]
        lines = {line for each in own for line in each.lines} if kind is AssumedKind.SWAPPED else set()
        return {each.id for each in own} | lines
    if kind is AssumedKind.WELDED:
        contacts = {id_ for id_ in electrical if circuit.links[id_].kind is LinkKind.CONTACT}
        return contacts | {device for id_ in contacts if (device := circuit.links[id_].device) is not None}
    if kind in (AssumedKind.SHORTED, AssumedKind.EARTHED, AssumedKind.HIGH_RESISTANCE):
        return {id_ for id_ in electrical if circuit.links[id_].kind is not LinkKind.EARTH_BOND}
    return electrical


def assumed(circuit: Circuit, assumptions: Iterable[Assumption]) -> World:
    """The circuit with all ``assumptions`` at work.

    Raises ``Contradiction`` where two of them change the same thing, or one makes no sense.
    """
    world = World(
        circuit,
        earthed_origins=frozenset(id_ for id_, source in circuit.sources.items() if source.earthed_neutral),
    )
    touched: dict[str, Assumption] = {}
    for each in dict.fromkeys(assumptions):
        for thing in _things(circuit, each):
            other = touched.setdefault(thing, each)
            if other != each:
                raise Contradiction(f"{other.text} and {each.text} cannot hold together.")
    # A lost earth comes last: until then there is earthed metal for other faults to touch.
    for each in sorted(dict.fromkeys(touched.values()), key=lambda each: each.kind is AssumedKind.LOST_EARTH):
        world = _with(world, each)
    return world


def _things(circuit: Circuit, assumption: Assumption) -> tuple[str, ...]:
    """What an assumption changes, by names that are equal where two assumptions change the same."""
    if assumption.kind is AssumedKind.LOST_EARTH:
        return (f"earth of {assumption.subject}",)
    if assumption.kind in OF_A_SUPPLY:
        return (f"neutral of {_source(circuit, assumption.subject).id}",)
    if assumption.kind is AssumedKind.WELDED and assumption.subject not in circuit.links:
        return tuple(_contacts(circuit, assumption.subject))
    return (assumption.subject,)


def _contacts(circuit: Circuit, device: str) -> list[str]:
    return [id_ for id_, link in circuit.links.items() if link.kind is LinkKind.CONTACT and link.device == device]


def _with(world: World, assumption: Assumption) -> World:
    circuit, subject = world.circuit, assumption.subject
    link = circuit.links.get(subject)
    if assumption.kind is AssumedKind.OPEN and link is not None:
        if link.kind is LinkKind.EARTH_BOND:
            return replace(world, bonds_open=world.bonds_open | {subject})
        return replace(world, links_open=world.links_open | {subject})
    if assumption.kind is AssumedKind.SHORTED and link is not None:
        return replace(world, circuit=_relinked(circuit, {subject: _conductor(link)}))
    if assumption.kind is AssumedKind.WELDED:
        welded = [subject] if link is not None else _contacts(circuit, subject)
        return replace(world, circuit=_relinked(circuit, {id_: _conductor(circuit.links[id_]) for id_ in welded}))
    if assumption.kind is AssumedKind.EARTHED and link is not None:
        return _split(world, link, _earthed(circuit, link))
    if assumption.kind is AssumedKind.HIGH_RESISTANCE and link is not None:
        return _split(world, link, _resisting(link))
    source = _source(circuit, subject)
    if assumption.kind is AssumedKind.LOST_EARTH:
        return _without_earth(world, source)
    if assumption.kind is AssumedKind.SWAPPED and source.neutral is not None:
        line = subject if subject in source.lines else source.lines[0]
        lines = tuple(source.neutral if each == line else each for each in source.lines)
        swapped = _resourced(circuit, replace(source, lines=lines, neutral=line))
        return replace(world, circuit=_rephased(swapped, line, source.neutral))
    # Behind a broken neutral other loads of the building may feed the conductor: it stays live, whatever is measured.
    broken = _resourced(circuit, replace(source, earthed_neutral=False))
    return replace(world, circuit=broken, neutral_open=world.neutral_open | {subject})


def _rephased(circuit: Circuit, line: str, neutral: str) -> Circuit:
    """The phase angle of a line goes with it to the point that was the neutral's."""
    if line not in circuit.points or neutral not in circuit.points:
        return circuit
    moved = replace(circuit.points[neutral], phase_angle=circuit.points[line].phase_angle)
    left = replace(circuit.points[line], phase_angle=None)
    return replace(circuit, points={**circuit.points, neutral: moved, line: left})


def _relinked(circuit: Circuit, links: Mapping[str, Link]) -> Circuit:
    return replace(circuit, links={**circuit.links, **links})


def _split(world: World, link: Link, links: Mapping[str, Link]) -> World:
    return replace(world, circuit=_relinked(world.circuit, links), inside=world.inside | {_middle(link)})


def _resourced(circuit: Circuit, source: EnergySource) -> Circuit:
    return replace(circuit, sources={**circuit.sources, source.id: source})


def _source(circuit: Circuit, subject: str) -> EnergySource:
    """The source of that name, or the one that has a line there."""
    if subject in circuit.sources:
        return circuit.sources[subject]
    return next(source for source in supplies(circuit) if subject in source.lines)


def _without_earth(world: World, source: EnergySource) -> World:
    """Metal that is bonded to no other earth is merely joined together by its wires, and is on earth no more."""
    circuit = _resourced(world.circuit, replace(source, protective_earth=None))
    bonds = {id_: link for id_, link in circuit.links.items() if link.kind is LinkKind.EARTH_BOND}
    left = {each.protective_earth for each in circuit.sources.values()} - {None}
    lost = {source.protective_earth} - {None} | {end for link in bonds.values() for end in (link.start, link.end)}
    kept: set[str] = {end for end in left if end is not None}
    grown = True
    while grown:
        more = {end for link in bonds.values() if {link.start, link.end} & kept for end in (link.start, link.end)}
        grown = not more <= kept
        kept |= more
    loose = {id_: _conductor(link) for id_, link in bonds.items() if link.start not in kept}
    metal = frozenset(end for end in lost - kept if end is not None)
    return replace(world, circuit=_relinked(circuit, loose), unearthed=world.unearthed | metal)


def _conductor(link: Link) -> Link:
    return Link(link.id, link.label, LinkKind.CONDUCTOR, link.start, link.end, link.component)


def _middle(link: Link) -> str:
    return f"{link.id}-inside"


def _earthed(circuit: Circuit, link: Link) -> dict[str, Link]:
    """The link in two halves, with a conductor from between them to the earthed metal of its component.

    Raises ``Contradiction`` where the circuit has no earthed metal for it to touch.
    """
    metal = _metal(circuit, link)
    if metal is None:
        raise Contradiction(f"{link.label} has no earthed metal to touch.")
    middle, other = _middle(link), f"{link.id}-rest"

    def half(value: float | None) -> float | None:
        return None if value is None else value / 2.0

    halved = replace(
        link, ohms=half(link.ohms), rated_volts=half(link.rated_volts), rated_watts=half(link.rated_watts),
        henries=half(link.henries), farads=None if link.farads is None else link.farads * 2.0, bleeds=None, curve=None,
    )  # fmt: skip
    return {
        link.id: replace(halved, end=middle),
        other: replace(halved, id=other, start=middle),
        f"{link.id}-fault": Link(
            f"{link.id}-fault", f"{link.label}, touching metal", LinkKind.CONDUCTOR, middle, metal, link.component
        ),
    }


def _metal(circuit: Circuit, link: Link) -> str | None:
    """An end of an earth bond of the same component, else of any, else the protective earth of a supply."""
    ends = [
        end for each in circuit.links.values() if each.kind is LinkKind.EARTH_BOND for end in (each.end, each.start)
    ]
    own = [end for end in ends if end in circuit.points and circuit.points[end].component == link.component]
    earths = [source.protective_earth for source in circuit.sources.values() if source.protective_earth is not None]
    return next(iter((*own, *ends, *earths)), None)


def _resisting(link: Link) -> dict[str, Link]:
    middle, joint = _middle(link), f"{link.id}-joint"
    return {
        link.id: replace(link, end=middle),
        joint: Link(
            joint, f"{link.label}, bad joint", LinkKind.LOAD, middle, link.end, link.component, ohms=BAD_JOINT_OHMS,
            ohm_tolerance=0.999,
        ),
    }  # fmt: skip


def single_faults(circuit: Circuit) -> tuple[Assumption, ...]:
    """Every single fault that can make a point worse: of each supply a broken neutral, neutral and any line swapped, a
    lost earth; of each device whose contacts can weld, that they did.

    The others make nothing worse: what is shorted or has a bad joint conducts anyway, what touches earthed metal is
    held down by it, and one open bond leaves less metal unknown than a lost earth.
    """
    found = []
    for source in supplies(circuit):
        if source.neutral is not None:
            found.append(Assumption(AssumedKind.OPEN_NEUTRAL, source.id))
            at = [source.id] if len(source.lines) == 1 else source.lines
            found += [Assumption(AssumedKind.SWAPPED, each) for each in at]
        if source.protective_earth is not None:
            found.append(Assumption(AssumedKind.LOST_EARTH, source.id))
    for device in circuit.devices.values():
        contacts = [circuit.links[id_] for id_ in _contacts(circuit, device.id)]
        wet = any(_is_pipework(circuit, link) for link in contacts)
        if contacts and not wet and device.kind.id not in DRAWN_APART:
            found.append(Assumption(AssumedKind.WELDED, device.id))
    return tuple(found)


def _is_pipework(circuit: Circuit, link: Link) -> bool:
    """Whether a contact is the seat of a valve: it lies between pipes."""
    ends = {link.start, link.end}
    beside = [each for each in circuit.links.values() if each.id != link.id and ends & {each.start, each.end}]
    feeds = {point for source in circuit.sources.values() for point in source.feeds}
    return bool(ends & feeds) or any(each.kind is LinkKind.PIPE for each in beside)
