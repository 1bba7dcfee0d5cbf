"""The dishwasher: what its door, float and plug leave live, its water, and that its numbers belong together."""

from __future__ import annotations

import re
from itertools import pairwise
from math import log, sqrt

import pytest
from rdflib import RDF, RDFS, Graph, Literal, Namespace

from firstoff.answers.desk import Desk
from firstoff.answers.reading import ReadingRequest
from firstoff.answers.service_modes import service_mode_list
from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import Appliance
from firstoff.content import data_folder
from firstoff.energy import live_points, situation_of
from firstoff.energy.words import PointCondition
from firstoff_contract.diagnosis import DiagnosisRequest, OutcomeSeen
from firstoff_contract.removal import PlanRequest, RemovalPlan

PLAIN, QUIET = MODELS = ("mdr60-510-f", "mdr60-560-z")
SERIAL, EARLY = "25000000", "24000000"
FILE = "marrowby-rillmere.ttl"
FO = Namespace("https://firstoff.example/ontology#")
HOUSE = {"wall-socket", "stop-tap"}
#: What the board opens when the on key is pressed or a programme ends.
AT_REST = (
    "on-key", "heater-relay", "heater-safety-relay", "pump-relay", "drain-triac", "anti-flood-triac", "inlet-triac",
    "regeneration-triac", "dispenser-triac",
)  # fmt: skip
HEATER_ROW = {"heater-1", "heater-2", "limiter-1", "limiter-2", "fuse-1", "fuse-2"}
#: kJ/(kg K) of water and of stainless steel, from memory.
WATER, STEEL = 4.19, 0.5


@pytest.fixture(params=MODELS)
def dishwasher(request: pytest.FixtureRequest, desk: Desk) -> Appliance:
    return appliance(desk, request.param)


def appliance(desk: Desk, model: str, serial: str = SERIAL) -> Appliance:
    return desk.opened.collection.appliances(model, serial)[0]


def capacitors(machine: Appliance) -> tuple[str, ...]:
    return tuple(slug for slug, link in machine.circuit.links.items() if link.kind is LinkKind.CAPACITOR)


def states(machine: Appliance, *opened: str) -> dict[str, PointCondition]:
    """The state of every point of the machine itself, every capacitor discharged."""
    found = live_points(machine, situation_of(machine, opened, (), capacitors(machine)))
    points = machine.circuit.points
    return {slug: each.state for slug, each in found.items() if points[slug].component not in HOUSE}


def plan(desk: Desk, *reach: str, model: str = PLAIN, **stands: list[str]) -> RemovalPlan:
    return desk.removal_plan(model, PlanRequest(reach=list(reach), serial=SERIAL, **stands))  # type: ignore[arg-type]


def acts(found: RemovalPlan) -> list[str]:
    return [step.way or (step.component.id if step.component else step.action) for step in found.steps]


# --- depth


def test_depth(dishwasher: Appliance) -> None:
    assert len(dishwasher.symptoms) >= 15
    assert len(dishwasher.faults) >= 30
    assert len(dishwasher.checks) >= 30
    assert len(dishwasher.codes) >= 10
    assert {fault.origin.id for fault in dishwasher.faults.values()} == {"component", "installation", "supply", "use"}


def test_every_fault_is_told_by_a_check_and_ended_by_a_remedy(dishwasher: Appliance) -> None:
    told = {fault for check in dishwasher.checks.values() for outcome in check.outcomes for fault in outcome.speaks_for}
    assert set(dishwasher.faults) <= told
    assert all(fault.remedies for fault in dishwasher.faults.values())


def test_codes_are_named_in_three_languages() -> None:
    graph = Graph().parse(data_folder() / FILE)
    codes = list(graph.subjects(RDF.type, FO.DisplayCode))
    assert len(codes) >= 10
    for code in codes:
        said = {label.language for label in graph.objects(code, RDFS.label) if isinstance(label, Literal)}
        assert said == {"en", "es", "de"}, code


# --- numbers


