"""An invented dishwasher whose states get in each other's way, small enough to check by hand.

States are ``<variable>=<value>``: supply (1 isolated), water (1 shut off), posture (1 on its back), door (1 open).
"""

from __future__ import annotations

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from support.instances import access, appliance, component, preparation, removal

ISOLATED, SHUT, ON_BACK, OPEN = "supply=1", "water=1", "posture=1", "door=1"
PARTS = {
    "kickplate": "base", "hose": "base", "tray": "base", "pump": "base", "sump": "base", "motor": "base",
    "panel": "door", "board": "door", "latch": "door", "guard": "door",
    "sensor": "base", "side": "cabinet", "top": "cabinet", "capacitor": "cabinet",
}  # fmt: skip


def dishwasher() -> Appliance:
    """The dishwasher. Putting it on its back needs the inlet hose off, supply and water off and the door shut."""
    removals = [
        removal("kickplate", 1, 1, states=[ISOLATED]),
        removal("hose", 2, 3, states=[ISOLATED, SHUT], off=["kickplate"]),
        removal("tray", 3, 3, states=[ISOLATED, ON_BACK], off=["kickplate"]),
        removal("pump", 4, 4, states=[ISOLATED, ON_BACK], off=["tray"]),
        removal("sump", 4, 4, states=[ISOLATED, ON_BACK], off=["tray", "pump"]),
        removal("motor", 5, 5, states=[ISOLATED, ON_BACK], off=["sump"]),
        removal("motor", 9, 5, states=[ISOLATED], off=["side"], way=1),
        removal("panel", 2, 2, states=[ISOLATED, OPEN]),
        removal("board", 2, 2, states=[ISOLATED, OPEN], off=["panel"]),
        removal("latch", 2, 2, states=[ISOLATED, OPEN], off=["panel"]),
        removal("guard", 1, 1, states=[ISOLATED, OPEN], off=["panel"]),
        removal("sensor", 2, 2, states=[ISOLATED, ON_BACK], off=["tray", "guard"]),
        removal("side", 3, 3, states=[ISOLATED], off=["top"]),
        removal("top", 2, 2, states=[ISOLATED]),
        removal("capacitor", 1, 1, states=[ISOLATED], off=["side"]),
        removal("capacitor", 2, 2, states=[ISOLATED, ON_BACK], off=["tray"], way=1),
    ]
    paths = [
        access("board", Purpose.TEST, 3, off=["panel"], fitted=["guard"], states=["supply=0", OPEN]),
        access("pump", Purpose.TEST, 3, off=["tray"], states=[ISOLATED, ON_BACK]),
        access("motor", Purpose.TEST, 3, off=["tray"], states=["supply=0", ON_BACK]),
        access("latch", Purpose.INSPECT, 1, states=[OPEN]),
    ]
    preparations = [
        preparation(ISOLATED, "supply=0", 1, 1),
        preparation(SHUT, "water=0", 1, 1),
        preparation(OPEN, "door=0", 0.25, 0.25),
        preparation(ON_BACK, "posture=0", 5, 5, off=["hose"], states=[ISOLATED, SHUT, "door=0"]),
    ]
    variables = {"supply": 2, "water": 2, "posture": 2, "door": 2}
    return appliance(
        [component(slug, zone=zone) for slug, zone in PARTS.items()], removals, paths, variables, preparations
    )
