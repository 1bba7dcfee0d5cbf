"""The check of a socket or of fixed wiring as a contract answer."""

from __future__ import annotations

import re
from collections.abc import Iterable

from firstoff.answers.names import known
from firstoff.answers.notes import model_ref
from firstoff.appliance.circuit import EnergySource
from firstoff.appliance.model import Appliance
from firstoff.energy.assume import supplies
from firstoff.energy.socket import Pair, Pattern, pairs, patterns
from firstoff.errors import BadRequest
from firstoff_contract.common import Ref
from firstoff_contract.socket import PairNote, SocketCheck, SupplyCondition

_MEASURED = re.compile(r"\s*([a-z0-9-]+)\s*[:=]\s*([0-9]*\.?[0-9]+)\s*[vV]?\s*")

_NOTES = (
    "Prove the tester on a known live source before and after.",
    "Neutral and earth exchanged show the same voltages as a sound supply, and no voltage tells whether the earth can "
    "carry a fault current: an electrician measures that.",
    "To an open conductor a 10-megohm meter may show anything; a low-impedance meter shows next to nothing.",
)


def socket_check_answer(appliance: Appliance, supply: str | None, measured: Iterable[str]) -> SocketCheck:
    """What a sound supply shows between each pair of conductors, and which condition fits what was measured.

    :raises NotFound: there is no such supply or pair.
    :raises BadRequest: a value cannot be read, a pair is measured twice, or it is not said which of several supplies.
    """
    source = _supply(appliance, supply)
    names = {pair.name: pair for pair in pairs(source)}
    values = _values(measured, names)
    found = patterns(appliance.circuit, source)
    sound = found[0].volts
    points = appliance.circuit.points
    conditions = [_condition(each, values) for each in found]
    notes = list(_NOTES)
    if not source.polarised and not source.fixed:
        notes.insert(0, "The plug fits both ways round: which pole is the line is no fault, and may change.")
    if not source.earthed_neutral:
        notes.insert(0, "It is not declared that the neutral is earthed: nothing can be said of voltages to earth.")
    return SocketCheck(
        model=model_ref(appliance),
        supply=Ref(id=source.id, label=source.label),
        fixed=source.fixed,
        pairs=[
            PairNote(
                pair=name,
                between=[Ref(id=point, label=points[point].label) for point in pair.points],
                low=round(sound[name][0], 1) if name in sound else None,
                high=round(sound[name][1], 1) if name in sound else None,
                measured=values.get(name),
            )
            for name, pair in names.items()
        ],
        conditions=sorted(conditions, key=lambda each: each.fits is False),
        notes=notes,
        revision=appliance.revision,
    )


def _supply(appliance: Appliance, named: str | None) -> EnergySource:
    own = {source.id: source for source in supplies(appliance.circuit)}
    if named is not None:
        known("supply", [named], own)
        return own[named]
    if len(own) != 1:
        raise BadRequest(
            f"This model has {len(own)} supplies.", mend=f"Give supply= with one of {', '.join(sorted(own)) or 'none'}."
        )
    return next(iter(own.values()))


def _values(measured: Iterable[str], names: dict[str, Pair]) -> dict[str, float]:
    values: dict[str, float] = {}
    for text in measured:
        found = _MEASURED.fullmatch(text)
        if found is None:
            raise BadRequest(
                f"{text!r} is no measured voltage.", mend=f"Give a pair and volts, such as {next(iter(names))}:230."
            )
        known("pair of conductors", [found[1]], names)
        if found[1] in values:
            raise BadRequest(f"{found[1]} is measured twice.", mend="Give each pair once.")
        values[found[1]] = float(found[2])
    return values


def _condition(each: Pattern, values: dict[str, float]) -> SupplyCondition:
    return SupplyCondition(
        id=each.id,
        label=each.label,
        mend=each.mend,
        danger=each.danger,
        fits=each.fits(values) if values else None,
        volts={pair: [round(low, 1), round(high, 1)] for pair, (low, high) in each.volts.items()},
    )