def test_watts_add_up_to_the_rating(desk: Desk) -> None:
    plain = appliance(desk, PLAIN)
    links = plain.circuit.links
    (pump,) = re.findall(r"(\d+) W", links["pump-main-winding"].label)
    whole = (links["heater-element"].rated_watts or 0.0) + float(pump) + 10.0  # board and display, as the file says
    assert plain.construction.rated_input == pytest.approx(whole, rel=0.01)
    assert whole / 230.0 < 10.0  # a cord of 1.0 mm2 and its connector carry 10 A: common practice, no source


def test_heater_takes_its_watts_at_work(dishwasher: Appliance) -> None:
    """P = U^2 / R with R hot; and the check of the cold heater calls that cold value sound."""
    heater = dishwasher.circuit.links["heater-element"]
    cold = heater.ohms or 0.0
    assert 230.0**2 / (cold * (heater.hot_cold_ratio or 0.0)) == pytest.approx(heater.rated_watts, rel=0.005)
    for check in ("check-heater-row", "check-heater"):
        (sound,) = (each for each in dishwasher.checks[check].outcomes if each.healthy)
        assert sound.at_least is not None
        assert sound.at_most is not None
        assert sound.at_least < cold * 0.955 < cold * 1.045 < sound.at_most


def test_rise_of_temperature_follows_from_the_heat_taken_up(dishwasher: Appliance) -> None:
    """Six minutes of 1,800 W into 3 litres, half of tub and door, both baskets: sound begins under half of that."""
    parts = dishwasher.components
    steel = 0.5 * ((parts["tub"].kilograms or 0) + (parts["door"].kilograms or 0))
    steel += (parts["lower-basket"].kilograms or 0) + (parts["upper-basket"].kilograms or 0)
    rise = 1.8 * 360.0 / (3.0 * WATER + steel * STEEL)
    check = dishwasher.checks["check-heat-rise"]
    (said,) = re.findall(r"by (\d+) degrees", check.instruction)
    (sound,) = (each for each in check.outcomes if each.healthy)
    assert sound.at_least is not None
    assert sound.at_least < 0.5 * rise < float(said) < rise
    bad_joint = 230.0**2 / 60.0**2 * 29.4 / 1800.0  # the share of the watts that 60 ohm in the row leave
    assert bad_joint * rise < sound.at_least


def test_plug_is_down_to_a_safe_voltage_within_a_second(dishwasher: Appliance) -> None:
    """t = R C ln(U0 / 42.4 V), all at its worst; IEC 60335-1 22.5 asks for 34 V after a second (from memory)."""
    links = dishwasher.circuit.links
    bleed, capacitor = links["x-bleed"], links["x-capacitor"]
    seconds = (bleed.ohms or 0) * (1 + bleed.ohm_tolerance) * (capacitor.farads or 0) * (1 + capacitor.farad_tolerance)
    assert seconds * log(1.1 * 230.0 * sqrt(2.0) / 34.0) < 1.0


def test_sealed_bus_is_down_within_the_five_minutes_waited(desk: Desk) -> None:
    quiet = appliance(desk, QUIET)
    links = quiet.circuit.links
    bleed, bus = links["ep-bleed"], links["ep-bus-capacitor"]
    seconds = (bleed.ohms or 0) * (1 + bleed.ohm_tolerance) * (bus.farads or 0) * (1 + bus.farad_tolerance)
    assert seconds * log(1.1 * (bus.volts or 0.0) / 42.4) < 300.0
    assert "five minutes" in next(each.text + each.protection for each in quiet.cautions if "325 V" in each.text)


def test_weights_of_the_cautions_are_those_of_the_parts(dishwasher: Appliance) -> None:
    weights = {slug: part.kilograms or 0.0 for slug, part in dishwasher.components.items()}
    baskets = sum(
        weights.get(each, 0.0) for each in ("lower-basket", "upper-basket", "cutlery-basket", "cutlery-drawer")
    )
    (laid,) = re.findall(r"weighs (\d+) kg", " ".join(each.text for each in dishwasher.cautions))
    assert sum(weights.values()) - baskets == pytest.approx(float(laid), abs=0.5)
    (door,) = re.findall(r"its (\d+) kg fall", dishwasher.preparations["open-door"].instruction)
    in_door = sum(weights[slug] for slug, part in dishwasher.components.items() if part.zone.id == "door-zone")
    assert in_door == pytest.approx(float(door), abs=0.5)


