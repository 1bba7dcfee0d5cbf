"""Requests built from loose values, checked as a posted body would be."""

from __future__ import annotations

from collections.abc import Sequence

from pydantic import ValidationError

from firstoff.errors import BadRequest
from firstoff_contract.removal import PlanRequest


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
        wrong = "; ".join(f"{each['loc'][0]}: {each['msg']}" for each in error.errors())
        raise BadRequest(f"The request is not of the expected form. {wrong}.", mend="Correct what is named.") from error
