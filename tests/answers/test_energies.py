"""Energies, curves and saturation pressures as they are asked for."""

from __future__ import annotations

import pytest
from fastapi.testclient import TestClient

from firstoff.answers.desk import Desk
from firstoff.answers.energies import saturation_answer
from firstoff.errors import BadRequest, NotFound


def test_an_oven_names_its_high_voltage(desk: Desk) -> None:
    found = desk.energies("tem34-210-c", "1")
    kinds = [each.energy for each in found.energies]
    assert kinds.index("high-voltage") < kinds.index("heat")
    charge = next(each for each in found.energies if each.energy == "stored-charge" and (each.volts or 0) > 1000)
    assert "rated for" in charge.verify


def test_a_warmer_room_takes_longer_and_presses_harder(desk: Desk) -> None:
    cool, warm = (desk.energies("flb-316-k", "1", ambient) for ambient in (10.0, 40.0))
    for one, other in zip(cool.energies, warm.energies, strict=True):
        if one.energy == "refrigerant":
            assert (one.kilopascals_gauge or 0) < (other.kilopascals_gauge or 0)
        if one.energy == "heat" and one.minutes is not None and other.minutes is not None:
            assert one.minutes <= other.minutes


def test_curve_as_table_at_a_temperature_and_back(desk: Desk) -> None:
    table = desk.curves("tgd27-460-s", "cycling-thermistor", None).curves[0]
    assert len(table.table) == 13
    assert [row.ohms for row in table.table] == sorted((row.ohms for row in table.table), reverse=True)
    (at,) = desk.curves("tgd27-460-s", "cycling-thermistor", None, celsius=25.0).curves[0].table
    assert (at.ohms, at.ohms_low, at.ohms_high) == (10_000.0, 9_500.0, 10_500.0)
    back = desk.curves("tgd27-460-s", "cycling-thermistor", None, ohms=10_000.0).curves[0]
    assert back.celsius == 25.0
    assert back.celsius_low is not None
    assert back.celsius_high is not None
    assert back.celsius_low < 25.0 < back.celsius_high


@pytest.mark.parametrize(
    ("component", "celsius", "ohms", "says"),
    [
        ("drum-belt", None, None, "follows a curve"),
        ("cycling-thermistor", 20.0, 5.0, "Both a temperature and a resistance"),
        ("cycling-thermistor", 400.0, None, "must be"),
        ("cycling-thermistor", None, 1.0, "outside"),
    ],
)
def test_curves_that_cannot_be_had(
    desk: Desk, component: str, celsius: float | None, ohms: float | None, says: str
) -> None:
    with pytest.raises(BadRequest, match=says):
        desk.curves("tgd27-460-s", component, None, celsius, ohms)


def test_saturation_there_and_back() -> None:
    at = saturation_answer("R600a", celsius=-20.0)
    assert at.kilopascals_absolute == pytest.approx(72.477, abs=0.01)
    assert at.kilopascals_gauge == pytest.approx(72.477 - 101.325, abs=0.01)
    assert at.flammable
    back = saturation_answer("r-600a", gauge=at.kilopascals_gauge)
    assert back.celsius == pytest.approx(-20.0, abs=0.02)
    high_up = saturation_answer("R600a", gauge=at.kilopascals_gauge, ambient=80.0)
    assert high_up.celsius < -20.0


def test_saturation_that_cannot_be_had() -> None:
    with pytest.raises(NotFound, match="r600a"):
        saturation_answer("R600b", celsius=0.0)
    with pytest.raises(BadRequest, match="needs one value"):
        saturation_answer("R290")
    with pytest.raises(BadRequest, match="needs one value"):
        saturation_answer("R290", celsius=0.0, gauge=100.0)
    with pytest.raises(BadRequest, match="outside"):
        saturation_answer("R290", celsius=200.0)


@pytest.mark.parametrize(
    ("address", "status"),
    [
        ("/v1/models/qmh60-420-n/energies?ambient=25&serial=24200000", 200),
        ("/v1/models/tgd27-460-s/components/cycling-thermistor/curve?celsius=60", 200),
        ("/v1/refrigerants/r290/saturation?kilopascals_absolute=500", 200),
        ("/v1/models/tgd27-460-s/energies?ambient=900", 422),
        ("/v1/refrigerants/r290/saturation?kilopascals=500", 422),
        ("/v1/refrigerants/water/saturation?celsius=5", 404),
    ],
)
def test_addresses(client: TestClient, address: str, status: int) -> None:
    assert client.get(address).status_code == status
