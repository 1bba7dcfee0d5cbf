"""From statements to the read model, class by class: every property lands in its field, and what is missing is told."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields
from typing import Any

import pytest

from firstoff.appliance.circuit import (
    Device,
    EnergySource,
    Link,
    LinkKind,
    Point,
    ResistanceCurve,
)
from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Bulletin,
    Caution,
    Check,
    Component,
    Connection,
    Construction,
    DisplayCode,
    Effect,
    Fastening,
    Fault,
    FinishStep,
    Outcome,
    Preparation,
    Purpose,
    ReassemblyCheck,
    Remedy,
    Removal,
    ServiceMode,
    ServiceStep,
    State,
    StateVariable,
    Symptom,
)
from firstoff.appliance.terms import (
    Concept,
    Source,
)
from support.small_machine import SYMPTOMS, TURTLE, compiled

NOTES = (Source("notes", "Larkfield workshop notes, table fan", "section 1"),)
INSIDE = Concept("inside", "inside")


def concept(slug: str) -> Concept:
    """A concept as it reads without the vocabularies: its slug is its label."""
    return Concept(slug, slug)


def finish_step(order: int, text: str) -> FinishStep:
    return FinishStep(order, text, id=f"finish-{order}", label=f"finish-{order}")


FULL = (
    TURTLE
    + """
p:prop a fo:Preparation ; rdfs:label "prop"@en ; fo:gives p:supply-isolated ; fo:fromState p:supply-on ; fo:minutes 1 ;
    fo:undoMinutes 1 ; fo:needsOff p:cover ; fo:needsState p:supply-on ; fo:tool tool:support-block ; fo:persons 2 ;
    fo:movesMachine true .
p:tap-water a fo:EnergySource ; rdfs:label "water"@en ; fo:energyKind energy:water ; fo:feeds p:chassis .
p:big a fo:EnergySource ; rdfs:label "big"@en ; fo:energyKind energy:mains ; fo:polarised true ; fo:fixed true .
p:throw a fo:Link ; rdfs:label "throw"@en ; fo:onComponent p:frame ; fo:linkKind link:contact ; fo:from p:chassis ;
    fo:to p:board-out ; fo:changeover true .
p:tie-off a fo:Removal ; rdfs:label "tie off"@en ; fo:removes p:frame ; fo:minutesOut 1 ; fo:minutesBack 1 ;
    fo:connection [ a fo:Connection ; rdfs:label "tie"@en ; fo:kind connection:hose ; fo:singleUse true ] .
p:fan fo:replacedAs p:frame .
p:finish-3 a fo:FinishStep ; rdfs:label "dry"@en ; fo:order 3 ; fo:beforeSupply true ; fo:onlyAfter p:prop, p:fan ;
    fo:waitMinutes 5 ; fo:competence "a trained person"@en ; fo:recorded true ; fo:text "Look for drops."@en .
p:fan-off fo:reassemblyCheck [ a fo:ReassemblyCheck ; fo:checkKind check:function ; fo:text "It runs."@en ;
    fo:beforeCover true ; fo:afterSupply true ; fo:waitMinutes 2.5 ] .
<https://firstoff.example/platform/brook-fan> fo:builtTo standard:iec-60335 ; fo:protectionClass "II" ;
    fo:stationary true ; fo:operation "motor-operated" ; fo:ratedInput 45 .
p:fan-capacitor fo:source p:notes ; fo:verification "Read 0 V."@en .
p:socket-line fo:phaseAngle 120 .
p:plug fo:lockable true .
p:throw fo:atRest true ; fo:henries 0.1 ; fo:henryTolerance 0.2 ; fo:wattTolerance 0.05 ; fo:hotColdRatio 12 ;
    fo:resistanceCurve [ a fo:ResistanceCurve ; fo:curveKind "beta" ; fo:referenceOhms 10000 ; fo:referenceCelsius 25 ;
        fo:betaKelvin 3977 ; fo:termLinear 0.0002 ] .
p:big fo:lowerTolerance 0.05 ; fo:primaryVolts 230 ; fo:refrigerant refrigerant:r600a ; fo:kilograms 0.045 ;
    fo:kilopascals 400 ; fo:litres 2 ; fo:startCelsius 120 ; fo:safeCelsius 45 ; fo:timeConstant 4 ;
    fo:verification "Feel from a distance."@en .
