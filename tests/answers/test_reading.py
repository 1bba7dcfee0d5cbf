"""Readings on the machines of the demo, each with the calculation by hand beside it."""

from __future__ import annotations

import pytest

from firstoff.answers.desk import Desk
from firstoff.answers.reading import ReadingRequest

DRYER, FRIDGE = ("tgd27-460-s", None), ("flb-316-k", "1")
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
    # behind the filter's windings, beside a rectifier that draws what nobody knows
    (FRIDGE, "heater-1 heater-2", {}, None),
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
