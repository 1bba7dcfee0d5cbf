"""Requests built from loose values, checked as a posted body would be."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from pydantic import ValidationError

from firstoff.errors import BadRequest
from firstoff.handover import UNITS, Quantity
from firstoff_contract.record import RecordRequest
from firstoff_contract.removal import PlanRequest

#: A reading as it is typed: ``>`` for over range, a number, and a unit where it is not that of the limit.
_READING = re.compile(r"\s*(>?)\s*([+-]?[0-9.]+(?:e[+-]?[0-9]+)?|[+-]?(?:nan|inf|infinity))\s*(\D*)", re.IGNORECASE)


def plan_request(
    reach: Sequence[str],
    *,
    off: Sequence[str] = (),
    states: Sequence[str] = (),
    tools: Sequence[str] | None = None,
    serial: str | None = None,
    minimise: str = "minutes",
    limits: Sequence[str] = (),
) -> PlanRequest:
    """A plan request; ``tools`` None for all, empty for none.

    :raises BadRequest: a value is outside what the contract allows.
    """
    try:
        return PlanRequest.model_validate(
            {
                "reach": list(reach),
                "off": list(off),
                "states": list(states),
                "tools": None if tools is None else list(tools),
                "serial": serial,
                "minimise": minimise,
                "limits": list(limits),
            }
        )
    except ValidationError as error:
        raise _refused(error) from error


def record_request(
    *,
    earth: Sequence[str] = (),
    insulation: Sequence[str] = (),
    leakage: Sequence[str] = (),
    confirm: Sequence[str] = (),
    done: Sequence[str] | None = None,
    serial: str | None = None,
) -> RecordRequest:
    """A record request from typed readings, such as ``0.08``, ``80 mohm`` or ``>500``.

    ``confirm`` are lines with a name, such as ``finish-leak=A. Technician``; ``done`` None where nothing is said.

    :raises BadRequest: a reading or confirmation cannot be read, or is outside what the contract allows.
    """
    entered = {Quantity.EARTH: earth, Quantity.INSULATION: insulation, Quantity.LEAKAGE: leakage}
    try:
        return RecordRequest.model_validate(
            {
                "readings": [_reading(quantity, text) for quantity, texts in entered.items() for text in texts],
                "confirmed": [_confirmation(text) for text in confirm],
                "done": None if done is None else [each for each in done if each.strip()],
                "serial": serial,
            }
        )
    except ValidationError as error:
        raise _refused(error) from error


def _reading(quantity: Quantity, text: str) -> dict[str, Any]:
    found = _READING.fullmatch(text)
    try:
        value = float(found[2]) if found else None
    except ValueError:
        value = None
    if found is None or value is None:
        raise BadRequest(
            f"{text!r} is no reading of {quantity.value}.", mend=f"Give a number such as 0.5 in {UNITS[quantity]}."
        )
    unit = found[3].strip() or UNITS[quantity]
    return {"quantity": quantity.value, "value": value, "unit": unit, "over_range": bool(found[1])}


def _confirmation(text: str) -> dict[str, str]:
    line, equals, by = text.partition("=")
    if not equals:
        raise BadRequest(f"{text!r} does not say who did it.", mend="Give the line and the name, as line='Name'.")
    return {"line": line.strip(), "by": by.strip()}


def _refused(error: ValidationError) -> BadRequest:
    wrong = "; ".join(f"{'.'.join(map(str, each['loc']))}: {each['msg']}" for each in error.errors())
    return BadRequest(f"The request is not of the expected form. {wrong}.", mend="Correct what is named.")
