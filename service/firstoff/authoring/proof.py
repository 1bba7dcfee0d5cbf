"""Proving safe after work: what the safety record and the checks of a refit need to be of use."""

from __future__ import annotations

from collections.abc import Iterator

from firstoff.authoring.draft import Draft
from firstoff.authoring.findings import Problem, error, warning
from firstoff.handover import facts_of, measurements


def limits_known(draft: Draft) -> Iterator[Problem]:
    """Facts without which a measurement of the safety record has no limit, so that no machine can pass; each once."""
    told: set[str] = set()
    for variant in draft.variants:
        for each in measurements(facts_of(variant.appliance)):
            for fact in each.missing:
                if fact not in told:
                    told.add(fact)
                    yield warning(
                        "limit-not-known",
                        variant.appliance.platform.id,
                        f"The {each.quantity.value} has no limit, since this is not told: {fact}.",
                        "Write it as it stands on the rating plate; without it no machine can be proved safe.",
                    )


def checks_in_time(draft: Draft) -> Iterator[Problem]:
    """A check that the next part hides is made with the supply off."""
    if draft.whole is None:
        return
    for removal in draft.whole.removals.values():
        for check in removal.checks:
            if check.before_cover and check.after_supply:
                yield error(
                    "check-too-late",
                    removal.id,
                    f"{check.text!r} is to be checked before the next part goes on and after the supply is back.",
                    "Leave out fo:beforeCover or fo:afterSupply, or write two checks.",
                )