def test_readings_of_sound_parts_are_called_sound(dishwasher: Appliance) -> None:
    """Each resistance of a single part lies, with its tolerance, in the band of the healthy outcome of its check."""
    links = {frozenset((link.start, link.end)): link for link in dishwasher.circuit.links.values() if link.ohms}
    seen = 0
    for check in dishwasher.checks.values():
        link = links.get(frozenset(check.between))
        if check.quantity.id != "resistance" or link is None:
            continue
        bands = [(each.at_least or 0.0, each.at_most or float("inf")) for each in check.outcomes if each.healthy]
        ohms, slack = link.ohms or 0.0, link.ohm_tolerance
        assert any(low <= ohms * (1 - slack) * 1.02 and ohms * (1 + slack) * 0.98 <= high for low, high in bands), (
            check.id
        )
        seen += 1
    assert seen >= 5


# --- readings by hand


PULLED = {"opened": ("supply-plug",), "released": ("bus-capacitor", "run-capacitor", "x-capacitor")}
APART = {**PULLED, "off": ("door-harness",)}
RESTING = {**PULLED, "opened": ("supply-plug", "door-interlock", *AT_REST)}


@pytest.mark.parametrize(
    ("probes", "stands", "by_hand"),
    [
        # limiter, heater and thermal fuse in one row at X30: 230^2 / 1,800 / 1.03, 5 % either way
        ("x30-3 x30-4", {**APART, "quantity": "resistance"}, (27.08, 28.5, 29.93)),
        # the same with X30 latched, door open and every relay at rest: nothing beside it
        ("x30-3 x30-4", {**RESTING, "quantity": "resistance"}, (27.08, 28.5, 29.93)),
        # sensor at 20, 25 and 50 degrees Celsius: 12.49, 10.00 and 3.606 kilohm, 3 % either way
        ("x30-12 x30-15", {**APART, "quantity": "resistance", "celsius": 20.0}, (12115.0, 12490.0, 12865.0)),
        ("x30-12 x30-15", {**APART, "quantity": "resistance", "celsius": 25.0}, (9700.0, 10000.0, 10300.0)),
        ("x30-12 x30-15", {**APART, "quantity": "resistance", "celsius": 50.0}, (3498.0, 3606.0, 3714.0)),
        # coil of the regeneration valve and winding of the drain pump, each to the neutral tag of the filter, 8 %
        ("x30-10 filter-out-n", {**APART, "quantity": "resistance"}, (3680.0, 4000.0, 4320.0)),
        ("x30-11 filter-out-n", {**APART, "quantity": "resistance"}, (138.0, 150.0, 162.0)),
        # main winding alone; main and auxiliary in series, 95 + 128; the protector is made when cold
        ("x30-5 filter-out-n", {**APART, "quantity": "resistance"}, (87.4, 95.0, 102.6)),
        ("pump-l pump-aux", {**APART, "quantity": "resistance"}, (205.2, 223.0, 240.8)),
        # pins of the plug with the door harness off: the bleed of 1 megohm alone, 5 %
        ("plug-l plug-n", {**APART, "quantity": "resistance"}, (950e3, 1e6, 1.05e6)),
        # heating: 230 V, 10 % either way, over the row; none while K1 is open
        ("x4-1 x4-2", {"quantity": "ac-voltage"}, (207.0, 230.0, 253.0)),
        ("x4-1 x4-2", {"quantity": "ac-voltage", "opened": ("heater-relay",)}, (0.0, 0.0, 0.0)),
        # the float gives the drain pump what it takes from the valves, its triac blocked
        ("drain-1 drain-2", {"quantity": "ac-voltage", "opened": ("drain-triac",)}, (0.0, 0.0, 0.0)),
        (
            "drain-1 drain-2",
            {"quantity": "ac-voltage", "opened": ("drain-triac",), "actuated": ("float-contact",)},
            (207.0, 230.0, 253.0),
        ),
        ("iv-1 iv-2", {"quantity": "ac-voltage"}, (207.0, 230.0, 253.0)),
        ("iv-1 iv-2", {"quantity": "ac-voltage", "actuated": ("float-contact",)}, (0.0, 0.0, 0.0)),
    ],
)
def test_readings_by_hand(
    desk: Desk, probes: str, stands: dict[str, object], by_hand: tuple[float, float, float]
) -> None:
    asked = ReadingRequest(between=tuple(probes.split()), serial=SERIAL, **stands)  # type: ignore[arg-type]
    found = desk.reading(PLAIN, asked).expected
    assert (found.low, found.nominal, found.high) == pytest.approx(by_hand, rel=1e-3, abs=1e-3)


