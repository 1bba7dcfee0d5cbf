"""Words of a refit, what an act hides, and what was done: on parts made for the purpose."""

from __future__ import annotations

import pytest

from firstoff.answers.deeds import deed_labels, deeds_of
from firstoff.answers.refit import hidden_checks, refit_checks, refit_wait, refit_words
from firstoff.answers.steps import renewals, supplies
from firstoff.appliance.circuit import (
    Circuit,
    Link,
    LinkKind,
)
from firstoff.appliance.model import (
    Appliance,
    Component,
    Connection,
    Fastening,
    Preparation,
    ReassemblyCheck,
    Removal,
    State,
    StateVariable,
)
from firstoff.appliance.terms import Concept
from firstoff.removal import Act, ActKind, OffRecord, Phase
from firstoff_contract.removal import Consumable

KIND = Concept("kind", "kind")
SCREW = Concept("screw", "screw")


def removal(slug: str, *needs: str, states: tuple[str, ...] = (), checks: tuple[ReassemblyCheck, ...] = ()) -> Removal:
    return Removal(
        id=f"{slug}-off",
        component=slug,
        label=f"{slug} off",
        minutes_out=1,
        minutes_back=1,
        needs_off=frozenset(needs),
        needs_states=frozenset(states),
        checks=checks,
        opens=frozenset({f"{slug}-bond"}),
    )


HIDDEN = ReassemblyCheck("It is latched.", before_cover=True, kind=Concept("latch", "latch"))
SEEN = ReassemblyCheck("It is straight.")
TRIED = ReassemblyCheck("It runs.", after_supply=True)

#: A fan behind a guard behind a cover; a hose behind nothing, reached with the machine pulled out.
MACHINE = Appliance(
    model="m",
    model_number="M",
    label="machine",
    platform=Concept("p", "p"),
    maker="Tolvane",
    kind=KIND,
    revision="r",
    components={slug: Component(slug, slug, KIND, KIND) for slug in ("fan", "guard", "cover", "hose")},
    removals={
        each.id: each
        for each in (
            removal("fan", "guard", "cover", checks=(SEEN, HIDDEN, TRIED)),
            removal("guard", "cover", checks=(HIDDEN,)),
            removal("cover", checks=(SEEN,)),
            removal("hose", states=("out",), checks=(HIDDEN,)),
        )
    },
    variables={"place": StateVariable("place", "place", ("in", "out"))},
    states={"in": State("in", "place", "in place", initial=True), "out": State("out", "place", "pulled out")},
    preparations={"pull": Preparation("pull", "pull it out", "out", "in", 1, 1)},
    circuit=Circuit(links={"fan-bond": Link("fan-bond", "bond", LinkKind.EARTH_BOND, "a", "b", "fan")}),
)

#: A deed: off, back, out (pull), in (push back), each with the state after it.
_KINDS = {
    "off": ActKind.REMOVE,
    "back": ActKind.REFIT,
    "pull": ActKind.PREPARE,
    "push": ActKind.UNDO,
    "serve": ActKind.SERVE,
}


def acts(*deeds: str) -> list[Act]:
    """Acts from words such as ``off fan``, ``back fan``, ``pull``, ``push`` and ``serve fan``."""
    found, state = [], "in"
    for step, deed in enumerate(deeds):
        word, _, part = deed.partition(" ")
        state = {"pull": "out", "push": "in"}.get(word, state)
        way = f"{part}-off" if word in ("off", "back") else "pull" if word in ("pull", "push") else None
        found.append(Act(_KINDS[word], part or None, way, 1.0, (), Phase.OUT, {"place": state}, step, OffRecord({})))
    return found


#: the plan, what each act hides by its number
HIDING = [
    (("off cover", "off guard", "off fan", "back fan", "back guard", "back cover"), {4: ["fan"], 5: ["guard"]}),
    (("off cover", "off guard", "back guard", "back cover"), {3: ["guard"]}),
    (("off cover", "back cover"), {}),
    (("pull", "off hose", "back hose", "push"), {3: ["hose"]}),
    # the guard stays off meanwhile; the cover, which the fan needs off too, goes on first
    (("off cover", "off guard", "off fan", "back fan", "back cover", "back guard"), {4: ["fan"]}),
    # off again before anything hides it: only what went back last counts
    (
        ("off cover", "off guard", "off fan", "back fan", "off fan", "serve fan", "back fan", "back guard"),
        {7: ["fan"]},
    ),
    # put together for a live test, and taken apart again
    (
        ("off cover", "off guard", "back guard", "back cover", "off cover", "off guard", "back guard", "back cover"),
        {3: ["guard"], 7: ["guard"]},
    ),
]


