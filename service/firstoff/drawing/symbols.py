"""Which graphical symbol stands for what: the kinds of IEC 60617, drawn by ourselves."""

from __future__ import annotations

from enum import StrEnum

from firstoff.appliance.circuit import Circuit, LinkKind
from firstoff.drawing.nets import Unit
from firstoff.energy.network import is_wet


class Symbol(StrEnum):
    """Kinds of symbols."""

    SUPPLY = "supply"
    BATTERY = "battery"
    PIPE = "pipe"
    COUPLING = "coupling"
    ISOLATOR = "isolator"
    CONTROL = "control"
    FUSE = "fuse"
    FILTER = "filter"
    CONVERTER = "converter"
    WINDING = "winding"
    LOAD = "load"
    CAPACITOR = "capacitor"
    EARTH = "earth"
    END = "end"


def symbol_of(circuit: Circuit, unit: Unit) -> Symbol:
    """The symbol of a unit: of a part by the most telling link it has."""
    if unit.device is not None:
        return Symbol.ISOLATOR if circuit.devices[unit.device].isolating else Symbol.CONTROL
    if unit.source is not None:
        source = circuit.sources[unit.source]
        if source.derived_from:
            return Symbol.COUPLING
        if is_wet(source):
            return Symbol.PIPE
        return Symbol.BATTERY if source.current == "dc" else Symbol.SUPPLY
    kinds = {circuit.links[each].kind for each in unit.links}
    if kinds & {LinkKind.SEMICONDUCTOR, LinkKind.CONVERTER}:
        return Symbol.CONVERTER
    if LinkKind.WINDING in kinds:
        return Symbol.FILTER if LinkKind.CAPACITOR in kinds else Symbol.WINDING
    if kinds == {LinkKind.FUSE}:
        return Symbol.FUSE
    return Symbol.CAPACITOR if LinkKind.CAPACITOR in kinds else Symbol.LOAD