def test_heater_to_an_unpolarised_plug_is_not_told_against_earth(desk: Desk) -> None:
    """Which side of the plug is line is not known: no voltage from a pump to earth is promised, none is called 0 V."""
    asked = ReadingRequest(between=("drain-1", "earth-stud"), quantity="ac-voltage", opened=AT_REST, serial=SERIAL)
    found = desk.reading(PLAIN, asked).expected
    assert not found.known
    assert found.nominal is None


# --- what is live


def test_open_door_leaves_all_but_the_heater_live(dishwasher: Appliance) -> None:
    """At rest and the door open: pumps, valves, dispenser and the board stand under voltage by way of their neutral."""
    found = states(dishwasher, "door-interlock", *AT_REST)
    pump = {"pump-l", "pump-n"} if "pump-capacitor" in dishwasher.components else {"pump-n"}
    live = {"ds-1", "x2-1", "drain-1", "drain-2", "iv-1", "iv-2", "af-1", "af-2", "rv-1", "rv-2", "dispenser-1", "x1-n"}
    assert {found[point] for point in live | pump} == {PointCondition.LIVE}
    assert {found[point] for point in HEATER_ROW} == {PointCondition.OFF_NOT_ISOLATED}
    assert found["ds-2"] is PointCondition.OFF_NOT_ISOLATED


def test_open_door_alone_leaves_the_heater_live(dishwasher: Appliance) -> None:
    found = states(dishwasher, "door-interlock")
    assert {found[point] for point in HEATER_ROW} == {PointCondition.LIVE}


def test_only_plug_connector_and_tap_isolate(dishwasher: Appliance) -> None:
    isolating = {slug for slug, device in dishwasher.circuit.devices.items() if device.isolating}
    assert isolating == {"supply-plug", "appliance-connector", "stop-tap-valve"}
    assert set(states(dishwasher, "supply-plug", "stop-tap-valve").values()) == {PointCondition.ISOLATED}
    assert states(dishwasher, "supply-plug")["valve-in"] is PointCondition.LIVE  # water
    controls = [slug for slug, device in dishwasher.circuit.devices.items() if not device.isolating]
    assert PointCondition.ISOLATED not in {
        state for point, state in states(dishwasher, *controls).items() if point in HEATER_ROW | {"drain-1", "x1-l"}
    }


def test_valves_of_the_machine_do_not_shut_the_water_off(dishwasher: Appliance) -> None:
    found = states(dishwasher, "anti-flood-seat", "inlet-seat")
    assert found["af-in"] is PointCondition.LIVE
    assert found["valve-in"] is PointCondition.OFF_NOT_ISOLATED


def test_unplugged_the_bus_is_live_until_it_is_released(dishwasher: Appliance) -> None:
    others = tuple(each for each in capacitors(dishwasher) if each != "bus-capacitor")
    found = live_points(dishwasher, situation_of(dishwasher, ("supply-plug",), (), others))
    assert found["bus-plus"].state is PointCondition.LIVE


# --- hands, water and parts in the way


def test_no_joint_under_pressure_is_undone_with_the_tap_open(dishwasher: Appliance) -> None:
    pressed = {"tap-joint", "hose-joint", "valve-tube"}
    undone = [
        removal
        for removal in dishwasher.removals.values()
        if any(connection.opens & pressed for connection in removal.connections)
    ]
    assert {removal.component for removal in undone} >= {"inlet-hose", "inlet-valve", "flow-meter"}
    assert [removal.id for removal in undone if "water-off" not in removal.needs_states] == []


