"""Statements that lack what their class needs, or say little: what is read of them, and what is refused."""

from __future__ import annotations

import pytest

from firstoff.appliance.compile import whole_platform
from firstoff.appliance.statements import Statements
from firstoff.errors import ContentBroken
from support.small_machine import TURTLE, changed, compiled, rows_of

# --- what is told where something is missing or wrong ----------------------------------------------

#: what is written, what stands there instead, a word of the complaint
BROKEN = [
    ("fo:removes p:cover ;", "", "cover-off has no removes"),
    ("fo:removes p:cover ;", "fo:removes p:cover, p:fan ;", "cover-off has more than one removes"),
    ("fo:needsOff p:guard ;", 'fo:needsOff "guard" ;', "needsOff must name a resource"),
    ("fo:minutesOut 2 ; fo:minutesBack 3 ;", "fo:minutesBack 3 ;", "cover-off has no minutesOut"),
    ("fo:minutesOut 2 ; fo:minutesBack 3 ;", 'fo:minutesOut 2 ; fo:minutesBack "three" ;', "no number"),
    ("fo:minutesOut 2 ; fo:minutesBack 3 ;", "fo:minutesOut 2, 4 ; fo:minutesBack 3 ;", "more than one minutesOut"),
    ("fo:persons 2 ; fo:singleUse true ;", "fo:persons 1.5 ; fo:singleUse true ;", "whole number"),
    ("fo:persons 2 ; fo:singleUse true ;", 'fo:singleUse "maybe" ;', "neither true nor false"),
    ("fo:kind component:guard ;", "", "guard has no kind"),
    ("fo:kind component:guard ;", "fo:kind component:guard, component:cover ;", "guard has more than one kind"),
    ("fo:reaches p:buzzer ; fo:purpose purpose:inspect ;", "fo:reaches p:buzzer ;", "hear-buzzer has no purpose"),
    (
        "fo:reaches p:buzzer ; fo:purpose purpose:inspect ;",
        "fo:reaches p:buzzer ; fo:purpose purpose:hear ;",
        "none of",
    ),
    ("fo:linkKind link:capacitor ;", "fo:linkKind link:jar ;", "jar, which is none of"),
    ("fo:linkKind link:winding ;\n    fo:from p:fan-line ;", "fo:linkKind link:winding ;", "fan-winding has no from"),
    ("fo:onComponent p:cord ; fo:deviceKind device:plug ;", "fo:onComponent p:cord ;", "plug has no deviceKind"),
    ("fo:deviceKind device:plug ;", "fo:deviceKind device:plug, device:push-button ;", "more than one deviceKind"),
    ("fo:valueOf p:supply ; fo:initial true", "fo:valueOf p:supply", "exactly one initial state"),
    ("fo:valueOf p:supply ; fo:devicesOpen", "fo:valueOf p:supply ; fo:initial true ; fo:devicesOpen", "exactly one"),
    ("fo:gives p:supply-isolated ;", "fo:gives p:supply-off ;", "supply-off, which is no state"),
    ("p:supply a fo:StateVariable", "p:supply a fo:Zone", "supply, which is no state variable"),
    ("fo:valueOf p:supply ; fo:devicesOpen", "fo:valueOf p:door ; fo:devicesOpen", "door, which is no state variable"),
    ("fo:effect [ a fo:Effect ; fo:symptom symptom:dead ;", "fo:effect [ a fo:Effect ;", "has no symptom"),
    ("fo:examines p:fan ; fo:checkPurpose purpose:test ;", "fo:examines p:fan ;", "fan-ohms has no checkPurpose"),
    ("fo:hazard hazard:sharp-edge ;", "", "sharp-hooks has no hazard"),
    ("fo:order 1 ;", "", "finish-1 has no order"),
    ("fo:order 1 ;", "fo:order 0 ;", "whole number"),
    ('fo:stage "enter" ; ', "", "self-test has a step without"),
    (" ; fo:order 1 ]", " ]", "self-test has a step without"),
    ("fo:applianceKind appliance:cooker-hood ;", "", "brook-fan has no applianceKind"),
    ("p:inside a fo:Zone", "p:inside a fo:Platform", "describes one platform"),
    ("a fo:Platform", "a fo:Zone", "Found: none"),
]


@pytest.mark.parametrize(("old", "new", "told"), BROKEN)
def test_broken(old: str, new: str, told: str) -> None:
    with pytest.raises(ContentBroken) as caught:
        compiled(changed(old, new))
    assert told in caught.value.detail


def test_a_preparation_that_says_its_start_is_taken_at_its_word() -> None:
    whole = compiled(changed("fo:gives p:supply-isolated ;", "fo:gives p:supply-on ; fo:fromState p:supply-isolated ;"))
    assert whole.preparations["isolate"].from_state == "supply-isolated"


def test_a_device_isolates_only_where_its_kind_does() -> None:
    statements = Statements.gather(rows_of(TURTLE), {})
    whole = whole_platform(statements, revision="r", symptoms={}, isolating_kinds=frozenset())
    assert [device.id for device in whole.circuit.devices.values() if device.isolating] == []
    assert [device.id for device in compiled().circuit.devices.values() if device.isolating] == ["plug"]
