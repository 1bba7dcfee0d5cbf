"""Checking a socket or the terminals of fixed wiring: what a sound supply shows, and what each fault of it shows.

Voltages are those of a meter between two conductors. To a conductor that leads nowhere a 10-megohm meter shows anything
from nothing to ghost voltages, so those are unknown. Neutral and earth exchanged cannot be told from a sound supply by
voltage, and no voltage tells whether an earth can carry a fault current. The patterns are common practice, no source.
"""

from __future__ import annotations

from cmath import exp
from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import combinations
from math import radians

from firstoff.appliance.circuit import Circuit, EnergySource

NEUTRAL_EARTH_VOLTS = 10.0
"""What a sound neutral may lie over earth under load, in volts. Common practice, no source."""

DEAD_VOLTS = 5.0
"""Under this nothing is taken to be there, in volts. Common practice, no source."""

Band = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Pair:
    """Two conductors of a supply: ``name`` such as ``line-neutral``, ``points`` where the probes go."""

    name: str
    points: tuple[str, str]


@dataclass(frozen=True, slots=True)
class Pattern:
    """A condition of a supply with the volts that each pair shows; a pair left out is unknown.

    ``danger`` marks what can make metal of the machine live or leave it without earth.
    """

    id: str
    label: str
    mend: str
    volts: Mapping[str, Band] = field(default_factory=dict)
    danger: bool = False

    def fits(self, measured: Mapping[str, float]) -> bool:
        """Whether no measured pair lies outside what this shows."""
        known = [(self.volts[pair], value) for pair, value in measured.items() if pair in self.volts]
        return all(low <= value <= high for (low, high), value in known)


def conductors(source: EnergySource) -> dict[str, str]:
    """The conductors of a supply by name, with the point of each: lines, then neutral, then earth."""
    several = len(source.lines) > 1
    found = {f"line{n}" if several else "line": line for n, line in enumerate(source.lines, 1)}
    if source.neutral is not None:
        found["neutral"] = source.neutral
    if source.protective_earth is not None:
        found["earth"] = source.protective_earth
    return found


def pairs(source: EnergySource) -> tuple[Pair, ...]:
    """Every pair of conductors, in the order of ``conductors``."""
    named = conductors(source)
    return tuple(Pair(f"{one}-{other}", (named[one], named[other])) for one, other in combinations(named, 2))


def patterns(circuit: Circuit, source: EnergySource) -> tuple[Pattern, ...]:
    """The sound supply first, then what can be wrong with it. Nothing is known of a supply without a voltage."""
    named = list(conductors(source))
    phasors = _phasors(circuit, source)
    sound = _bands(source, phasors, named)
    found = [Pattern("sound", "as it should be", "Nothing.", sound)]
    dead = {pair.name: (0.0, DEAD_VOLTS) for pair in pairs(source)}
    found.append(Pattern("dead", "no voltage", "Look for an open fuse, breaker or switch upstream.", dead))
    found += [_open(name, sound, source) for name in named]
    lines = [name for name in named if name.startswith("line")]
    if "neutral" in named and (source.polarised or source.fixed):
        found += [_exchanged(source, phasors, named, line, "neutral", "swapped") for line in lines]
    if "earth" in named:
        found += [_exchanged(source, phasors, named, line, "earth", "line-on-earth") for line in lines]
    if "line1" in named and "line2" in named:
        same = {**phasors, **dict.fromkeys(lines, phasors[lines[0]])}
        found.append(
            Pattern(
                "same-phase",
                "all lines on one phase",
                "Have an electrician connect the lines to different phases; the neutral may be overloaded.",
                _bands(source, same, named),
                danger=True,
            )
        )
    found += _wrong_voltage(source, phasors, named)
    return tuple(found)


