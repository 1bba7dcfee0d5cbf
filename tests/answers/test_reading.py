"""Readings on the machines of the demo, each with the calculation by hand beside it."""

from __future__ import annotations

import pytest

from firstoff.answers.desk import Desk
from firstoff.answers.reading import ReadingRequest

DRYER, FRIDGE = ("tgd27-460-s", None), ("flb-316-k", "1")
OVEN, HOB = ("tem34-210-c", "1"), ("qmh60-420-n", "24200000")
CHARGES = ("bus-capacitor", "main-bulk-capacitor", "x-capacitor")
DRYER_DEAD = {"quantity": "resistance", "opened": ("supply-plug",), "released": ("bus-capacitor", "filter-capacitor")}
SHUT = {"opened": ("monitor-interlock",)}
DEAD = {"quantity": "resistance", "released": ("x-capacitor", "y-capacitor-l", "y-capacitor-n", "hv-cap")}
AT_REST = ("supply-plug", "monitor-interlock", "microwave-relay", "heat-relay", "fan-relay", "lamp-relay")
AT_SPEED = {"actuated": ("centrifugal-contacts",)}

#: machine, probes, how it stands, and lowest, nominal and highest value
TABLE = [
    # two lines of 120 V in opposite phase: 120 + 120; the supply within 10 %
    (DRYER, "socket-l1 socket-l2", {}, (216.0, 240.0, 264.0)),
    (DRYER, "tb-l1 tb-n", {}, (108.0, 120.0, 132.0)),
    # earthed neutral: a line stands at its own 120 V to the cabinet
    (DRYER, "tb-l2 cabinet-earth", {}, (108.0, 120.0, 132.0)),
    # every contact in series with the heater made: both lines across it
    (DRYER, "heater-1 heater-2", AT_SPEED, (216.0, 240.0, 264.0)),
    # a blown cut-off takes the whole voltage: no current, no drop on the heater
    (DRYER, "cutoff-1 cutoff-2", {**AT_SPEED, "assume": ("open:cut-off-element",)}, (216.0, 240.0, 264.0)),
    (DRYER, "heater-1 heater-2", {**AT_SPEED, "assume": ("open:cut-off-element",)}, (0.0, 0.0, 0.0)),
    # 10.67 ohm, 6 % either way, with the motor at rest: its heater contact is open and nothing lies beside it
    (DRYER, "heater-1 heater-2", {"quantity": "resistance", "opened": ("supply-plug",)}, (10.03, 10.67, 11.31)),
    # 120 V x 1.414, as declared: behind a rectifier
    (DRYER, "board-dc-plus board-dc-minus", {"quantity": "dc-voltage"}, (153.0, 170.0, 187.0)),
    (DRYER, "board-lv-plus board-lv-return", {"quantity": "dc-voltage"}, (12.0, 12.0, 12.0)),
    (FRIDGE, "socket-l socket-n", {}, (207.0, 230.0, 253.0)),
    (FRIDGE, "inlet-l inlet-n", {}, (207.0, 230.0, 253.0)),
    # 230 V x 1.414, as declared: behind a rectifier
    (FRIDGE, "main-bulk-plus main-bulk-minus", {"quantity": "dc-voltage"}, (292.5, 325.0, 357.5)),
    (FRIDGE, "main-12v main-0v", {"quantity": "dc-voltage"}, (12.0, 12.0, 12.0)),
    # 331 ohm, 7 % either way: both poles of the relay are open, nothing lies beside the heater
    (
        FRIDGE,
        "heater-1 heater-2",
        {"quantity": "resistance", "opened": ("plug", "defrost-relay")},
        (307.8, 331.0, 354.2),
    ),
    # neutral of an unpolarised plug: where earth stands against it is not known
    (FRIDGE, "socket-l socket-pe", {}, None),
    # every contact in series with the heater made: what the socket gives
    (FRIDGE, "heater-1 heater-2", {}, (207.0, 230.0, 253.0)),
    # 43.8 kilohm at -18 degrees Celsius by the curve, 3 % either way, with its connector pulled
    (
        FRIDGE,
        "freezer-sensor-1 cover-common",
        {"quantity": "resistance", "opened": ("plug",), "released": CHARGES, "off": ("main-board",), "celsius": -18.0},
        (42_490.0, 43_800.0, 45_110.0),
    ),
    # the lamp of the dryer: 120^2 / 10 = 1,440 ohm at work, a twelfth of that cold, with the door throw open
    (
        DRYER,
        "lamp-1 lamp-2",
        {**DRYER_DEAD, "actuated": ("door-interlock",)},
        (106.7, 120.0, 133.3),
    ),
    # --- the oven: 230 V on an unpolarised plug, door shut, so that the monitor contact is open
    (OVEN, "socket-l socket-n", SHUT, (207.0, 230.0, 253.0)),
    (OVEN, "filter-out-l filter-out-n", SHUT, (207.0, 230.0, 253.0)),
    (OVEN, "conv-1 conv-2", SHUT, (207.0, 230.0, 253.0)),
    # the changeover relay at rest: the grill has nothing, thrown over it has all
    (OVEN, "grill-1 grill-2", SHUT, (0.0, 0.0, 0.0)),
    (OVEN, "grill-1 grill-2", {**SHUT, "actuated": ("heat-selector",)}, (207.0, 230.0, 253.0)),
    (OVEN, "t1-1 t1-2", SHUT, (207.0, 230.0, 253.0)),
    # 2,100 V follow the primary: 2,100 x 0.9 and 1.1 (computed; it is never measured in service)
    (OVEN, "hv-line hv-earth", {**SHUT, "quantity": "ac-voltage"}, (1890.0, 2100.0, 2310.0)),
    # a blown fuse takes the whole voltage
    (OVEN, "filter-in-l filter-fused", {**SHUT, "assume": ("open:fuse-link",)}, (207.0, 230.0, 253.0)),
    # cold: 1.6 ohm, 10 %; 230^2 / 1,500 = 35.3 ohm, 6 %; 85 ohm to the core, 10 %
    (OVEN, "t1-1 t1-2", {**DEAD, "opened": ("supply-plug", "monitor-interlock", "microwave-relay")}, (1.44, 1.6, 1.76)),
    (OVEN, "conv-1 conv-2", {**DEAD, "opened": ("supply-plug", "heat-relay")}, (33.18, 35.3, 37.42)),
    (OVEN, "grill-1 grill-2", {**DEAD, "opened": ("supply-plug", "heat-relay")}, (45.21, 48.1, 50.99)),
    (OVEN, "hv-line chassis-pe", {**DEAD, "opened": ("supply-plug",)}, (76.5, 85.0, 93.5)),
    # behind a welded primary the closed monitor contact shorts the supply: nothing is read, the fuse opens
    (OVEN, "t1-1 t1-2", {"assume": ("welded:primary-interlock",)}, None),
    # pin to pin of the plug, door shut, relays at rest: T2 of 1,400 ohm beside the 680 kilohm of the bleed
    (OVEN, "plug-l plug-n", {**DEAD, "opened": AT_REST}, (1257.5, 1397.2, 1536.8)),
    # --- the hob: two lines of a 230/400 V system, 230 V sqrt 3 = 398.4 V between them
    (HOB, "tb-l1 tb-l2", {}, (358.5, 398.4, 438.2)),
    (HOB, "tb-l1 tb-n1", {}, (207.0, 230.0, 253.0)),
    (HOB, "tb-l2 tb-n2", {}, (207.0, 230.0, 253.0)),
    (HOB, "tb-l1 tb-pe", {}, (207.0, 230.0, 253.0)),
    (HOB, "tb-n1 tb-pe", {}, (0.0, 0.0, 0.0)),
    # both boards hang on their own line
    (HOB, "pa-l pa-n", {}, (207.0, 230.0, 253.0)),
    (HOB, "pb-l pb-n", {}, (207.0, 230.0, 253.0)),
    # rectified, as told
    (HOB, "pa-dc-plus pa-dc-minus", {"quantity": "dc-voltage"}, (292.5, 325.0, 357.5)),
    # a blown line fuse: what hangs behind it is a rectifier, which draws what nobody knows
    (HOB, "fb-l1 fb-l1f", {"assume": ("open:fuse-link-1",)}, None),
    # the neutral broken upstream: what the two boards make of it nobody knows
    (HOB, "tb-l1 tb-n1", {"assume": ("open-neutral",)}, None),
    # line 1 and neutral exchanged: 400 V on the board of line 2
    (HOB, "pb-l pb-n", {"assume": ("swapped:feed-l1",)}, (358.5, 398.4, 438.2)),
    # with the relay made the rectifier lies in parallel with the heater
    (FRIDGE, "heater-1 heater-2", {"quantity": "resistance", "opened": ("plug",)}, None),
]


@pytest.mark.parametrize(("machine", "probes", "stands", "by_hand"), TABLE)
def test_readings_by_hand(
    desk: Desk,
    machine: tuple[str, str | None],
    probes: str,
    stands: dict[str, object],
    by_hand: tuple[float, float, float] | None,
) -> None:
    model, serial = machine
    asked = ReadingRequest(between=tuple(probes.split()), serial=serial, **stands)  # type: ignore[arg-type]
    found = desk.reading(model, asked).expected
    if by_hand is None:
        assert found.nominal is None
        assert found.depends_on
    else:
        assert (found.low, found.nominal, found.high) == pytest.approx(by_hand, rel=1e-3, abs=1e-3)
