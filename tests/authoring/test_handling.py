from __future__ import annotations

import pytest

from firstoff.authoring import handling
from firstoff.authoring.ontology import Ontology
from support.drafts import told
from support.small_platform import TURTLE, changed

Told = list[tuple[str, str | None]]
SCREWS = " ; fo:tool tool:driver-hexalobular-t20"
LEVER = "    fo:tool tool:plastic-lever ; "


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        # the removal's own tool is taken to be for it
        (changed(SCREWS, ""), []),
        (changed(SCREWS, "").replace(LEVER, "    "), [("fastening-without-tool", "cover-off")]),
        # fingers undo a clamp by hand and squeeze a tab
        (changed(SCREWS, "").replace(LEVER, "    ").replace("drive:hexalobular-t20", "drive:squeeze"), []),
        # nobody turns a screw by hand, whether its drive is told or not
        (changed(SCREWS, "").replace(LEVER, "    ").replace("fo:drive drive:hexalobular-t20 ; ", ""),
         [("fastening-without-tool", "cover-off")]),
        # another kind without a drive lifts, slides or pulls
        (changed(SCREWS, "").replace(LEVER, "    ").replace("fo:drive drive:hexalobular-t20 ; ", "")
         .replace("fastening:screw", "fastening:tab"), []),
    ],
    ids=["passes", "tool of the removal", "none", "squeezed", "no drive", "tab"],
)  # fmt: skip
def test_fastenings_have_tools(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(handling.fastenings_have_tools, turtle, ontology) == expected


def customer_way(more: str) -> str:
    return changed("fo:minutes 0.1 ;", f"fo:minutes 0.1 ; {more} ;", start="p:see-box")


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (customer_way("fo:tool tool:torch"), []),
        (customer_way("fo:needsOff p:tray"), []),
        (customer_way("fo:tool tool:multimeter"), [("customer-way-takes-tools", "see-box")]),
        (customer_way("fo:bares p:lamp-line"), [("customer-way-takes-tools", "see-box")]),
        (customer_way("fo:needsOff p:cover"), [("customer-way-takes-tools", "see-box")]),
        (customer_way("fo:tool tool:multimeter").replace("audience:customer", "audience:technician"), []),
    ],
    ids=["passes", "torch", "tray by hand", "multimeter", "bares", "cover with screws", "technician"],
)
def test_customer_ways(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(handling.customer_ways, turtle, ontology) == expected
