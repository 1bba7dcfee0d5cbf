"""What capacitors hold, as contract notes."""

from __future__ import annotations

from firstoff.appliance.model import Appliance
from firstoff.energy import Situation, stored
from firstoff_contract.energy import StoredCharge


def stored_notes(appliance: Appliance, situation: Situation, safe_volts: float, standard: str) -> list[StoredCharge]:
    """What every capacitor that is not released may hold, in the order of the circuit; joules to three figures."""
    return [
        StoredCharge(
            component=each.component,
            label=appliance.circuit.links[each.link].label,
            link=each.link,
            volts=each.volts,
            wait_s=each.wait_s,
            safe_volts=each.safe_volts,
            standard=each.standard,
            release=each.release,
            joules=None if each.joules is None else float(f"{each.joules:.3g}"),
        )
        for each in stored(appliance, situation, safe_volts, standard)
    ]
