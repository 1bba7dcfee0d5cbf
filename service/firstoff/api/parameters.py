"""Query parameters that several addresses share."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, get_origin

from fastapi import Depends, Query, Request

from firstoff.answers.requests import plan_request
from firstoff.errors import BadRequest
from firstoff.search import near
from firstoff_contract.removal import Minimise, PlanRequest

_MOST_NAMES = 1000

Serial = Annotated[str | None, Query(max_length=64, description="Serial number on the rating plate.")]
Offset = Annotated[int, Query(ge=0, le=1_000_000, description="How many to pass over.")]
Limit = Annotated[int, Query(ge=1, le=200, description="How many to give at the most.")]
Names = Annotated[list[str], Query(max_length=_MOST_NAMES)]


def split(values: Iterable[str], most: int = _MOST_NAMES) -> list[str]:
    """Values that repeat, or that are joined by commas, as one list without blanks.

    :raises BadRequest: there are more than ``most``.
    """
    found = [part.strip() for value in values for part in value.split(",") if part.strip()]
    if len(found) > most:
        raise BadRequest(f"{len(found)} names are too many.", mend=f"Give at most {most}.")
    return found


async def only_known(request: Request) -> None:
    """Refuse a query parameter the address does not have: a misspelt ``off=`` must not pass for nothing off; and one
    that is given twice where only one value counts, since nobody can tell which is meant.

    :raises BadRequest: naming the nearest parameter, or the one that is given twice.
    """
    route = request.scope["route"]
    own, shared = route.dependant.query_params, [each.query_params for each in route.dependant.dependencies]
    known = {parameter.alias: parameter for parameters in (own, *shared) for parameter in parameters}
    allowed = known.keys()
    for name in request.query_params:
        if name not in allowed:
            nearest = near(name, sorted(allowed), limit=1)
            hint = f" Do you mean {nearest[0]}=?" if nearest else ""
            raise BadRequest(
                f"This address has no parameter {name!r}.{hint}",
                mend=f"Its parameters are {', '.join(sorted(allowed)) or 'none'}.",
            )
        repeats = get_origin(known[name].field_info.annotation) is list
        if not repeats and len(request.query_params.getlist(name)) > 1:
            raise BadRequest(f"The parameter {name!r} is given more than once.", mend="Give it once.")


Known = Depends(only_known)


def _asked(
    reach: Annotated[
        list[str],
        Query(
            max_length=50,
            description="Target as component or component:purpose (inspect, test, live-test, replace). Repeats. "
            "Without any, a machine that stands open is closed up.",
        ),
    ] = [],
    off: Annotated[
        Names,
        Query(description="Component that is off as found, or the removal that took it off; it is put back. Repeats."),
    ] = [],
    states: Annotated[Names, Query(description="State in force now, where it is not the initial one. Repeats.")] = [],
    tools: Annotated[
        Names, Query(description="Tool at hand. Repeats. Leave out where all are; blank where none is.")
    ] = [],
    limits: Annotated[
        Names, Query(description="Limit of the day: alone, no-refrigerant-licence or machine-fixed. Repeats.")
    ] = [],
    minimise: Annotated[Minimise, Query(description="What the plan makes smallest; ties go by minutes.")] = "minutes",
    serial: Serial = None,
) -> PlanRequest:
    """What the addresses of a plan are asked for."""
    return plan_request(
        split(reach),
        off=split(off),
        states=split(states),
        tools=split(tools) if tools else None,
        serial=serial,
        minimise=minimise,
        limits=split(limits),
    )


Asked = Annotated[PlanRequest, Depends(_asked)]
