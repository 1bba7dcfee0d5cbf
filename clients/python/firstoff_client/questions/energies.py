"""Questions of energy: what is live, how to make it safe, what a meter should read."""

from __future__ import annotations

from typing import Literal

from ..asking import Names, Question, model_form, model_path, path, query, text_form
from ..contract.energies import ComponentCurves, Energies, Saturation
from ..contract.energy import IsolationAnswer, LivePoints
from ..contract.pocket import Pocket
from ..contract.procedure import Procedure
from ..contract.reading import ReadingAnswer
from ..contract.socket import SocketCheck
from .planning import of_a_plan

make_safe = of_a_plan(
    "make_safe",
    "/v1/models/{}/make-safe",
    model_form(Procedure),
    "Making safe for a plan, and restoring, in the order of 29 CFR 1910.147(d), (e) and (f).",
)


def live_points(
    model: str,
    *,
    opened: Names = (),
    off: Names = (),
    released: Names = (),
    at: Names = (),
    assume: Names = (),
    worst: bool = False,
    serial: str | None = None,
) -> Question[LivePoints]:
    """What is still live: the state of every point, the path that feeds it, what would clear it. Unknown is never safe.

    ``opened`` are devices that are open, ``released`` capacitors discharged and proved dead, ``at`` the points or
    components to show (all where none is given), ``assume`` faults taken to be there as ``kind:name``; ``worst`` asks
    for the worst state of each point over no fault and every single one.
    """
    asked = query(opened=opened, off=off, released=released, at=at, assume=assume, worst=worst, serial=serial)
    return Question(model_path("/v1/models/{}/live-points", model), model_form(LivePoints), query=asked)


def pocket(model: str, *, serial: str | None = None) -> Question[Pocket]:
    """A machine to take along where there is no signal: what can be asked of it, and what its live points are computed
    from."""
    return Question(model_path("/v1/models/{}/pocket", model), model_form(Pocket), query=query(serial=serial))


def supply_picture(
    model: str,
    *,
    opened: Names = (),
    off: Names = (),
    released: Names = (),
    at: Names = (),
    columns: int | None = None,
    serial: str | None = None,
) -> Question[str]:
    """The supply as a single-line drawing, in SVG: what is open, what is live, in ``columns`` side by side."""
    asked = query(opened=opened, off=off, released=released, at=at, columns=columns, serial=serial)
    return Question(model_path("/v1/models/{}/supply-picture", model), text_form("image/svg+xml"), query=asked)


def isolation(model: str, touch: Names, *, serial: str | None = None) -> Question[IsolationAnswer]:
    """How to make points or components safe to touch: every smallest isolation set, what to release, where to prove
    dead."""
    asked = query(touch=touch, serial=serial)
    return Question(model_path("/v1/models/{}/isolation", model), model_form(IsolationAnswer), query=asked)


def reading(
    model: str,
    between: Names,
    *,
    quantity: Literal["voltage", "ac-voltage", "dc-voltage", "resistance"] | None = None,
    opened: Names = (),
    actuated: Names = (),
    off: Names = (),
    released: Names = (),
    assume: Names = (),
    celsius: float | None = None,
    measured: str | None = None,
    serial: str | None = None,
) -> Question[ReadingAnswer]:
    """What a meter between two points should read, and what a value that was ``measured`` says.

    ``between`` are the two points, the red probe's first; ``measured`` is as the meter shows it, such as ``12.4 kohm``
    or ``OL``; ``celsius`` is the temperature of the parts.
    """
    asked = query(
        between=between,
        quantity=quantity,
        opened=opened,
        actuated=actuated,
        off=off,
        released=released,
        assume=assume,
        celsius=celsius,
        measured=measured,
        serial=serial,
    )
    return Question(model_path("/v1/models/{}/reading", model), model_form(ReadingAnswer), query=asked)


def energies(model: str, *, ambient: float | None = None, serial: str | None = None) -> Question[Energies]:
    """Every energy of a machine, the worst kind first; ``ambient`` is the room's temperature in degrees Celsius."""
    asked = query(ambient=ambient, serial=serial)
    return Question(model_path("/v1/models/{}/energies", model), model_form(Energies), query=asked)


def curve(
    model: str,
    component: str,
    *,
    celsius: float | None = None,
    ohms: float | None = None,
    serial: str | None = None,
) -> Question[ComponentCurves]:
    """Resistance over temperature: a table, the ohms at a temperature, or the temperature at a resistance."""
    address = model_path("/v1/models/{}/components/{}/curve", model, component)
    return Question(address, model_form(ComponentCurves), query=query(celsius=celsius, ohms=ohms, serial=serial))


def saturation(
    refrigerant: str,
    *,
    celsius: float | None = None,
    kilopascals_gauge: float | None = None,
    kilopascals_absolute: float | None = None,
    ambient: float | None = None,
) -> Question[Saturation]:
    """Pressure of a refrigerant at a temperature, or temperature at a pressure, liquid and vapour together.

    ``ambient`` is the pressure of the air in kilopascals.
    """
    asked = query(
        celsius=celsius,
        kilopascals_gauge=kilopascals_gauge,
        kilopascals_absolute=kilopascals_absolute,
        ambient=ambient,
    )
    return Question(path("/v1/refrigerants/{}/saturation", refrigerant), model_form(Saturation), query=asked)


def socket_check(
    model: str, *, measured: Names = (), supply: str | None = None, serial: str | None = None
) -> Question[SocketCheck]:
    """Whether the socket is in order: ``measured`` are volts as ``pair:volts``, such as ``line-neutral:229``."""
    asked = query(measured=measured, supply=supply, serial=serial)
    return Question(model_path("/v1/models/{}/socket-check", model), model_form(SocketCheck), query=asked)
