"""The addresses of energy: what is live, how to make it safe."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import Query, Request, Response

from firstoff.answers.energies import saturation_answer
from firstoff.answers.reading import ReadingRequest
from firstoff.api.parameters import Asked, Names, Serial, split
from firstoff.api.routing import desk_of, keep_if, version_one
from firstoff.drawing import MOST_COLUMNS, picture, picture_style
from firstoff.sheet import content_security_policy
from firstoff_contract.energies import ComponentCurves, Energies, Saturation
from firstoff_contract.energy import IsolationAnswer, LivePoints
from firstoff_contract.pocket import Pocket
from firstoff_contract.procedure import Procedure
from firstoff_contract.reading import ReadingAnswer
from firstoff_contract.socket import SocketCheck

router = version_one()

Assume = Annotated[
    Names,
    Query(
        description="Fault taken to be there, as kind:name: open, shorted, earthed or high-resistance with a link, "
        "welded with a device or contact; open-neutral, swapped or lost-earth, with a supply where there are several. "
        "Repeats."
    ),
]


@router.get("/models/{model}/live-points", tags=["energy"], summary="What is still live")
def live_points(
    request: Request,
    model: str,
    opened: Annotated[Names, Query(description="Device that is open. Repeats.")] = [],
    off: Annotated[Names, Query(description="Component that is off, or the removal that took it off. Repeats.")] = [],
    released: Annotated[Names, Query(description="Capacitor discharged and proved dead. Repeats.")] = [],
    at: Annotated[Names, Query(description="Point, or component with points, to show; all where none is given.")] = [],
    assume: Assume = [],
    worst: Annotated[
        bool, Query(description="True for the worst state of each point over no fault and every single one.")
    ] = False,
    serial: Serial = None,
) -> LivePoints:
    """The state of every point, the path that feeds it and what would clear it. Unknown is never safe."""
    return desk_of(request).live_points(
        model,
        serial,
        opened=split(opened),
        off=split(off),
        released=split(released),
        at=split(at),
        assume=split(assume),
        worst=worst,
    )


@router.get("/models/{model}/pocket", tags=["energy"], summary="What to take along where there is no signal")
def pocket(request: Request, model: str, serial: Serial = None) -> Pocket:
    """Every target and part that can be asked about, the supply as rows, and the circuit from which a client can
    compute the live points for any devices open and any capacitors released."""
    return desk_of(request).pocket(model, serial)


@router.get(
    "/models/{model}/supply-picture",
    tags=["energy"],
    summary="The supply as a single-line drawing",
    response_class=Response,
    responses={200: {"content": {"image/svg+xml": {"schema": {"type": "string"}}}}},
)
def supply_picture(
    request: Request,
    model: str,
    opened: Annotated[Names, Query(description="Device that is open. Repeats.")] = [],
    off: Annotated[Names, Query(description="Component that is off, or the removal that took it off. Repeats.")] = [],
    released: Annotated[Names, Query(description="Capacitor discharged and proved dead. Repeats.")] = [],
    at: Annotated[
        Names, Query(description="Point or component to draw, with what leads there; all where none is given.")
    ] = [],
    columns: Annotated[
        int, Query(ge=1, le=MOST_COLUMNS, description="Columns side by side: 1 for a phone, 2 or 3 for paper.")
    ] = 1,
    serial: Serial = None,
) -> Response:
    """From the sources by the plug and the controls to the loads: what is open, and what is live, off but not isolated,
    isolated or unknown, each by word, line and colour. SVG with its text."""
    drawn = desk_of(request).supply(
        model, serial, opened=split(opened), off=split(off), released=split(released), at=split(at)
    )
    response = Response(picture(drawn, columns=columns), media_type="image/svg+xml")
    response.headers["content-security-policy"] = content_security_policy(picture_style())
    response.headers["x-content-type-options"] = "nosniff"
    return response


@router.get("/models/{model}/isolation", tags=["energy"], summary="How to make points safe to touch")
def isolation(
    request: Request,
    model: str,
    touch: Annotated[Names, Query(description="Point or component to be touched. Repeats.")] = [],
    serial: Serial = None,
) -> IsolationAnswer:
    """Every smallest isolation set by energy, in an order that can be carried out, what to release, and where to prove
    dead."""
    return desk_of(request).isolation(model, serial, touch=split(touch))


@router.get("/models/{model}/make-safe", tags=["energy"], summary="Making safe for a plan, and restoring")
def make_safe(request: Request, response: Response, model: str, asked: Asked) -> Procedure:
    """The plan told as the procedure it has to follow, in the order of 29 CFR 1910.147(d), (e) and (f)."""
    found = desk_of(request).make_safe(model, asked)
    keep_if(found.settled, response)
    return found


@router.get("/models/{model}/reading", tags=["energy"], summary="What a meter should read")
def reading(
    request: Request,
    model: str,
    between: Annotated[Names, Query(description="Point a probe goes to: give two, the red one first.")] = [],
    quantity: Annotated[
        Literal["voltage", "ac-voltage", "dc-voltage", "resistance"], Query(description="What is measured.")
    ] = "voltage",
    opened: Annotated[Names, Query(description="Device that is open. Repeats.")] = [],
    actuated: Annotated[
        Names, Query(description="Device whose changeover contact is thrown over: door shut, motor at speed. Repeats.")
    ] = [],
    off: Annotated[Names, Query(description="Component that is off, or the removal that took it off. Repeats.")] = [],
    released: Annotated[Names, Query(description="Capacitor discharged and proved dead. Repeats.")] = [],
    assume: Assume = [],
    celsius: Annotated[
        float | None, Query(ge=-60, le=300, description="Temperature of the parts in degrees Celsius; 20 if not given.")
    ] = None,
    measured: Annotated[
        str | None, Query(max_length=40, description="What the meter shows, such as 230, 12.4 kohm or OL.")
    ] = None,
    serial: Serial = None,
) -> ReadingAnswer:
    """The expected value with the band of its tolerances, what could mislead, and which faults a measured value
    supports or rules out. What depends on something unknown is unknown."""
    asked = ReadingRequest(
        between=tuple(split(between)),
        quantity=quantity,
        opened=tuple(split(opened)),
        actuated=tuple(split(actuated)),
        off=tuple(split(off)),
        released=tuple(split(released)),
        assume=tuple(split(assume)),
        celsius=celsius,
        measured=measured,
        serial=serial,
    )
    return desk_of(request).reading(model, asked)


@router.get("/models/{model}/energies", tags=["energy"], summary="Every energy of a machine")
def energies(
    request: Request,
    model: str,
    ambient: Annotated[
        float | None, Query(ge=-20, le=45, description="Temperature of the room in degrees Celsius; 30 if not given.")
    ] = None,
    serial: Serial = None,
) -> Energies:
    """Worst kind first: how much, what isolates or releases it, how long to wait, how to verify, and who alone may."""
    return desk_of(request).energies(model, serial, ambient)


@router.get("/models/{model}/components/{component}/curve", tags=["energy"], summary="Resistance over temperature")
def curve(
    request: Request,
    model: str,
    component: str,
    celsius: Annotated[float | None, Query(ge=-273.15, le=2000, description="Temperature in degrees Celsius.")] = None,
    ohms: Annotated[float | None, Query(gt=0, le=1e12, description="Resistance in ohms.")] = None,
    serial: Serial = None,
) -> ComponentCurves:
    """A table, the resistance at a temperature, or the temperature at a resistance, with the part's tolerance."""
    return desk_of(request).curves(model, component, serial, celsius, ohms)