p:fan-open fo:alters p:fan-winding .
p:warm-fan fo:source p:notes .
"""
)


@pytest.fixture(scope="module")
def machine() -> Appliance:
    return compiled()


#: what is looked up, and the whole of what must be found
EXPECTED: list[tuple[Callable[[Appliance], Any], Any]] = [
    (
        lambda m: m.components["board"],
        Component(
            id="board",
            label="board",
            kind=concept("control-board"),
            zone=INSIDE,
            part_number="T-310",
            supersedes=("T-290", "T-300"),
            sits_inside="frame",
            kilograms=0.2,
            price_band=concept("dear"),
            sources=NOTES,
        ),
    ),
    (
        lambda m: m.components["blade"],
        Component(
            id="blade",
            label="fan blade",
            kind=concept("fan-blade"),
            zone=INSIDE,
            sits_inside="fan",
            replaced_as="fan",
        ),
    ),
    (
        lambda m: m.removals["cover-off"],
        Removal(
            id="cover-off",
            component="cover",
            label="rear cover off",
            minutes_out=2.0,
            minutes_back=3.0,
            needs_off=frozenset({"guard"}),
            needs_states=frozenset({"supply-isolated"}),
            fastenings=(
                Fastening(kind=concept("tie"), count=1, drive=concept("hand"), single_use=True, label="tie"),
                Fastening(
                    kind=concept("screw"),
                    count=4,
                    drive=concept("hexalobular-t20"),
                    size="ST4.2 x 13",
                    torque=1.2,
                    tools=(concept("driver-hexalobular-t20"),),
                ),
            ),
            connections=(
                Connection(
                    kind=concept("plug-connector"),
                    label="fan plug",
                    lock="latch to press",
                    seal="rubber ring",
                    opens=frozenset({"fan-lead"}),
                ),
            ),
            tools=(concept("plastic-lever"),),
            consumables=("cable tie",),
            opens=frozenset({"fan-wire", "fan-lead"}),
            bares=frozenset({"fan-line"}),
            checks=(ReassemblyCheck("No wire is pinched.", before_cover=True, kind=concept("routing")),),
            instruction="Undo four screws.",
            persons=2,
            single_use=True,
            sources=NOTES,
        ),
    ),
    (
        lambda m: m.access_paths["watch-fan"],
        AccessPath(
            id="watch-fan",
            component="fan",
            label="fan at work",
            purpose=Purpose.INSPECT,
            audience=concept("customer"),
            minutes=0.5,
            needs_fitted=frozenset({"guard", "cover"}),
            needs_states=frozenset({"supply-on"}),
            live=True,
            instruction="Look through the guard.",
            sources=NOTES,
        ),
    ),
    (
        lambda m: m.access_paths["test-fan"],
        AccessPath(
            id="test-fan",
            component="fan",
            label="fan terminals",
            purpose=Purpose.TEST,
            audience=concept("technician"),
            minutes=1.0,
            needs_off=frozenset({"cover"}),
            needs_states=frozenset({"supply-isolated"}),
            tools=(concept("multimeter"),),
            bares=frozenset({"fan-line", "fan-return"}),
            instruction="Put the probes on.",
            sources=NOTES,
        ),
    ),
    (
        lambda m: m.variables["supply"],
        StateVariable("supply", "supply", ("supply-isolated", "supply-on"), "mains"),
    ),
    (lambda m: m.states["supply-on"], State("supply-on", "supply", "supply on", initial=True)),
    (
        lambda m: m.states["supply-isolated"],
        State("supply-isolated", "supply", "supply isolated", devices_open=frozenset({"plug"})),
    ),
    (
        lambda m: m.preparations["isolate"],
        Preparation(
            id="isolate",
            label="isolate the supply",
            gives="supply-isolated",
            from_state="supply-on",
            minutes=1.0,
            undo_minutes=0.5,
            needs_fitted=frozenset({"guard"}),
            instruction="Draw the plug.",
            undo_instruction="Put the plug back.",
            sources=NOTES,
        ),
    ),
    (
        lambda m: m.circuit.points["low-plus"],
        Point("low-plus", "12 V plus", "buzzer", volts=12.0, current="dc"),
    ),
    (lambda m: m.circuit.points["socket-line"], Point("socket-line", "socket line", "socket", terminal="L")),
    (
        lambda m: m.circuit.links["fan-capacitor"],
        Link(
            id="fan-capacitor",
            label="capacitor of the fan",
            kind=LinkKind.CAPACITOR,
            start="fan-line",
            end="fan-return",
            component="fan",
            farads=2e-6,
            farad_tolerance=0.05,
            volts=230.0,
            current="ac",
            release="Measure, discharge, measure.",
        ),
    ),
    (
        lambda m: m.circuit.links["fan-winding"],
        Link(
            id="fan-winding",
            label="winding of the fan",
            kind=LinkKind.WINDING,
            start="fan-line",
            end="fan-return",
            component="fan",
            ohms=400.0,
            ohm_tolerance=0.1,
            rated_volts=230.0,
            rated_watts=40.0,
        ),
    ),
    (
        lambda m: m.circuit.links["relay-contact"],
        Link(
            id="relay-contact",
            label="contact of the relay",
            kind=LinkKind.CONTACT,
            start="board-feed",
            end="board-out",
            component="board",
            device="relay",
        ),
    ),
    (
        lambda m: m.circuit.links["fan-bleed"].bleeds,
        "fan-capacitor",
    ),
    (
        lambda m: m.circuit.devices["plug"],
        Device("plug", "plug", concept("plug"), "cord", isolating=True, minutes=0.5, instruction="Draw the plug."),
    ),
    (
        lambda m: m.circuit.devices["late-relay"],
        Device(
            "late-relay",
            "late fan relay",
            concept("relay"),
            "late-board",
            isolating=False,
            needs_off=frozenset({"cover"}),
            needs_states=frozenset({"supply-isolated"}),
        ),
    ),
    (
        lambda m: m.circuit.sources["mains"],
        EnergySource(
            id="mains",
            label="mains",
            kind=concept("mains"),
            lines=("socket-line",),
            neutral="socket-neutral",
            protective_earth="socket-earth",
            volts=230.0,
            current="ac",
            hertz=50.0,
            upper_tolerance=0.1,
            earthed_neutral=True,
        ),
    ),
    (
        lambda m: m.circuit.sources["warm-fan"],
        EnergySource(
            id="warm-fan",
            label="warm fan",
            kind=concept("heat"),
            held_by="fan",
            release_before=frozenset({"guard"}),
            gone_in=frozenset({"supply-isolated"}),
            release="Wait and feel from a distance.",
            minutes=5.0,
            competence="a trained person",
        ),
    ),
    (lambda m: m.circuit.sources["low"].derived_from, ("cord-line",)),
    (
        lambda m: m.cautions[1],
        Caution(
            id="moving-blade",
            signal_word="WARNING",
            hazard=concept("moving-part"),
            text="The blade turns.",
            protection="Wait until it stands still.",
            applies_to=frozenset({"guard-off", "fan"}),
        ),
    ),
    (
        lambda m: m.faults["fan-open"],
        Fault(
            id="fan-open",
            label="winding open",
            origin=concept("component"),
            failure_mode=concept("open-circuit"),
            relative_frequency=5.0,
            component="fan",
            effects=(Effect("burning-smell", 0.1), Effect("does-not-start", 0.8)),
            remedies=(Remedy("new-fan", "fit a new fan", concept("replace"), "fan"),),
            sources=NOTES,
        ),
    ),
    (
        lambda m: m.faults["no-supply"],
        Fault(
            id="no-supply",
            label="no supply",
            origin=concept("supply"),
            failure_mode=concept("supply-missing"),
            relative_frequency=2.0,
            effects=(Effect("dead", 0.9),),
            brings_on=frozenset({"fan-open", "buzzer-silent"}),
            remedies=(Remedy("restore", "have the supply restored", concept("correct-supply"), None, 5.0),),
            sources=NOTES,
        ),
    ),
    (
        lambda m: m.checks["fan-ohms"],
        Check(
            id="fan-ohms",
            label="resistance of the fan",
            component="fan",
            purpose=Purpose.TEST,
            quantity=concept("resistance"),
            minutes=2.0,
            between=("fan-line", "fan-return"),
            needs_states=frozenset({"supply-isolated"}),
            tools=(concept("multimeter"),),
            outcomes=(
                Outcome("about 400 ohms", True, rules_out=frozenset({"fan-open"}), at_least=360.0, at_most=440.0),
                Outcome("open", False, speaks_for=frozenset({"fan-open"}), at_least=1e6),
            ),
            instruction="Read the ohms.",
            sources=NOTES,
        ),
    ),
    (lambda m: m.checks["buzzer-listen"].live, True),
    (
        lambda m: m.codes["code-e1"],
        DisplayCode(
            "code-e1",
            "E1",
            "fan does not turn",
            frozenset({"fan-open"}),
            frozenset({"does-not-start"}),
            set_when="No turns counted.",
            does_not_prove="A loose wire reads the same.",
            clearing="It goes once the fan turns.",
        ),
    ),
    (
        lambda m: m.service_modes,
        {
            "self-test": ServiceMode(
                "self-test",
                "self test",
                "Hold the key for five seconds.",
                kinds=(concept("component-test"),),
                needs_states=frozenset({"supply-on"}),
                needs_fitted=frozenset({"guard"}),
                steps=(
                    ServiceStep(1, "enter", "Hold the key."),
                    ServiceStep(
                        2, "run", "Press the key.", "The fan turns.", frozenset({"fan"}), frozenset({"relay"}), 1.0
                    ),
                    ServiceStep(3, "leave", "Let the key go."),
                ),
                sources=NOTES,
            )
        },
    ),
    (lambda m: m.finish, (finish_step(1, "Look at the guard."), finish_step(2, "Run it for a minute."))),
    (
        lambda m: m.bulletins[0],
        Bulletin("guard-notice", "guard hooks", concept("safety-recall"), "Look at the hooks.", frozenset({"guard"})),
    ),
    (lambda m: m.symptoms["dead"], SYMPTOMS["dead"]),
    (lambda m: m.symptoms["burning-smell"], Symptom("burning-smell", "burning-smell")),
    (lambda m: sorted(m.symptoms), ["burning-smell", "buttons-do-nothing", "dead", "does-not-start"]),
    (
        lambda m: (m.label, m.platform, m.maker, m.kind, m.revision, m.status),
        (
            "Brook table fan",
            Concept("brook-fan", "Brook table fan"),
            "Tolvane",
            concept("cooker-hood"),
            "r1",
            "reviewed",
        ),
    ),
]


@pytest.mark.parametrize(("found", "expected"), EXPECTED)
def test_property_to_field(machine: Appliance, found: Callable[[Appliance], Any], expected: Any) -> None:
    assert found(machine) == expected


def test_every_field_of_every_class_is_set_somewhere() -> None:
    """The table above leaves out no field of the classes it lists, ``id`` to ``sources``."""
    kinds = (Component, Fastening, Connection, Removal, AccessPath, Preparation, Point, Link, Device, EnergySource)
    kinds += (Caution, Fault, Remedy, Check, Outcome, DisplayCode, Bulletin, ServiceMode)  # type: ignore[assignment]
    kinds += (FinishStep, ReassemblyCheck, Construction, ResistanceCurve, ServiceStep)  # type: ignore[assignment]
    whole = compiled(FULL)
    seen: dict[type, set[str]] = {kind: set() for kind in kinds}

    def visit(value: Any) -> None:
        if isinstance(value, dict):
            value = tuple(value.values())
        if isinstance(value, tuple):
            for each in value:
                visit(each)
        elif hasattr(value, "__dataclass_fields__"):
            for field in fields(value):
                content = getattr(value, field.name)
                if content not in (None, (), frozenset(), "", 0.0, False):
                    seen.setdefault(type(value), set()).add(field.name)
                visit(content)

    visit(whole)
    missing = {kind.__name__: {field.name for field in fields(kind)} - seen[kind] for kind in kinds}
    assert {name: gone for name, gone in missing.items() if gone} == {}


def test_what_decides_the_limits() -> None:
    full = compiled(FULL)
    assert full.construction == Construction(concept("iec-60335"), "II", True, "motor-operated", 45.0)
    assert (full.components["cord"].cord_metres, full.components["cord"].cord_square_millimetres) == (1.5, 0.75)
    assert full.finish[-1] == FinishStep(
        3,
        "Look for drops.",
        True,
        id="finish-3",
        label="dry",
        only_after=frozenset({"prop", "fan"}),
        wait_minutes=5.0,
        competence="a trained person",
        recorded=True,
    )


def test_what_is_not_said_stays_unknown(machine: Appliance) -> None:
    """Not false: a portable machine has other limits than one of which nothing is told."""
    assert machine.construction == Construction()


#: The machine with a value for every property that its normal form leaves out.
