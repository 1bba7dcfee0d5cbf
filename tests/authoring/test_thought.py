"""What shapes cannot say: one change to a whole machine that passes, and the check tells that one thing."""

from __future__ import annotations

import pytest

from firstoff.authoring.check import check_text
from firstoff.authoring.findings import Severity
from firstoff.authoring.ontology import Ontology
from firstoff.content import data_folder
from support.small_platform import NAME, TURTLE, changed, with_more

LABEL = 'rdfs:label "{0}"@en ; fo:onComponent p:box'
BYPASS = (
    f"p:always a fo:Point ; {LABEL.format('lamp of the socket')} .\n"
    f"p:bypass a fo:Link ; {LABEL.format('wire past the plug')} ; fo:linkKind link:conductor ;\n"
    "    fo:from p:socket-line ; fo:to p:always ."
)
LOOSE = (
    f"p:loose-a a fo:Point ; {LABEL.format('loose end')} .\n"
    f"p:loose-b a fo:Point ; {LABEL.format('other end')} .\n"
    f"p:loose a fo:Link ; {LABEL.format('loose wire')} ; fo:linkKind link:conductor ;\n"
    "    fo:from p:loose-a ; fo:to p:loose-b ."
)
KNOB = 'p:knob a fo:Component ; rdfs:label "knob"@en ; fo:kind component:cover ; fo:inZone p:inside .'
DIM = """
p:lamp-dim a fo:Fault ; rdfs:label "lamp dim"@en ; fo:origin origin:component ; fo:afflicts p:lamp ;
    fo:failureMode mode:open-circuit ; fo:relativeFrequency 1 ; fo:remedy p:clean-lamp ; fo:source p:notes ;
    fo:effect [ a fo:Effect ; fo:symptom symptom:light-out ; fo:likelihood 0.1 ] .
p:clean-lamp a fo:Remedy ; rdfs:label "clean the lamp"@en ; fo:remedyKind remedy:clean ; fo:worksOn p:lamp .
"""
ALIKE = (
    with_more(DIM)
    .replace("fo:speaksFor p:lamp-broken", "fo:speaksFor p:lamp-broken, p:lamp-dim")
    .replace("fo:rulesOut p:lamp-broken", "fo:rulesOut p:lamp-broken, p:lamp-dim")
)
TOOLS = " ; fo:tool tool:driver-hexalobular-t20"
LEVER = "    fo:tool tool:plastic-lever ; "

SMALL = {
    "a part no one can reach": (with_more(KNOB), "component-fixed", "knob", Severity.WARNING),
    "needs in a circle": (
        changed("fo:removes p:tray ;", "fo:removes p:tray ; fo:needsOff p:lamp ;"),
        "never-comes-off",
        "cover",
        Severity.ERROR,
    ),
    "a live point no isolating device clears": (with_more(BYPASS), "never-cleared", "box", Severity.WARNING),
    "a circuit part that floats": (with_more(LOOSE), "circuit-floats", "loose-a", Severity.WARNING),
    "a fastening with no tool": (
        changed(TOOLS, "").replace(LEVER, "    "),
        "fastening-without-tool",
        "cover-off",
        Severity.ERROR,
    ),
    "a fault no check can confirm": (
        changed(" ; fo:speaksFor p:lamp-broken", ""),
        "fault-without-check",
        "lamp-broken",
        Severity.WARNING,
    ),
    "a symptom with no fault": (
        changed("fo:accompanies symptom:light-out", "fo:accompanies symptom:noisy"),
        "symptom-without-fault",
        "code-e1",
        Severity.WARNING,
    ),
    "two faults no check tells apart": (ALIKE, "faults-alike", "lamp-broken", Severity.WARNING),
    "a reviewed statement without a source": (
        with_more('p:lamp fo:status "reviewed" .'),
        "reviewed-without-source",
        "lamp",
        Severity.ERROR,
    ),
    "a label another language lacks": (
        changed('rdfs:label "inside"@en', 'rdfs:label "inside"@en, "innen"@de'),
        "lacks-language",
        "outside",
        Severity.WARNING,
    ),
    "a model that leaves out the only part a remedy works on": (
        with_more(
            "p:no-supply fo:remedy p:wipe .\n"
            'p:wipe a fo:Remedy ; rdfs:label "wipe the tray"@en ; fo:remedyKind remedy:clean ; fo:worksOn p:tray .'
        ).replace("fo:remedy p:restore", "fo:remedy p:wipe"),
        "remedy-left-out",
        "no-supply",
        Severity.ERROR,
    ),
}


@pytest.mark.parametrize(("turtle", "rule", "resource", "severity"), SMALL.values(), ids=SMALL)
def test_one_change_gives_one_finding(
    turtle: str, rule: str, resource: str, severity: Severity, ontology: Ontology
) -> None:
    assert turtle != TURTLE
    (finding,) = check_text(turtle, NAME, ontology).findings
    assert (finding.rule, finding.resource, finding.severity) == (rule, resource, severity)
    assert finding.line is not None
    assert finding.message.endswith(".")
    assert finding.mend.endswith(".")


DRYER = (data_folder() / "tolvane-galewood.ttl").read_text(encoding="utf-8")
LINE = DRYER.partition("fo:line p:")[2].split()[0].rstrip(",;")
ON_THE_MOTOR = "fo:onComponent p:drive-motor"
PAST_THE_PLUG = BYPASS.replace("p:socket-line", f"p:{LINE}").replace("fo:onComponent p:box", ON_THE_MOTOR)

DEMO = {
    "a part no one can reach": (DRYER + KNOB.replace("p:inside", "p:front"), "component-fixed", "knob"),
    "a live point no isolating device clears": (DRYER + PAST_THE_PLUG, "never-cleared", "drive-motor"),
    "a circuit part that floats": (
        DRYER + LOOSE.replace("fo:onComponent p:box", ON_THE_MOTOR),
        "circuit-floats",
        "loose-a",
    ),
    "a symptom with no fault": (
        DRYER.replace("symptom:shows-error-code, symptom:hums", "symptom:shows-error-code, symptom:fan-noise-freezer"),
        "symptom-without-fault",
        None,
    ),
    "a reviewed statement without a source": (
        DRYER + 'p:drum-belt fo:status "reviewed" .',
        "reviewed-without-source",
        "drum-belt",
    ),
    "a label another language lacks": (
        DRYER + 'p:drum-belt rdfs:label "Trommelriemen"@de .',
        "lacks-language",
        "drum-belt",
    ),
}


@pytest.mark.parametrize(("turtle", "rule", "resource"), DEMO.values(), ids=DEMO)
def test_a_broken_copy_of_a_demo_machine_is_told_so(
    turtle: str, rule: str, resource: str | None, ontology: Ontology
) -> None:
    assert turtle != DRYER
    (finding,) = check_text(turtle, "tolvane-galewood.ttl", ontology).findings
    assert finding.rule == rule
    assert resource in (None, finding.resource)
