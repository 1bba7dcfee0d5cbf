"""Service modes as contract answers: the steps, the power they need, and what they make live."""

from __future__ import annotations

from collections.abc import Iterable

from firstoff.answers.names import known
from firstoff.answers.notes import (
    cautions_of,
    component_ref,
    component_refs,
    concept_ref,
    model_ref,
    note,
    source_refs,
    state_refs,
    worst_first,
)
from firstoff.appliance.model import Appliance, ServiceMode, ServiceStep
from firstoff.energy import driven
from firstoff_contract.codes import DrivenPoint, ServiceModeDetail, ServiceModeList, ServiceStepNote, Supply
from firstoff_contract.common import CautionNote, Ref


def service_mode_list(appliance: Appliance, kinds: Iterable[str]) -> ServiceModeList:
    """All service modes, or those for one of ``kinds``.

    :raises NotFound: no mode of the model is for one of the kinds; carries the nearest.
    """
    modes = appliance.service_modes.values()
    wanted = known("kind of service mode", kinds, {kind.id: kind for mode in modes for kind in mode.kinds})
    return ServiceModeList(
        model=model_ref(appliance),
        service_modes=[
            _mode(appliance, mode) for mode in modes if not wanted or any(kind.id in wanted for kind in mode.kinds)
        ],
        revision=appliance.revision,
    )


def _mode(appliance: Appliance, mode: ServiceMode) -> ServiceModeDetail:
    return ServiceModeDetail(
        id=mode.id,
        label=mode.label,
        kinds=[concept_ref(kind) for kind in mode.kinds],
        instruction=mode.instruction,
        cautions=worst_first([*_own_cautions(appliance, mode), *cautions_of(appliance, mode.id)]),
        supply=_supply(appliance, mode),
        needs_states=state_refs(appliance, mode.needs_states),
        needs_fitted=component_refs(appliance, mode.needs_fitted),
        steps=[_step(appliance, mode, step) for step in mode.steps],
        sources=source_refs(mode.sources),
    )


def _supply(appliance: Appliance, mode: ServiceMode) -> Supply:
    mains = [slug for slug in mode.needs_states if appliance.variables[appliance.states[slug].variable].is_mains]
    if not mains:
        return "not-told"
    return "on" if appliance.energised(mode.needs_states) else "off"


def _own_cautions(appliance: Appliance, mode: ServiceMode) -> list[CautionNote]:
    """What follows from the mode itself, whatever its author wrote."""
    if any(step.runs or step.closes for step in mode.steps):
        text = "This mode switches outputs on: parts may turn, heat or let water in, and the points listed are live."
        return [note("service-mode-runs", "DANGER", "electric shock", text, _HANDS_OFF)]
    if _supply(appliance, mode) != "off":
        text = "The machine is connected in this mode, and what stands still may start." if mode.steps else _NOT_TOLD
        return [note("service-mode-powered", "WARNING", "electric shock", text, _HANDS_OFF)]
    return []


_NOT_TOLD = "What this mode switches on is not told: take every point as live and every part as about to start."
_HANDS_OFF = (
    "All covers on and hands out of the machine until it is left again; before anything is touched isolate, release "
    "and prove dead. A test with a cover off is planned as a live test first."
)


def _step(appliance: Appliance, mode: ServiceMode, step: ServiceStep) -> ServiceStepNote:
    devices = appliance.circuit.devices
    live, untold = _live(appliance, mode, step)
    return ServiceStepNote.model_validate(
        {
            "order": step.order,
            "stage": step.stage,
            "text": step.text,
            "shows": step.shows,
            "minutes": step.minutes,
            "runs": component_refs(appliance, step.runs),
            "closes": [Ref(id=each, label=devices[each].label) for each in sorted(step.closes)],
            "live": live,
            "untold": untold,
        }
    )


def _live(appliance: Appliance, mode: ServiceMode, step: ServiceStep) -> tuple[list[DrivenPoint], list[Ref]]:
    if not step.runs and not step.closes:
        return [], []
    opened = {device for slug in mode.needs_states for device in _opened(appliance, slug)}
    found = driven(appliance, opened, step.runs, step.closes)
    points = appliance.circuit.points
    live = [
        DrivenPoint.model_validate(
            {
                "id": state.id,
                "label": points[state.id].label,
                "component": component_ref(appliance, points[state.id].component),
                "state": state.state.value,
                "volts": state.volts,
                "only_so": state.id in found.only_so,
            }
        )
        for state in found.points
    ]
    return live, component_refs(appliance, found.untold)


def _opened(appliance: Appliance, state: str) -> frozenset[str]:
    """The devices open in a state of a supply; those of other states, such as a door's, are not relied on."""
    known_state = appliance.states[state]
    return known_state.devices_open if appliance.variables[known_state.variable].controls else frozenset()
