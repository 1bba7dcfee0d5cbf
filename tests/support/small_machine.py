"""A table fan: a small invented platform with two models, for tests of the store, the read model and the collection.

Model BM 10/S has two serial ranges: the early one adds the buzzer, the late one has another board, which brings a
contact and a relay of its own. Model BM 20 leaves out the guard, adds the buzzer and has a quiet fan, which brings its
own removal and inherits the rest.
"""

from __future__ import annotations

from collections.abc import Iterable

from firstoff.appliance.compile import whole_platform
from firstoff.appliance.model import (
    Appliance,
    Symptom,
)
from firstoff.appliance.statements import Statements
from firstoff.store.embedded import EmbeddedStore
from firstoff.store.terms import Iri, Row

NAME = "brook-fan.ttl"
PLATFORM = "https://firstoff.example/platform/brook-fan"
GRAPH = Iri("https://firstoff.example/graph/brook-fan/1")
ISOLATING = frozenset({"plug"})
SYMPTOMS = {"dead": Symptom("dead", "nothing works", {"en": ("nothing works", "no power")})}

_VOCABULARIES = {
    "appliance": "appliance-kinds",
    "component": "component-kinds",
    "energy": "energy-kinds",
    "hazard": "hazard-kinds",
    "fastening": "fastening-kinds",
    "drive": "drives",
    "tool": "tools",
    "mode": "failure-modes",
    "connection": "connection-kinds",
    "purpose": "purposes",
    "audience": "audiences",
    "signal": "signal-words",
    "device": "device-kinds",
    "link": "link-kinds",
    "quantity": "quantities",
    "origin": "origins",
    "price": "price-bands",
    "refrigerant": "refrigerants",
    "remedy": "remedy-kinds",
    "bulletin": "bulletin-kinds",
    "symptom": "symptoms",
    "check": "check-kinds",
    "service": "service-mode-kinds",
    "standard": "safety-standards",
}

PREFIXES = "\n".join(
    (
        "@prefix fo: <https://firstoff.example/ontology#> .",
        "@prefix rdfs: <http://www.w3.org/2000/01/rdf-schema#> .",
        "@prefix xsd: <http://www.w3.org/2001/XMLSchema#> .",
        "@prefix model: <https://firstoff.example/model/> .",
        f"@prefix p: <{PLATFORM}/> .",
        *(f"@prefix {name}: <https://firstoff.example/vocabulary/{part}#> ." for name, part in _VOCABULARIES.items()),
    )
)