def test_no_live_part_is_bared_and_no_earth_undone_while_plugged_in(dishwasher: Appliance) -> None:
    for removal in dishwasher.removals.values():
        if removal.bares or removal.opens or any(connection.opens for connection in removal.connections):
            assert "supply-isolated" in removal.needs_states, removal.id
    for path in dishwasher.access_paths.values():
        if path.live:
            assert {dishwasher.circuit.points[point].component for point in path.bares} <= {"wall-socket"}, path.id
            covers = {
                "toe-panel",
                "front-cover",
                "outer-door-panel",
                "side-panel-right",
                "side-panel-left",
                "base-tray",
            }
            assert covers <= path.needs_fitted, path.id
        else:
            assert not path.bares or "supply-isolated" in path.needs_states, path.id


def test_the_circulation_pump_comes_out_through_the_side_once_the_sump_is_dry(desk: Desk) -> None:
    order = acts(plan(desk, "circulation-pump"))
    for before, after in (
        ("isolate-at-plug", "toe-panel-off"),
        ("filter-set-off", "bail-out-sump"),
        ("bail-out-sump", "heater-off-side"),
        ("worktop-screws-off", "pull-machine-out"),
        ("pull-machine-out", "side-panel-right-off"),
        ("side-panel-right-off", "heater-off-side"),
        ("heater-off-side", "circulation-pump-off-side"),
    ):
        assert order.index(before) < order.index(after), (before, after)
    assert "lay-on-back" not in order


def test_with_the_sensor_too_it_is_laid_on_its_back_dry_and_with_two_persons(desk: Desk) -> None:
    found = plan(desk, "circulation-pump", "sensor")
    order = acts(found)
    assert "heater-off-side" not in order
    down = order.index("lay-on-back")
    for before in ("isolate-at-plug", "shut-water", "bail-out-sump", "dry-base-tray", "lower-basket-off"):
        assert order.index(before) < down, before
    assert down < order.index("base-tray-off") < order.index("circulation-pump-off-below")
    assert max(step.persons for step in found.steps) == 2


def test_the_drain_pump_comes_out_from_the_front(desk: Desk) -> None:
    order = acts(plan(desk, "drain-pump"))
    assert "pull-machine-out" not in order
    assert order.index("bail-out-sump") < order.index("check-valve-off") < order.index("drain-pump-off-front")


def test_what_is_undone_inside_the_tub_or_behind_the_machine_can_be_reached(dishwasher: Appliance) -> None:
    needs = {"inside the tub": "door-open", "behind the machine": "pulled-out", "to the back": "pulled-out"}
    seen = set()
    for removal in dishwasher.removals.values():
        for words, state in needs.items():
            if words in removal.instruction:
                assert state in removal.needs_states, removal.id
                seen.add(removal.component)
    assert seen == {"air-break", "softener", "inlet-hose", "drain-hose", "supply-cord"}


def test_wet_and_hot_and_charged_come_first(desk: Desk) -> None:
    found = plan(desk, "heater", "inlet-valve")
    released = {step.component.id for step in found.steps if step.action == "release" and step.component}
    assert {"heater", "inlet-hose", "tub"} <= released
    assert any("Test step" in check.text or "test programme" in check.text for check in found.finish)


def test_each_release_is_verified_in_the_way_of_its_energy(desk: Desk) -> None:
    """The electronic pump holds a charge and runs down: the meter goes to the one, eye and ear to the other."""
    asked = PlanRequest(reach=["circulation-pump-electronic"], serial=SERIAL)
    steps = desk.make_safe(QUIET, asked).steps
    verified = {
        before.text: after.text
        for before, after in pairwise(steps)
        if before.text.startswith("Release: circulation pump") and after.stage == "verify"
    }
    charge, running = (next(said for text, said in verified.items() if word in text) for word in ("charge", "silent"))
    assert "direct voltage" in charge
    assert "stands still" in running


# --- models


def test_early_machines_have_the_pump_that_jams(desk: Desk) -> None:
    early, later = appliance(desk, PLAIN, EARLY), appliance(desk, PLAIN)
    assert "drain-pump-rigid" in early.components
    assert "drain-pump-rigid" not in later.components
    assert "fault-rigid-impeller-jams" in early.faults
    assert "fault-rigid-impeller-jams" not in later.faults
    assert "fault-rigid-pump-blocked" in early.faults["fault-filter-clogged"].brings_on