def _phasors(circuit: Circuit, source: EnergySource) -> dict[str, complex | None]:
    """The voltage of each conductor over the origin of the supply; None where it is not known."""
    found: dict[str, complex | None] = {}
    for name, point in conductors(source).items():
        if name == "earth":
            found[name] = 0j if source.earthed_neutral else None
        elif name == "neutral":
            found[name] = 0j
        else:
            told = circuit.points[point].phase_angle if point in circuit.points else None
            angle = 0.0 if told is None and len(source.lines) == 1 else told
            known = source.volts is not None and angle is not None
            found[name] = (source.volts or 0.0) * exp(1j * radians(angle or 0.0)) if known else None
    return found


def _bands(source: EnergySource, phasors: Mapping[str, complex | None], named: list[str]) -> dict[str, Band]:
    """The volts of every pair that are known, with the tolerance of the supply."""
    lower = source.upper_tolerance if source.lower_tolerance is None else source.lower_tolerance
    found: dict[str, Band] = {}
    for one, other in combinations(named, 2):
        first, second = phasors[one], phasors[other]
        if first is None or second is None:
            continue
        volts = abs(first - second)
        slack = NEUTRAL_EARTH_VOLTS if "earth" in (one, other) else 0.0
        if volts < 1e-9:
            found[f"{one}-{other}"] = (0.0, max(slack, DEAD_VOLTS))
        else:
            found[f"{one}-{other}"] = (volts * (1.0 - lower) - slack, volts * (1.0 + source.upper_tolerance) + slack)
    return found


def _open(name: str, sound: Mapping[str, Band], source: EnergySource) -> Pattern:
    """A conductor that leads nowhere: nothing is known of its voltage to the others."""
    volts = {pair: band for pair, band in sound.items() if name not in pair.split("-")}
    if name == "earth":
        mend = "Do not connect the machine: have an electrician mend the earth first."
        return Pattern("open-earth", "earth is open", mend, volts, danger=True)
    if name == "neutral":
        several = len(source.lines) > 1
        mend = "Switch off at once and have an electrician mend the neutral: it overvolts what hangs on it."
        alone = "Have an electrician mend the neutral; what it fed stays live."
        return Pattern("open-neutral", "neutral is open", mend if several else alone, volts, danger=True)
    label = "line is open" if name == "line" else f"line {name[4:]} is open"
    return Pattern(f"open-{name}", label, "Look for an open fuse, breaker or terminal in that line.", volts)


def _exchanged(
    source: EnergySource, phasors: Mapping[str, complex | None], named: list[str], one: str, other: str, kind: str
) -> Pattern:
    swapped = {**phasors, one: phasors[other], other: phasors[one]}
    number = one[4:]
    line = f"line {number}" if number else "line"
    suffix = f"-{number}" if number else ""
    if kind == "swapped":
        return Pattern(
            f"swapped{suffix}",
            f"{line} and neutral exchanged",
            "Have an electrician exchange them: a single-pole switch now opens the neutral and leaves the line.",
            _bands(source, swapped, named),
            danger=True,
        )
    return Pattern(
        f"line-on-earth{suffix}",
        f"{line} and earth exchanged",
        "Do not touch the machine: its metal is live. Switch off upstream and call an electrician.",
        _bands(source, swapped, named),
        danger=True,
    )


def _wrong_voltage(source: EnergySource, phasors: Mapping[str, complex | None], named: list[str]) -> list[Pattern]:
    """Every line too low or too high; the supply as such is in order."""
    if source.volts is None:
        return []
    lower = source.upper_tolerance if source.lower_tolerance is None else source.lower_tolerance
    found = []
    for kind, label, low, high in (
        ("low", "voltage too low", DEAD_VOLTS / source.volts, 1.0 - lower),
        ("high", "voltage too high", 1.0 + source.upper_tolerance, 4.0),
    ):
        volts: dict[str, Band] = {}
        for one, other in combinations(named, 2):
            first, second = phasors[one], phasors[other]
            if first is None or second is None:
                continue
            size = abs(first - second)
            volts[f"{one}-{other}"] = (size * low, size * high) if size > 1e-9 else (0.0, NEUTRAL_EARTH_VOLTS)
        mend = "Measure under load and without, and have the supply looked at; do not run the machine on it."
        found.append(Pattern(kind, label, mend, volts))
    return found