STATEMENTS = f"""
<{PLATFORM}> a fo:Platform ; rdfs:label "Brook table fan"@en, "Tischventilator Brook"@de ;
    fo:maker "Tolvane" ; fo:applianceKind appliance:cooker-hood ; fo:status "reviewed" .
model:bm-10-s a fo:Model ; rdfs:label "Brook fan 10"@en, "Brook-Ventilator 10"@de ;
    fo:onPlatform <{PLATFORM}> ; fo:modelNumber "BM 10/S" ; fo:hasSerialRange p:late, p:early .
model:bm-20 a fo:Model ; rdfs:label "Brook fan 20"@en ; fo:onPlatform <{PLATFORM}> ; fo:modelNumber "BM 20" ;
    fo:leavesOut p:guard ; fo:adds p:buzzer ; fo:substitutes p:quiet-for-plain .
p:early a fo:SerialRange ; rdfs:label "early"@en ; fo:firstSerial "BF 100" ; fo:lastSerial "BF 199" ; fo:adds p:buzzer .
p:late a fo:SerialRange ; rdfs:label "late"@en ; fo:firstSerial "BF 300" ; fo:substitutes p:late-for-early .
p:quiet-for-plain a fo:Substitution ; rdfs:label "quiet fan"@en ; fo:original p:fan ; fo:substitute p:quiet-fan .
p:late-for-early a fo:Substitution ; rdfs:label "late board"@en ; fo:original p:board ; fo:substitute p:late-board .
p:notes a fo:Source ; rdfs:label "Larkfield workshop notes, table fan"@en ; fo:locator "section 1" .
p:inside a fo:Zone ; rdfs:label "inside"@en .
p:outside a fo:Zone ; rdfs:label "outside"@en .

# states
p:supply a fo:StateVariable ; rdfs:label "supply"@en ; fo:controls energy:mains .
p:supply-on a fo:State ; rdfs:label "supply on"@en ; fo:valueOf p:supply ; fo:initial true .
p:supply-isolated a fo:State ; rdfs:label "supply isolated"@en ; fo:valueOf p:supply ; fo:devicesOpen p:plug .
p:isolate a fo:Preparation ; rdfs:label "isolate the supply"@en ; fo:gives p:supply-isolated ; fo:minutes 1 ;
    fo:undoMinutes 0.5 ; fo:needsFitted p:guard ; fo:instruction "Draw the plug."@en ;
    fo:undoInstruction "Put the plug back."@en ; fo:source p:notes .

# components
p:socket a fo:Component ; rdfs:label "wall socket"@en ; fo:kind component:supply-outlet ; fo:inZone p:outside .
p:cord a fo:Component ; rdfs:label "supply cord"@en ; fo:kind component:supply-cord ; fo:inZone p:outside ;
    fo:cordMetres 1.5 ; fo:cordSquareMillimetres 0.75 .
p:frame a fo:Component ; rdfs:label "frame"@en ; fo:kind component:cabinet ; fo:inZone p:outside .
p:cover a fo:Component ; rdfs:label "rear cover"@en ; fo:kind component:cover ; fo:inZone p:outside .
p:guard a fo:Component ; rdfs:label "guard"@en ; fo:kind component:guard ; fo:inZone p:outside .
p:board a fo:Component ; rdfs:label "board"@en, "Platine"@de ; fo:kind component:control-board ; fo:inZone p:inside ;
    fo:partNumber "T-310" ; fo:supersedes "T-300", "T-290" ; fo:kilograms 0.2 ; fo:sitsInside p:frame ;
    fo:priceBand price:dear ; fo:source p:notes .
p:late-board a fo:Component ; rdfs:label "late board"@en ; fo:kind component:control-board ; fo:inZone p:inside .
p:fan a fo:Component ; rdfs:label "fan"@en ; fo:kind component:fan-motor ; fo:inZone p:inside .
p:blade a fo:Component ; rdfs:label "fan blade"@en ; fo:kind component:fan-blade ; fo:inZone p:inside ;
    fo:sitsInside p:fan ; fo:replacedAs p:fan .
p:quiet-fan a fo:Component ; rdfs:label "quiet fan"@en ; fo:kind component:fan-motor ; fo:inZone p:inside .
p:buzzer a fo:Component ; rdfs:label "buzzer"@en ; fo:kind component:buzzer ; fo:inZone p:inside .

# removals
p:guard-off a fo:Removal ; rdfs:label "guard off"@en ; fo:removes p:guard ; fo:needsState p:supply-isolated ;
    fo:minutesOut 0.5 ; fo:minutesBack 0.5 ; fo:instruction "Release the hooks."@en ; fo:source p:notes ;
    fo:fastening [ a fo:Fastening ; fo:kind fastening:snap-hook ; fo:count 2 ] ;
    fo:reassemblyCheck [ a fo:ReassemblyCheck ; fo:text "Every hook has caught."@en ; fo:checkKind check:latch ] .
p:cover-off a fo:Removal ; rdfs:label "rear cover off"@en ; fo:removes p:cover ; fo:needsOff p:guard ;
    fo:needsState p:supply-isolated ; fo:minutesOut 2 ; fo:minutesBack 3 ; fo:persons 2 ; fo:singleUse true ;
    fo:tool tool:plastic-lever ; fo:consumable "cable tie" ; fo:bares p:fan-line ; fo:opens p:fan-wire ;
    fo:fastening [ a fo:Fastening ; fo:kind fastening:screw ; fo:drive drive:hexalobular-t20 ; fo:size "ST4.2 x 13" ;
            fo:count 4 ; fo:torque 1.2 ; fo:tool tool:driver-hexalobular-t20 ],
        [ a fo:Fastening ; rdfs:label "tie"@en ; fo:kind fastening:tie ; fo:count 1 ; fo:drive drive:hand ;
            fo:singleUse true ] ;
    fo:connection [ a fo:Connection ; rdfs:label "fan plug"@en ; fo:kind connection:plug-connector ;
        fo:lock "latch to press" ; fo:seal "rubber ring" ; fo:singleUse false ; fo:opens p:fan-lead ] ;
    fo:reassemblyCheck [ a fo:ReassemblyCheck ; fo:text "No wire is pinched."@en ; fo:beforeCover true ;
        fo:checkKind check:routing ] ;
    fo:instruction "Undo four screws."@en ; fo:source p:notes .
p:board-off a fo:Removal ; rdfs:label "board out"@en ; fo:removes p:board ; fo:needsOff p:cover ;
    fo:needsState p:supply-isolated ; fo:minutesOut 1 ; fo:minutesBack 1 ; fo:instruction "Unclip it."@en ;
    fo:fastening [ a fo:Fastening ; fo:kind fastening:clip ; fo:count 2 ] ; fo:opens p:relay-contact ;
    fo:reassemblyCheck [ a fo:ReassemblyCheck ; fo:text "Both clips hold."@en ; fo:checkKind check:latch ] ;
    fo:source p:notes .
p:fan-off a fo:Removal ; rdfs:label "fan out"@en ; fo:removes p:fan ; fo:needsOff p:cover ;
    fo:needsState p:supply-isolated ; fo:minutesOut 3 ; fo:minutesBack 4 ; fo:instruction "Lift it out."@en ;
    fo:fastening [ a fo:Fastening ; fo:kind fastening:gravity ; fo:count 1 ] ;
    fo:reassemblyCheck [ a fo:ReassemblyCheck ; fo:text "The blade turns freely."@en ; fo:checkKind check:fit ] ;
    fo:source p:notes .
p:quiet-fan-off a fo:Removal ; rdfs:label "quiet fan out"@en ; fo:removes p:quiet-fan ; fo:needsOff p:cover ;
    fo:needsState p:supply-isolated ; fo:minutesOut 2 ; fo:minutesBack 2 ; fo:instruction "Turn and lift it out."@en ;
    fo:refitInstruction "Turn it until it clicks."@en ;
    fo:fastening [ a fo:Fastening ; fo:kind fastening:bayonet ; fo:count 1 ] ;
    fo:reassemblyCheck [ a fo:ReassemblyCheck ; fo:text "The blade turns freely."@en ; fo:checkKind check:fit ] ;
    fo:source p:notes .

# ways in
p:test-fan a fo:AccessPath ; rdfs:label "fan terminals"@en ; fo:reaches p:fan ; fo:purpose purpose:test ;
    fo:audience audience:technician ; fo:minutes 1 ; fo:needsOff p:cover ; fo:needsState p:supply-isolated ;
    fo:tool tool:multimeter ; fo:bares p:fan-line, p:fan-return ; fo:instruction "Put the probes on."@en ;
    fo:source p:notes .
p:watch-fan a fo:AccessPath ; rdfs:label "fan at work"@en ; fo:reaches p:fan ; fo:purpose purpose:inspect ;
    fo:audience audience:customer ; fo:minutes 0.5 ; fo:needsFitted p:guard, p:cover ; fo:needsState p:supply-on ;
    fo:live true ; fo:instruction "Look through the guard."@en ; fo:source p:notes .
p:hear-buzzer a fo:AccessPath ; rdfs:label "hear the buzzer"@en ; fo:reaches p:buzzer ; fo:purpose purpose:inspect ;
    fo:audience audience:customer ; fo:minutes 0 ; fo:live true ; fo:needsState p:supply-on ;
    fo:instruction "Listen."@en ; fo:source p:notes .

# circuit
p:mains a fo:EnergySource ; rdfs:label "mains"@en ; fo:energyKind energy:mains ; fo:line p:socket-line ;
    fo:neutral p:socket-neutral ; fo:protectiveEarth p:socket-earth ; fo:volts 230 ; fo:hertz 50 ; fo:currentKind "ac" ;
    fo:upperTolerance 0.10 ; fo:polarised false ; fo:fixed false ; fo:earthedNeutral true .
p:low a fo:EnergySource ; rdfs:label "12 V secondary"@en ; fo:energyKind energy:extra-low-voltage ;
    fo:derivedFrom p:cord-line ; fo:line p:low-plus ; fo:neutral p:low-minus ; fo:volts 12 ; fo:currentKind "dc" .
p:warm-fan a fo:EnergySource ; rdfs:label "warm fan"@en ; fo:energyKind energy:heat ; fo:heldBy p:fan ;
    fo:releaseBefore p:guard ; fo:goneIn p:supply-isolated ;
    fo:release "Wait and feel from a distance."@en ; fo:minutes 5 ; fo:competence "a trained person"@en .
p:plug a fo:Device ; rdfs:label "plug"@en ; fo:onComponent p:cord ; fo:deviceKind device:plug ; fo:minutes 0.5 ;
    fo:instruction "Draw the plug."@en .
p:guard-switch a fo:Device ; rdfs:label "guard switch"@en ; fo:onComponent p:guard ; fo:deviceKind device:interlock .
p:relay a fo:Device ; rdfs:label "fan relay"@en ; fo:onComponent p:board ; fo:deviceKind device:relay .
p:late-relay a fo:Device ; rdfs:label "late fan relay"@en ; fo:onComponent p:late-board ; fo:deviceKind device:relay ;
    fo:needsOff p:cover ; fo:needsState p:supply-isolated .
p:socket-line a fo:Point ; rdfs:label "socket line"@en ; fo:onComponent p:socket ; fo:terminal "L" .
p:socket-neutral a fo:Point ; rdfs:label "socket neutral"@en ; fo:onComponent p:socket ; fo:terminal "N" .
p:socket-earth a fo:Point ; rdfs:label "socket earth"@en ; fo:onComponent p:socket .
p:chassis a fo:Point ; rdfs:label "chassis"@en ; fo:onComponent p:frame .
p:cord-line a fo:Point ; rdfs:label "cord line"@en ; fo:onComponent p:cord .
p:cord-neutral a fo:Point ; rdfs:label "cord neutral"@en ; fo:onComponent p:cord .
p:board-feed a fo:Point ; rdfs:label "board feed"@en ; fo:onComponent p:board ; fo:terminal "1" .
p:board-out a fo:Point ; rdfs:label "board output"@en ; fo:onComponent p:board ; fo:terminal "2" .
p:fan-line a fo:Point ; rdfs:label "fan line"@en ; fo:onComponent p:fan .
p:fan-return a fo:Point ; rdfs:label "fan return"@en ; fo:onComponent p:fan .
p:low-plus a fo:Point ; rdfs:label "12 V plus"@en ; fo:onComponent p:buzzer ; fo:volts 12 ; fo:currentKind "dc" .
p:low-minus a fo:Point ; rdfs:label "12 V minus"@en ; fo:onComponent p:buzzer .
p:pin-line a fo:Link ; rdfs:label "plug pin, line"@en ; fo:onComponent p:cord ; fo:linkKind link:contact ;
    fo:from p:socket-line ; fo:to p:cord-line ; fo:contactOf p:plug .
p:pin-neutral a fo:Link ; rdfs:label "plug pin, neutral"@en ; fo:onComponent p:cord ; fo:linkKind link:contact ;
    fo:from p:socket-neutral ; fo:to p:cord-neutral ; fo:contactOf p:plug .
p:cord-earth a fo:Link ; rdfs:label "earth of the cord"@en ; fo:onComponent p:cord ; fo:linkKind link:earth-bond ;
    fo:from p:socket-earth ; fo:to p:chassis .
p:guard-contact a fo:Link ; rdfs:label "contact of the guard switch"@en ; fo:onComponent p:frame ;
    fo:linkKind link:contact ; fo:from p:cord-line ; fo:to p:board-feed ; fo:contactOf p:guard-switch .
p:relay-contact a fo:Link ; rdfs:label "contact of the relay"@en ; fo:onComponent p:board ; fo:linkKind link:contact ;
    fo:from p:board-feed ; fo:to p:board-out ; fo:contactOf p:relay ; fo:changeover false .
p:late-contact a fo:Link ; rdfs:label "contact of the late relay"@en ; fo:onComponent p:late-board ;
    fo:linkKind link:contact ; fo:from p:board-feed ; fo:to p:board-out ; fo:contactOf p:late-relay .
p:fan-lead a fo:Link ; rdfs:label "lead to the fan"@en ; fo:onComponent p:frame ; fo:linkKind link:conductor ;
    fo:from p:board-out ; fo:to p:fan-line .
p:fan-wire a fo:Link ; rdfs:label "return of the fan"@en ; fo:onComponent p:frame ; fo:linkKind link:conductor ;
    fo:from p:fan-return ; fo:to p:cord-neutral .
p:fan-winding a fo:Link ; rdfs:label "winding of the fan"@en ; fo:onComponent p:fan ; fo:linkKind link:winding ;
    fo:from p:fan-line ; fo:to p:fan-return ; fo:ohms 400 ; fo:ohmTolerance 0.1 ; fo:ratedVolts 230 ; fo:ratedWatts 40 .
p:fan-capacitor a fo:Link ; rdfs:label "capacitor of the fan"@en ; fo:onComponent p:fan ; fo:linkKind link:capacitor ;
    fo:from p:fan-line ; fo:to p:fan-return ; fo:farads 2e-6 ; fo:faradTolerance 0.05 ; fo:volts 230 ;
    fo:currentKind "ac" ; fo:release "Measure, discharge, measure."@en .
p:fan-bleed a fo:Link ; rdfs:label "bleed resistor"@en ; fo:onComponent p:frame ; fo:linkKind link:load ;
    fo:from p:fan-line ; fo:to p:fan-return ; fo:ohms 470000 ; fo:ohmTolerance 0.1 ; fo:bleeds p:fan-capacitor .
p:buzzer-coil a fo:Link ; rdfs:label "buzzer coil"@en ; fo:onComponent p:buzzer ; fo:linkKind link:winding ;
    fo:from p:low-plus ; fo:to p:low-minus ; fo:ohms 40 ; fo:ohmTolerance 0.1 .

# cautions
p:moving-blade a fo:Caution ; rdfs:label "moving blade"@en ; fo:signalWord signal:WARNING ;
    fo:hazard hazard:moving-part ;
    fo:text "The blade turns."@en ; fo:protection "Wait until it stands still."@en ; fo:appliesTo p:guard-off, p:fan .
p:sharp-hooks a fo:Caution ; rdfs:label "sharp hooks"@en ; fo:signalWord signal:NOTICE ; fo:hazard hazard:sharp-edge ;
    fo:text "The hooks are sharp."@en ; fo:protection "Wear gloves."@en ;
    fo:appliesTo p:guard-off .
p:cord-first a fo:Caution ; rdfs:label "cord"@en ; fo:signalWord signal:DANGER ; fo:hazard hazard:electric-shock ;
    fo:text "Draw the plug first."@en ; fo:protection "Keep the plug in sight."@en ; fo:appliesTo <{PLATFORM}> .

# faults
p:fan-open a fo:Fault ; rdfs:label "winding open"@en ; fo:origin origin:component ; fo:afflicts p:fan ;
    fo:failureMode mode:open-circuit ; fo:relativeFrequency 5 ; fo:source p:notes ; fo:remedy p:new-fan ;
    fo:effect [ a fo:Effect ; fo:symptom symptom:does-not-start ; fo:likelihood 0.8 ],
        [ a fo:Effect ; fo:symptom symptom:burning-smell ; fo:likelihood 0.1 ] .
p:no-supply a fo:Fault ; rdfs:label "no supply"@en ; fo:origin origin:supply ; fo:failureMode mode:supply-missing ;
    fo:relativeFrequency 2 ; fo:bringsOn p:fan-open, p:buzzer-silent ; fo:remedy p:restore ; fo:source p:notes ;
    fo:effect [ a fo:Effect ; fo:symptom symptom:dead ; fo:likelihood 0.9 ] .
p:buzzer-silent a fo:Fault ; rdfs:label "buzzer silent"@en ; fo:origin origin:component ; fo:afflicts p:buzzer ;
    fo:failureMode mode:no-output ; fo:relativeFrequency 1 ; fo:remedy p:refer-buzzer ; fo:source p:notes ;
    fo:effect [ a fo:Effect ; fo:symptom symptom:buttons-do-nothing ; fo:likelihood 1 ] .
p:new-fan a fo:Remedy ; rdfs:label "fit a new fan"@en ; fo:remedyKind remedy:replace ; fo:worksOn p:fan .
p:restore a fo:Remedy ; rdfs:label "have the supply restored"@en ; fo:remedyKind remedy:correct-supply ; fo:minutes 5 .
p:refer-buzzer a fo:Remedy ; rdfs:label "leave the buzzer"@en ; fo:remedyKind remedy:advise-customer ;
    fo:worksOn p:buzzer ; fo:minutes 2 .
p:fan-ohms a fo:Check ; rdfs:label "resistance of the fan"@en ; fo:examines p:fan ; fo:checkPurpose purpose:test ;
    fo:quantity quantity:resistance ; fo:between p:fan-return, p:fan-line ; fo:minutes 2 ; fo:tool tool:multimeter ;
    fo:needsState p:supply-isolated ; fo:instruction "Read the ohms."@en ; fo:source p:notes ;
    fo:outcome [ a fo:Outcome ; rdfs:label "open"@en ; fo:healthy false ; fo:atLeast 1e6 ; fo:speaksFor p:fan-open ],
        [ a fo:Outcome ; rdfs:label "about 400 ohms"@en ; fo:healthy true ; fo:atLeast 360 ; fo:atMost 440 ;
            fo:rulesOut p:fan-open ] .
p:buzzer-listen a fo:Check ; rdfs:label "listen to the buzzer"@en ; fo:examines p:buzzer ; fo:minutes 1 ;
    fo:checkPurpose purpose:inspect ; fo:quantity quantity:listen ; fo:live true ; fo:needsState p:supply-on ;
    fo:instruction "Press a key."@en ; fo:source p:notes ;
    fo:outcome [ a fo:Outcome ; rdfs:label "it sounds"@en ; fo:healthy true ;
            fo:rulesOut p:buzzer-silent, p:no-supply ],
        [ a fo:Outcome ; rdfs:label "silence"@en ; fo:healthy false ; fo:speaksFor p:buzzer-silent, p:no-supply ] .

# codes, service modes, finish steps, bulletins
p:code-e1 a fo:DisplayCode ; rdfs:label "fan does not turn"@en ; fo:notation "E1" ; fo:indicates p:fan-open ;
    fo:accompanies symptom:does-not-start ; fo:stored true ; fo:setWhen "No turns counted."@en ;
    fo:doesNotProve "A loose wire reads the same."@en ; fo:clearing "It goes once the fan turns."@en .
p:code-e2 a fo:DisplayCode ; rdfs:label "no sound"@en, "kein Ton"@de ; fo:notation "E2" ; fo:indicates p:buzzer-silent ;
    fo:accompanies symptom:buttons-do-nothing .
p:self-test a fo:ServiceMode ; rdfs:label "self test"@en ; fo:instruction "Hold the key for five seconds."@en ;
    fo:modeKind service:component-test ; fo:needsState p:supply-on ; fo:needsFitted p:guard ; fo:source p:notes ;
    fo:serviceStep [ a fo:ServiceStep ; fo:order 2 ; fo:stage "run" ; fo:text "Press the key."@en ;
            fo:shows "The fan turns."@en ; fo:runs p:fan ; fo:closes p:relay ; fo:minutes 1 ],
        [ a fo:ServiceStep ; fo:stage "enter" ; fo:text "Hold the key."@en ; fo:order 1 ],
        [ a fo:ServiceStep ; fo:stage "leave" ; fo:text "Let the key go."@en ; fo:order 3 ] .
p:finish-2 a fo:FinishStep ; fo:order 2 ; fo:text "Run it for a minute."@en .
p:finish-1 a fo:FinishStep ; fo:order 1 ; fo:text "Look at the guard."@en .
p:late-notice a fo:Bulletin ; rdfs:label "board changed"@en ; fo:bulletinKind bulletin:changed-part ;
    fo:text "The board has changed."@en ; fo:concerns p:late .
p:model-notice a fo:Bulletin ; rdfs:label "fan changed"@en ; fo:bulletinKind bulletin:changed-procedure ;
    fo:text "The quiet fan turns out."@en ; fo:concerns model:bm-20 .
p:guard-notice a fo:Bulletin ; rdfs:label "guard hooks"@en ; fo:bulletinKind bulletin:safety-recall ;
    fo:text "Look at the hooks."@en ; fo:concerns p:guard .
"""