@router.get("/refrigerants/{refrigerant}/saturation", tags=["energy"], summary="Pressure of a refrigerant")
def refrigerant_saturation(
    refrigerant: str,
    celsius: Annotated[float | None, Query(description="Temperature in degrees Celsius, from -45 to 75.")] = None,
    kilopascals_gauge: Annotated[float | None, Query(description="Gauge pressure in kilopascals.")] = None,
    kilopascals_absolute: Annotated[float | None, Query(gt=0, description="Absolute pressure in kilopascals.")] = None,
    ambient: Annotated[float, Query(ge=50, le=110, description="Pressure of the air in kilopascals.")] = 101.325,
) -> Saturation:
    """Pressure at a temperature or temperature at a pressure, where liquid and vapour are together."""
    return saturation_answer(
        refrigerant,
        celsius=celsius,
        gauge=kilopascals_gauge,
        absolute=kilopascals_absolute,
        ambient=ambient,
    )


@router.get("/models/{model}/socket-check", tags=["energy"], summary="Is the socket in order")
def socket_check(
    request: Request,
    model: str,
    measured: Annotated[
        Names, Query(description="Volts between two conductors, as pair:volts, such as line-neutral:229. Repeats.")
    ] = [],
    supply: Annotated[str | None, Query(max_length=100, description="Which supply, where there are several.")] = None,
    serial: Serial = None,
) -> SocketCheck:
    """What a sound supply shows between each pair of conductors, what each fault of it shows, and which of them fit."""
    return desk_of(request).socket_check(model, serial, supply, split(measured))
