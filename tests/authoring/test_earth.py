from __future__ import annotations

import pytest

from firstoff.authoring import earth
from firstoff.authoring.ontology import Ontology
from support.drafts import problems, told
from support.small_platform import TURTLE, changed, with_more

Told = list[tuple[str, str | None]]

#: The tray is of metal and bonded to the chassis by a wire of the box.
METAL_TRAY = """
p:tray-metal a fo:Point ; rdfs:label "tray metal"@en ; fo:onComponent p:tray .
p:tray-bond a fo:Link ; rdfs:label "earth wire of the tray"@en ; fo:onComponent p:box ; fo:linkKind link:earth-bond ;
    fo:from p:chassis ; fo:to p:tray-metal .
"""


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (changed(" ; fo:opens p:cord-earth", ""), [("earth-wire-opens-no-bond", "cord-off")]),
        # a link that is no earth bond does not do
        (changed("fo:opens p:cord-earth", "fo:opens p:pin-line"), [("earth-wire-opens-no-bond", "cord-off")]),
        # named by the removal instead of the connection
        (changed(" ; fo:opens p:cord-earth", "").replace(
            "fo:removes p:cord ;", "fo:removes p:cord ; fo:opens p:cord-earth ;"), []),
    ],
    ids=["passes", "none", "another link", "by the removal"],
)  # fmt: skip
def test_earth_wires_named(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(earth.earth_wires_named, turtle, ontology) == expected


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (with_more(METAL_TRAY), [("removed-part-stays-bonded", "tray-off")]),
        (with_more(METAL_TRAY).replace("fo:removes p:tray ;", "fo:removes p:tray ; fo:opens p:tray-bond ;"), []),
        # the bond goes with the tray itself, or with a part that is off before it
        (with_more(METAL_TRAY.replace("fo:onComponent p:box", "fo:onComponent p:tray")), []),
        (with_more(METAL_TRAY.replace("fo:onComponent p:box", "fo:onComponent p:lamp-glass")).replace(
            "fo:removes p:tray ;", "fo:removes p:tray ; fo:needsOff p:lamp-glass ;"), []),
        # no way to protective earth, no bond
        (with_more(METAL_TRAY.replace("fo:from p:chassis", "fo:from p:spare")), []),
    ],
    ids=["passes", "not named", "named", "goes with it", "went before", "no earth"],
)  # fmt: skip
def test_removed_parts_unbonded(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(earth.removed_parts_unbonded, turtle, ontology) == expected


def test_bond_and_point_are_named(ontology: Ontology) -> None:
    (problem,) = problems(earth.removed_parts_unbonded, with_more(METAL_TRAY), ontology)
    assert "tray metal on it would still count as earthed by way of earth wire of the tray" in problem.message