TURTLE = PREFIXES + "\n" + STATEMENTS


def blocks(statements: str = STATEMENTS) -> list[str]:
    """The statements, one text for each subject."""
    found: list[str] = []
    for line in statements.splitlines():
        if not line or line.startswith("#"):
            continue
        if line[0].isspace():
            found[-1] += "\n" + line
        else:
            found.append(line)
    return found


def changed(old: str, new: str) -> str:
    """The document with its one ``old`` written as ``new``."""
    assert TURTLE.count(old) == 1, f"{old!r} is there {TURTLE.count(old)} times"
    return TURTLE.replace(old, new)


def rows_of(turtle: str) -> list[Row]:
    """What the store answers to the ``statements`` query once it holds ``turtle``."""
    store = EmbeddedStore()
    store.put_graph(GRAPH, turtle, file=NAME)
    return store.select("statements", {"graph": GRAPH})


def statements_of(rows: Iterable[Row] | None = None) -> Statements:
    """The machine's statements, or those of ``rows``."""
    return Statements.gather(rows_of(TURTLE) if rows is None else rows, {})


def compiled(turtle: str = TURTLE) -> Appliance:
    """The whole platform, compiled from ``turtle``."""
    statements = statements_of(rows_of(turtle))
    return whole_platform(statements, revision="r1", symptoms=SYMPTOMS, isolating_kinds=ISOLATING)