def test_quiet_model_has_no_run_capacitor_and_its_own_code(desk: Desk) -> None:
    plain, quiet = (appliance(desk, model) for model in MODELS)
    assert "pump-capacitor" in plain.components
    assert "pump-capacitor" not in quiet.components
    assert {"diverter", "extra-lead", "cutlery-drawer"} <= set(quiet.components) - set(plain.components)
    assert "fault-electronic-pump-dead" in quiet.codes["code-r2"].faults
    assert "fault-capacitor-weak" not in quiet.faults


# --- diagnosis


def test_a_pump_that_never_stops_leads_to_the_float(desk: Desk) -> None:
    found = desk.diagnosis(PLAIN, DiagnosisRequest(symptoms=["pump-never-stops"], serial=SERIAL))
    assert found.next is not None
    assert found.next.id == "check-float"


def test_a_shock_is_told_by_socket_and_earth(desk: Desk) -> None:
    found = desk.diagnosis(PLAIN, DiagnosisRequest(symptoms=["gives-shock"], serial=SERIAL))
    assert {found.faults[0].id, found.faults[1].id} == {"fault-earth-lost", "fault-socket-earth-missing"}


def test_cold_water_is_followed_to_the_thermal_fuse(desk: Desk) -> None:
    """Row open at X30, heater and limiter sound: the fuse is what is left, with the reason looked for."""
    outcomes = [
        OutcomeSeen(check="check-heater-row", label="no continuity"),
        OutcomeSeen(check="check-heater", label="27 to 30 ohm"),
        OutcomeSeen(check="check-limiter", label="1 ohm or less"),
    ]
    found = desk.diagnosis(PLAIN, DiagnosisRequest(symptoms=["washes-cold"], outcomes=outcomes, serial=SERIAL))
    assert found.faults[0].id == "fault-thermal-fuse-open"
    assert found.faults[0].share > 0.9
    assert "why it blew" in " ".join(
        remedy.label for remedy in appliance(desk, PLAIN).faults["fault-thermal-fuse-open"].remedies
    )


def test_the_test_programme_fills_before_it_washes_and_washes_while_it_heats(dishwasher: Appliance) -> None:
    (mode,) = service_mode_list(dishwasher, ["component-test"]).service_modes
    pump = {"circulation-pump", "circulation-pump-electronic"} & dishwasher.components.keys()
    parts = {step.order: {each.id for each in step.runs} for step in mode.steps}
    filled = next(order for order, found in parts.items() if "inlet-valve" in found)
    washed = [order for order, found in parts.items() if found & pump]
    heated = [order for order, found in parts.items() if "heater" in found]
    assert filled < min(washed)
    assert set(heated) < set(washed)
    assert "drain-pump" in parts[len(parts) - 1]  # the tub is empty when it is left
    assert any(found == {"diverter"} for found in parts.values()) is ("diverter" in dishwasher.components)
    for step in mode.steps[1:-1]:
        assert f"the number {step.order - 1} shows" in step.text
    assert {each.id for each in mode.needs_states} >= {"supply-on", "water-on", "door-shut", "upright"}
    assert {each.id for each in mode.needs_fitted} >= {"heater-limiter", "thermal-fuse", "door", "base-tray"}
    assert {"caution-test-programme", "caution-unpolarised", "caution-float-runs"} < {each.id for each in mode.cautions}


def test_the_heater_row_is_live_by_its_relays_in_the_step_that_heats(dishwasher: Appliance) -> None:
    """Two relays, one a pole: with both open the row is dead, which is why the step that closes them tells it."""
    (mode,) = service_mode_list(dishwasher, ["component-test"]).service_modes
    for step in mode.steps:
        heats = "heater" in {each.id for each in step.runs}
        assert ({each.id for each in step.live if each.only_so} >= HEATER_ROW) is heats
        assert ({each.id for each in step.live} & HEATER_ROW != set()) is heats


def test_filling_tells_the_water_too(dishwasher: Appliance) -> None:
    (mode,) = service_mode_list(dishwasher, ["component-test"]).service_modes
    (fill,) = [step for step in mode.steps if "inlet-valve" in {each.id for each in step.runs}]
    assert {"af-1", "af-out", "valve-out"} <= {each.id for each in fill.live}