@pytest.mark.parametrize(("plan", "expected"), HIDING)
def test_hidden_checks(plan: tuple[str, ...], expected: dict[int, list[str]]) -> None:
    found = hidden_checks(MACHINE, acts(*plan))
    assert {step: [each.component.id for each in checks] for step, checks in found.items()} == expected
    assert {each.text for checks in found.values() for each in checks} <= {HIDDEN.text}


def test_a_refit_shows_first_what_will_be_hidden_and_nothing_that_needs_the_supply() -> None:
    found = refit_checks(MACHINE.removals["fan-off"])
    assert [check.text for check in found] == [HIDDEN.text, SEEN.text]
    assert found[0].kind is not None
    assert found[0].kind.id == "latch"


#: fastenings, checks, new parts, its own refit instruction, the words
WORDS = [
    ((), (), (), "", "Put it back in the reverse order of taking it off."),
    ((), (), (), "Warm it first.", "Warm it first."),
    (
        (Fastening(SCREW, 4, size="M4 x 10", torque=1.2), Fastening(SCREW, 2), Fastening(SCREW, 1, torque=6.0)),
        (SEEN,),
        (),
        "",
        "Put it back in the reverse order of taking it off. Tighten 4 x screw M4 x 10 to 1.2 N m; 1 x screw to 6 N m.",
    ),
    (
        (),
        (HIDDEN,),
        (Consumable(label="cable tie", count=2), Consumable(label="felt", count=1)),
        "Glue it.",
        "Glue it. Take new: 2 x cable tie; 1 x felt. The next part hides one check below: tick it off first.",
    ),
    (
        (),
        (HIDDEN, ReassemblyCheck("It has set.", before_cover=True, wait_minutes=30), TRIED),
        (),
        "Glue it.",
        "Glue it. The next part hides 2 checks below: tick them off first. Then let it rest for 30 minutes.",
    ),
]


@pytest.mark.parametrize(("fastenings", "checks", "new", "own", "expected"), WORDS)
def test_refit_words(
    fastenings: tuple[Fastening, ...],
    checks: tuple[ReassemblyCheck, ...],
    new: tuple[Consumable, ...],
    own: str,
    expected: str,
) -> None:
    way = Removal("x-off", "x", "x off", 1, 1, fastenings=fastenings, checks=checks, refit_instruction=own)
    assert refit_words(way, new) == expected


def test_waits_of_one_refit_run_together() -> None:
    checks = tuple(ReassemblyCheck(str(wait), wait_minutes=wait) for wait in (5.0, None, 30.0))
    assert refit_wait(Removal("x-off", "x", "x off", 1, 1, checks=checks)) == 30.0
    assert refit_wait(Removal("x-off", "x", "x off", 1, 1)) is None


#: the plan, what was off at the start, states at the start, what counts as done
DONE = [
    (("off cover", "back cover"), (), {}, {"cover"}),
    (("pull", "push"), (), {}, {"pull", "out"}),
    (("serve fan",), (), {}, set()),
    ((), ("fan",), {}, {"fan"}),
    ((), (), {"place": "out"}, {"out"}),
    (("push",), (), {"place": "out"}, {"pull", "out"}),
]


@pytest.mark.parametrize(("plan", "off", "states", "expected"), DONE)
def test_deeds(plan: tuple[str, ...], off: tuple[str, ...], states: dict[str, str], expected: set[str]) -> None:
    assert deeds_of(MACHINE, acts(*plan), frozenset(off), states).things == expected


def test_earth_bonds_undone() -> None:
    """Also those of a part that was off at the start; other links are none."""
    assert deeds_of(MACHINE, acts("off cover", "off guard", "off fan"), frozenset(), {}).bonds == {"fan-bond"}
    assert deeds_of(MACHINE, [], frozenset({"fan"}), {}).bonds == {"fan-bond"}
    assert deeds_of(MACHINE, acts("off cover", "off guard"), frozenset(), {}).bonds == frozenset()


def test_words_for_what_was_done() -> None:
    assert deed_labels(MACHINE, ["out", "pull", "fan", "unheard-of"]) == ["fan taken off", "pull it out", "pulled out"]


def test_a_connection_that_is_used_once_is_named_by_its_seal() -> None:
    way = Removal(
        "x-off",
        "fan",
        "x off",
        1,
        1,
        connections=(Connection(KIND, "hose union", seal="flat washer", single_use=True), Connection(KIND, "plug")),
        fastenings=(Fastening(KIND, 3, single_use=True, label="cable tie, cold resistant"), Fastening(SCREW)),
        consumables=("paste",),
        single_use=True,
    )
    assert [(each.label, each.count) for each in renewals(MACHINE, way)] == [
        ("cable tie, cold resistant", 3),
        ("hose union: flat washer", 1),
        ("fan", 1),
    ]
    assert [(each.label, each.count) for each in supplies(way)] == [("paste", 1)]
