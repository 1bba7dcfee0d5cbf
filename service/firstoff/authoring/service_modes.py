"""Service modes that cannot be followed as they are written, or that switch something on without a word of it."""

from __future__ import annotations

from collections.abc import Iterator

from firstoff.appliance.model import Appliance, ServiceMode
from firstoff.authoring.draft import Draft
from firstoff.authoring.findings import Problem, error, warning


def steps_in_order(draft: Draft) -> Iterator[Problem]:
    """The steps of a service mode count from 1 without a gap, begin by entering it and end by leaving it."""
    for mode in _stepped(draft):
        orders = [step.order for step in mode.steps]
        if orders != list(range(1, len(orders) + 1)):
            told = ", ".join(map(str, orders))
            yield error(
                "service-steps-count",
                mode.id,
                f"The steps are numbered {told}, so nobody can tell which comes next.",
                "Number them 1, 2, 3 and so on with fo:order, each once.",
            )
        if mode.steps[0].stage != "enter" or mode.steps[-1].stage != "leave":
            yield error(
                "service-steps-ends",
                mode.id,
                "The first step does not enter the mode, or the last does not leave it.",
                'Begin with fo:stage "enter" and end with fo:stage "leave", so that the machine is not left in it.',
            )


def power_is_told(draft: Draft) -> Iterator[Problem]:
    """A service mode says whether the supply is on, and it is on where something runs."""
    for mode in _stepped(draft):
        assert draft.whole is not None
        if not _supply_told(draft.whole, mode):
            yield error(
                "service-mode-supply",
                mode.id,
                "It does not say whether the electricity supply is on.",
                "Write fo:needsState with a state of the supply, such as p:supply-on.",
            )
        elif any(step.runs or step.closes for step in mode.steps) and not draft.whole.energised(mode.needs_states):
            yield error(
                "service-mode-supply",
                mode.id,
                "A step switches something on, and the supply is off.",
                "Write fo:needsState with the state in which the supply is on.",
            )


def switched_by_controls(draft: Draft) -> Iterator[Problem]:
    """A step of a service mode works control devices; nobody isolates or restores in passing."""
    for mode in _stepped(draft):
        assert draft.whole is not None
        devices = draft.whole.circuit.devices
        for slug in sorted({slug for step in mode.steps for slug in step.closes}):
            if slug in devices and devices[slug].isolating:
                yield error(
                    "service-step-isolating-device",
                    mode.id,
                    f"A step closes {draft.label(slug)}, which is an isolating device.",
                    "Under fo:closes name relays and other control devices; the supply stands under fo:needsState.",
                )


def running_has_a_caution(draft: Draft) -> Iterator[Problem]:
    """What a service mode switches on is hot, turns, sprays or is live: a caution goes with it."""
    for mode in _stepped(draft):
        assert draft.whole is not None
        warned = any(mode.id in caution.applies_to for caution in draft.whole.cautions)
        if any(step.runs for step in mode.steps) and not warned:
            yield warning(
                "service-mode-without-caution",
                mode.id,
                "It switches something on, and no caution applies to it.",
                "Describe a fo:Caution with fo:appliesTo and this mode.",
            )


def _stepped(draft: Draft) -> list[ServiceMode]:
    return [mode for mode in draft.whole.service_modes.values() if mode.steps] if draft.whole else []


def _supply_told(appliance: Appliance, mode: ServiceMode) -> bool:
    states = (appliance.states[slug] for slug in mode.needs_states if slug in appliance.states)
    return any(appliance.variables[state.variable].is_mains for state in states)
