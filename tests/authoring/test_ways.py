from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Component,
    Preparation,
    Purpose,
    Removal,
    State,
)
from firstoff.appliance.terms import Concept
from firstoff.authoring import ways
from firstoff.authoring.ontology import Ontology
from support.drafts import problems, told
from support.small_platform import TURTLE, changed, with_more

HELD = (
    " ; fo:minutesOut 1 ; fo:minutesBack 1 ; fo:fastening [ a fo:Fastening ; fo:kind fastening:tab ; fo:count 1 ] ;"
    ' fo:reassemblyCheck [ a fo:ReassemblyCheck ; fo:text "It sits."@en ; fo:checkKind check:fit ] ;'
    ' fo:instruction "Pull."@en ; fo:source p:notes .'
)


def removal(name: str, component: str, needs: str = "") -> str:
    return f'p:{name} a fo:Removal ; rdfs:label "{name}"@en ; fo:removes p:{component}{needs}{HELD}'


def test_small_platform_comes_apart(ontology: Ontology) -> None:
    assert problems(ways.never, TURTLE, ontology) == []
    assert problems(ways.never_reached, TURTLE, ontology) == []
    assert problems(ways.fixed_components, TURTLE, ontology) == []


class TestNever:
    def test_a_circle_is_told_part_by_part_and_once(self, ontology: Ontology) -> None:
        # cover needs the tray off; the tray now needs the lamp off, and the lamp the cover
        turtle = changed("fo:removes p:tray ;", "fo:removes p:tray ; fo:needsOff p:lamp ;")
        (problem,) = problems(ways.never, turtle, ontology)
        assert (problem.rule, problem.resource) == ("never-comes-off", "cover")
        assert "taking off cover waits for drip tray off" in problem.message
        assert "taking off drip tray waits for lamp off" in problem.message
        assert "taking off lamp waits for cover off" in problem.message
        assert "seen on box 10, early" in problem.message

    def test_another_way_opens_the_circle(self, ontology: Ontology) -> None:
        turtle = changed("fo:removes p:tray ;", "fo:removes p:tray ; fo:needsOff p:lamp ;")
        turtle += removal("tray-torn-out", "tray")
        assert problems(ways.never, turtle, ontology) == []

    def test_a_model_that_leaves_the_part_out_has_no_circle(self, ontology: Ontology) -> None:
        """Box 20 has no tray, so that there the cover needs nothing; box 10 is told."""
        turtle = changed("fo:removes p:tray ;", "fo:removes p:tray ; fo:needsOff p:cover ;")
        (problem,) = problems(ways.never, turtle, ontology)
        assert "box 10" in problem.message
        assert "box 20" not in problem.message

    def test_a_need_for_a_fixed_part(self, ontology: Ontology) -> None:
        turtle = changed("fo:removes p:tray ;", "fo:removes p:tray ; fo:needsOff p:box ;")
        assert told(ways.never, turtle, ontology) == [("never-comes-off", "tray")]

    def test_a_state_that_nothing_gives(self, ontology: Ontology) -> None:
        turtle = changed("fo:removes p:tray ;", "fo:removes p:tray ; fo:needsState p:folded ;")
        turtle += '\np:folded a fo:State ; rdfs:label "folded"@en ; fo:valueOf p:posture .'
        assert told(ways.never, turtle, ontology) == [("never-comes-off", "tray")]

    def test_a_state_that_waits_for_itself(self, ontology: Ontology) -> None:
        turtle = changed(
            "fo:needsState p:water-off ;", "fo:needsState p:water-off ; fo:needsOff p:sink ;", start="p:tilt a"
        )
        turtle += '\np:sink a fo:Component ; rdfs:label "sink"@en ; fo:kind component:sump ; fo:inZone p:inside .\n'
        turtle += removal("sink-off", "sink", " ; fo:needsState p:tilted")
        assert told(ways.never, turtle, ontology) == [("never-comes-off", "sink")]


def test_a_way_in_that_never_opens(ontology: Ontology) -> None:
    turtle = changed("fo:minutes 0.1 ;", "fo:minutes 0.1 ; fo:needsOff p:socket ;", start="p:see-box")
    assert told(ways.never_reached, turtle, ontology) == [("way-in-never-open", "see-box")]


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        # nothing leads to it
        (TURTLE.replace("fo:reaches p:box ;", "fo:reaches p:lamp ;"), [("component-fixed", "box")]),
        # the glass comes off as the lamp it is part of; without that it is fixed
        (changed(" ;\n    fo:replacedAs p:lamp .", " ."), [("component-fixed", "lamp-glass")]),
        # the bright lamp inherits from the plain one; without the substitution nothing leads to it
        (changed("fo:substitute p:bright-lamp", "fo:substitute p:buzzer"), [("component-fixed", "bright-lamp")]),
        (with_more('p:knob a fo:Component ; rdfs:label "knob"@en ; fo:kind component:cover ; fo:inZone p:inside .'),
         [("component-fixed", "knob")]),
    ],
    ids=["no way", "no unit", "no original", "new"],
)  # fmt: skip
def test_fixed_components(turtle: str, expected: list[tuple[str, str | None]], ontology: Ontology) -> None:
    assert told(ways.fixed_components, turtle, ontology) == expected


NAMES = tuple("abcdefgh")
CONCEPT = Concept("x", "x")


@st.composite
def appliances(draw: st.DrawFn) -> Appliance:
    """Up to eight parts with ways that need each other, and a variable of three states."""
    parts = NAMES[: draw(st.integers(1, 8))]
    states = {f"s{number}": State(f"s{number}", "v", f"s{number}", initial=number == 0) for number in range(3)}
    sets = st.frozensets(st.sampled_from(parts), max_size=3)
    held = st.frozensets(st.sampled_from(sorted(states)), max_size=1)
    removals = {
        slug: Removal(slug, draw(st.sampled_from(parts)), slug, 1, 1, needs_off=draw(sets), needs_states=draw(held))
        for slug in (f"r{number}" for number in range(draw(st.integers(0, 12))))
    }
    preparations = {
        slug: Preparation(slug, slug, gives, "s0", 1, 1, needs_off=draw(sets), needs_states=draw(held))
        for slug, gives in (("p1", "s1"), ("p2", "s2"))
        if draw(st.booleans())
    }
    return Appliance(
        "m", "m", "m", CONCEPT, "Marrowby", CONCEPT, "r",
        components={part: Component(part, part, CONCEPT, CONCEPT) for part in parts},
        removals=removals, preparations=preparations, states=states,
        access_paths={"w": AccessPath("w", parts[0], "w", Purpose.TEST, CONCEPT)},
    )  # fmt: skip


@given(appliances())
def test_facts_to_be_had_are_the_least_closed_set(appliance: Appliance) -> None:
    """Against an oracle that tries every way again and again until nothing is new."""
    had = {"s0"}
    while True:
        more = {r.component for r in appliance.removals.values() if r.needs_off | r.needs_states <= had}
        more |= {
            p.gives for p in appliance.preparations.values() if p.needs_off | p.needs_states | {p.from_state} <= had
        }
        if more <= had:
            break
        had |= more
    assert ways.facts_to_be_had(appliance) == had
