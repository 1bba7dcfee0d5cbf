"""One model of a platform: what it has, what goes with a part that it has not, and that nothing refers to it."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

import pytest
from hypothesis import given, settings

from firstoff.appliance.circuit import (
    EnergySource,
    Link,
    LinkKind,
    Point,
)
from firstoff.appliance.model import (
    Appliance,
    Caution,
    FinishStep,
)
from firstoff.appliance.terms import Concept
from firstoff.appliance.variant import Cause, Changes, had, narrowed
from firstoff.errors import ContentBroken
from support.random_platforms import REFERENCES, Case, Oracle, cases, holding, references
from support.small_machine import compiled

OPTIONAL = frozenset({"buzzer", "quiet-fan", "late-board"})
PLAIN, BM_20 = Changes(), Changes(frozenset({"guard"}), frozenset({"buzzer"}), {"fan": "quiet-fan"})
EARLY, LATE = Changes(adds=frozenset({"buzzer"})), Changes(replaces={"board": "late-board"})


@pytest.fixture(scope="module")
def whole() -> Appliance:
    return compiled()


# --- the small machine -----------------------------------------------------------------------------


def test_no_change_changes_nothing(whole: Appliance) -> None:
    assert narrowed(whole, Changes(), frozenset()) == whole


#: changes, components that the model lacks
LACKING = [
    (PLAIN, {"buzzer", "quiet-fan", "late-board"}),
    (EARLY, {"quiet-fan", "late-board"}),
    (LATE, {"buzzer", "quiet-fan", "board"}),
    (BM_20, {"guard", "fan", "late-board"}),
    (Changes(leaves_out=frozenset({"buzzer"}), adds=frozenset({"buzzer"})), {"buzzer", "quiet-fan", "late-board"}),
    (Changes(frozenset({"quiet-fan"}), replaces={"fan": "quiet-fan"}), {"buzzer", "fan", "quiet-fan", "late-board"}),
    (Changes(replaces={"fan": "quiet-fan", "quiet-fan": "board"}), {"buzzer", "fan", "quiet-fan", "late-board"}),
]


@pytest.mark.parametrize(("changes", "lacking"), LACKING)
def test_components(whole: Appliance, changes: Changes, lacking: set[str]) -> None:
    assert set(whole.components) - set(narrowed(whole, changes, OPTIONAL).components) == lacking


#: what a finish step waits for, the changes of the model, what it waits for then; None where the step goes
FINISH = [
    (set(), PLAIN, set()),
    ({"fan"}, PLAIN, {"fan"}),
    ({"fan"}, BM_20, {"quiet-fan"}),  # a substitute takes the place
    ({"guard"}, BM_20, None),
    ({"guard", "isolate"}, BM_20, {"isolate"}),  # preparations and states are always there
    ({"guard", "supply-isolated"}, BM_20, {"supply-isolated"}),
    ({"buzzer"}, PLAIN, None),
    ({"buzzer"}, EARLY, {"buzzer"}),
]


@pytest.mark.parametrize(("after", "changes", "expected"), FINISH)
def test_finish_steps(whole: Appliance, after: set[str], changes: Changes, expected: set[str] | None) -> None:
    step = FinishStep(1, "Look.", only_after=frozenset(after))
    found = narrowed(replace(whole, finish=(step,)), changes, OPTIONAL).finish
    assert [set(each.only_after) for each in found] == ([] if expected is None else [expected])


def test_the_rated_input_of_a_model(whole: Appliance) -> None:
    rated = replace(whole, construction=replace(whole.construction, rated_input=60.0, protection_class="I"))
    assert narrowed(rated, PLAIN, OPTIONAL).construction == rated.construction
    own = narrowed(rated, Changes(rated_input=75.0), OPTIONAL).construction
    assert (own.rated_input, own.protection_class) == (75.0, "I")
    merged = Changes(rated_input=75.0).merged(Changes())
    assert merged.rated_input == 75.0
    assert Changes(rated_input=75.0).merged(Changes(rated_input=80.0)).rated_input == 80.0


def test_what_goes_with_an_absent_part(whole: Appliance) -> None:
    plain = narrowed(whole, PLAIN, OPTIONAL)
    assert "buzzer-coil" not in plain.circuit.links
    assert "low-plus" not in plain.circuit.points
    assert "low" not in plain.circuit.sources
    assert "buzzer-silent" not in plain.faults
    assert "buzzer-listen" not in plain.checks
    assert "hear-buzzer" not in plain.access_paths
    assert "code-e2" not in plain.codes
    assert "buttons-do-nothing" not in plain.symptoms
    assert plain.faults["no-supply"].brings_on == {"fan-open"}


def test_what_stays_with_the_rest(whole: Appliance) -> None:
    early = narrowed(whole, EARLY, OPTIONAL)
    gone = {"late-relay"}, {"late-contact"}, {"quiet-fan-off"}
    assert set(whole.circuit.devices) - set(early.circuit.devices) == gone[0]
    assert set(whole.circuit.links) - set(early.circuit.links) == gone[1]
    assert set(whole.removals) - set(early.removals) == gone[2]
    assert (early.faults, early.checks, early.codes) == (whole.faults, whole.checks, whole.codes)


def test_a_need_for_an_absent_part_is_met(whole: Appliance) -> None:
    model = narrowed(whole, BM_20, OPTIONAL)
    assert whole.removals["cover-off"].needs_off == {"guard"}
    assert model.removals["cover-off"].needs_off == frozenset()
    assert model.access_paths["watch-fan"].needs_fitted == {"cover"}
    assert model.preparations["isolate"].needs_fitted == frozenset()


def test_a_substitute_inherits_what_it_does_not_bring(whole: Appliance) -> None:
    model = narrowed(whole, BM_20, OPTIONAL)
    assert model.circuit.points["fan-line"].component == "quiet-fan"
    assert model.circuit.links["fan-winding"].component == "quiet-fan"
    assert model.access_paths["test-fan"].component == "quiet-fan"
    assert model.faults["fan-open"].component == "quiet-fan"
    assert model.faults["fan-open"].remedies[0].component == "quiet-fan"
    assert model.checks["fan-ohms"].component == "quiet-fan"
    assert model.circuit.sources["warm-fan"].held_by == "quiet-fan"
    assert (model.components["blade"].sits_inside, model.components["blade"].replaced_as) == ("quiet-fan", "quiet-fan")


def test_a_substitute_brings_its_own_removal(whole: Appliance) -> None:
    model = narrowed(whole, BM_20, OPTIONAL)
    assert {slug for slug, each in model.removals.items() if each.component == "quiet-fan"} == {"quiet-fan-off"}
    assert "fan-off" not in model.removals


def test_a_substitute_brings_its_own_links_and_devices(whole: Appliance) -> None:
    late = narrowed(whole, LATE, OPTIONAL)
    assert "relay-contact" not in late.circuit.links
    assert "relay" not in late.circuit.devices
    contact = late.circuit.links["late-contact"]
    assert (contact.component, contact.device) == ("late-board", "late-relay")
    assert late.circuit.points["board-out"].component == "late-board"
    assert late.removals["board-off"].component == "late-board"
    assert late.removals["board-off"].opens == frozenset()


def test_a_contact_whose_device_is_gone_stays_closed(whole: Appliance) -> None:
    """Dropped, it would make dead what may be live: here everything behind the guard switch."""
    contact = narrowed(whole, BM_20, OPTIONAL).circuit.links["guard-contact"]
    assert (contact.kind, contact.device) == (LinkKind.CONTACT, None)
    assert narrowed(whole, PLAIN, OPTIONAL).circuit.links["guard-contact"].device == "guard-switch"


def test_a_contact_inherited_without_its_device_stays_closed(whole: Appliance) -> None:
    """The late board with a relay of its own and no contact of its own."""
    links = {slug: link for slug, link in whole.circuit.links.items() if slug != "late-contact"}
    late = narrowed(replace(whole, circuit=replace(whole.circuit, links=links)), LATE, OPTIONAL)
    contact = late.circuit.links["relay-contact"]
    assert (contact.component, contact.device) == ("late-board", None)


def test_a_bleed_resistor_of_an_absent_capacitor_bleeds_nothing(whole: Appliance) -> None:
    own = Link("other", "other", LinkKind.WINDING, "fan-line", "fan-return", "quiet-fan")
    circuit = replace(whole.circuit, links={**whole.circuit.links, "other": own})
    model = narrowed(replace(whole, circuit=circuit), BM_20, OPTIONAL)
    assert "fan-capacitor" not in model.circuit.links
    assert model.circuit.links["fan-bleed"].bleeds is None


def test_a_source_keeps_what_is_left_of_it(whole: Appliance) -> None:
    source = EnergySource("two", "two", Concept("mains", "mains"), ("fan-line", "low-plus"), "low-minus", "chassis")
    more = replace(whole, circuit=replace(whole.circuit, sources={"two": source}))
    left = narrowed(more, PLAIN, OPTIONAL).circuit.sources["two"]
    assert (left.lines, left.neutral, left.protective_earth) == (("fan-line",), None, "chassis")
    neutral = replace(source, lines=("low-plus",), neutral="fan-return")
    only = replace(whole, circuit=replace(whole.circuit, sources={"two": neutral}))
    assert narrowed(only, PLAIN, OPTIONAL).circuit.sources["two"].neutral == "fan-return"


def test_cautions_go_with_the_last_thing_they_apply_to(whole: Appliance) -> None:
    cautions = {each.id: each.applies_to for each in narrowed(whole, BM_20, OPTIONAL).cautions}
    assert cautions == {"moving-blade": {"quiet-fan"}, "cord-first": {"brook-fan"}}


@pytest.mark.parametrize("slug", ["no-supply", "mains", "fan-lead", "cord-line", "code-e1", "supply-on", "self-test"])
def test_no_caution_is_lost_for_what_it_applies_to(whole: Appliance, slug: str) -> None:
    caution = Caution("x", "DANGER", Concept("h", "h"), "x", "x", frozenset({slug}))
    assert narrowed(replace(whole, cautions=(caution,)), BM_20, OPTIONAL).cautions == (caution,)


def test_substitutes_in_a_circle(whole: Appliance) -> None:
    for circle in ({"fan": "fan"}, {"fan": "board", "board": "fan"}, {"fan": "a", "a": "b", "b": "a"}):
        with pytest.raises(ContentBroken, match="substitutes of each other"):
            narrowed(whole, Changes(replaces=circle), OPTIONAL)


def test_a_substitute_of_a_substitute(whole: Appliance) -> None:
    """The quiet fan brings a removal, so its own substitute inherits that one and not the plain fan's."""
    third = replace(whole.components["fan"], id="third")
    more = replace(whole, components={**whole.components, "third": third})
    model = narrowed(more, BM_20.merged(Changes(replaces={"quiet-fan": "third"})), OPTIONAL | {"third"})
    assert {slug for slug, each in model.removals.items() if each.component == "third"} == {"quiet-fan-off"}
    assert model.circuit.links["fan-winding"].component == "third"
    assert model.circuit.points["fan-line"].component == "third"
    assert not {"fan", "quiet-fan"} & set(model.components)


# --- a model's changes and then its serial range's -------------------------------------------------

A = frozenset({"a"})

#: the model's, the range's, the outcome
MERGED = [
    (Changes(), Changes(), Changes()),
    (Changes(A), Changes(), Changes(A)),
    (Changes(), Changes(A), Changes(A)),
    (Changes(A), Changes(frozenset({"b"})), Changes(frozenset({"a", "b"}))),
    # the range has the last word
    (Changes(leaves_out=A), Changes(adds=A), Changes(adds=A)),
    (Changes(adds=A), Changes(leaves_out=A), Changes(leaves_out=A)),
    (Changes(leaves_out=A), Changes(replaces={"b": "a"}), Changes(replaces={"b": "a"})),
    (Changes(replaces={"a": "b"}), Changes(replaces={"a": "c"}), Changes(replaces={"a": "c"})),
    # a substitute of a substitute
    (Changes(replaces={"a": "b"}), Changes(replaces={"b": "c"}), Changes(replaces={"a": "b", "b": "c"})),
    # back to the plain part
    (Changes(replaces={"a": "b"}), Changes(replaces={"b": "a"}), Changes(replaces={"b": "a"})),
    (Changes(replaces={"a": "b"}), Changes(adds=A), Changes(adds=A)),
]


@pytest.mark.parametrize(("model", "serials", "both"), MERGED)
def test_merged(model: Changes, serials: Changes, both: Changes) -> None:
    assert model.merged(serials) == both


def test_empty() -> None:
    assert Changes().empty
    assert not any(each.empty for each in (Changes(A), Changes(adds=A), Changes(replaces={"a": "b"})))


# --- any platform, any changes ---------------------------------------------------------------------


@settings(max_examples=60)
@given(cases())
def test_nothing_refers_to_what_is_absent(case: Case) -> None:
    variant = narrowed(case.platform, case.changes, case.optional)
    named: dict[str, set[str]] = defaultdict(set)
    for kind, slug in references(variant):
        named[kind].add(slug)
    there = holding(variant)
    assert {kind: slugs - there[kind] for kind, slugs in named.items() if slugs - there[kind]} == {}
    circuit = variant.circuit
    some = set().union(*there.values()) | set(variant.removals) | set(variant.access_paths) | set(variant.checks)
    some |= set(variant.codes) | set(circuit.sources) | set(variant.preparations) | {"platform"}
    assert {slug for caution in variant.cautions for slug in caution.applies_to} <= some


def test_the_walk_over_references_sees_every_kind(whole: Appliance) -> None:
    assert {kind for kind, _ in references(whole)} == set(REFERENCES)


@settings(max_examples=60)
@given(cases())
def test_has_what_the_words_say(case: Case) -> None:
    variant, oracle, platform = narrowed(case.platform, case.changes, case.optional), Oracle(case), case.platform
    assert set(variant.components) == oracle.present
    for kept, items in (
        (variant.removals, platform.removals),
        (variant.access_paths, platform.access_paths),
        (variant.faults, platform.faults),
        (variant.circuit.devices, platform.circuit.devices),
    ):
        owners = {slug: item.component for slug, item in items.items()}
        assert {slug: item.component for slug, item in kept.items()} == oracle.owned(owners)
    points = oracle.points()
    assert {slug: point.component for slug, point in variant.circuit.points.items()} == points
    owned = oracle.owned({slug: link.component for slug, link in platform.circuit.links.items()})
    ends = {slug: {link.start, link.end} for slug, link in platform.circuit.links.items()}
    assert {slug: link.component for slug, link in variant.circuit.links.items()} == {
        slug: owner for slug, owner in owned.items() if ends[slug] <= set(points)
    }
    checks = oracle.owned({slug: check.component for slug, check in platform.checks.items()})
    assert {slug: check.component for slug, check in variant.checks.items()} == {
        slug: owner for slug, owner in checks.items() if set(platform.checks[slug].between) <= set(points)
    }


@settings(max_examples=40)
@given(cases())
def test_needs_are_read_as_the_variant_has_them(case: Case) -> None:
    variant, oracle, platform = narrowed(case.platform, case.changes, case.optional), Oracle(case), case.platform
    for slug, removal in variant.removals.items():
        assert removal.needs_off == oracle.read(platform.removals[slug].needs_off)
        assert removal.opens == platform.removals[slug].opens & set(variant.circuit.links)
        assert removal.bares == platform.removals[slug].bares & set(variant.circuit.points)
    for slug, path in variant.access_paths.items():
        assert path.needs_off == oracle.read(platform.access_paths[slug].needs_off)
        assert path.needs_fitted == oracle.read(platform.access_paths[slug].needs_fitted)
    act = variant.preparations["act"]
    assert act.needs_off == oracle.read(platform.preparations["act"].needs_off)
    for slug, device in variant.circuit.devices.items():
        assert device.needs_off == oracle.read(platform.circuit.devices[slug].needs_off)
    for slug, link in variant.circuit.links.items():
        before = platform.circuit.links[slug].device
        assert link.device == (before if before in variant.circuit.devices else None)


@settings(max_examples=40)
@given(cases())
def test_a_source_goes_only_with_its_holder_or_its_last_point(case: Case) -> None:
    variant, oracle = narrowed(case.platform, case.changes, case.optional), Oracle(case)
    points = set(oracle.points())
    for slug, source in case.platform.circuit.sources.items():
        fed = {*source.lines, *source.feeds, *({source.neutral} - {None})}
        if source.held_by is not None:
            there = bool(oracle.read(frozenset({source.held_by})))
        else:
            there = not fed or bool(fed & points)
        assert (slug in variant.circuit.sources) is there


def test_a_point_of_a_part_that_two_models_lack(whole: Appliance) -> None:
    """A point moves with the place, whoever fills it."""
    extra = Point("extra", "extra", "quiet-fan")
    more = replace(whole, circuit=replace(whole.circuit, points={**whole.circuit.points, "extra": extra}))
    assert "extra" not in narrowed(more, PLAIN, OPTIONAL).circuit.points
    assert narrowed(more, BM_20, OPTIONAL).circuit.points["extra"].component == "quiet-fan"


def test_a_service_mode_runs_what_the_model_has() -> None:
    platform = compiled()
    (mode,) = platform.service_modes.values()
    assert (mode.steps[1].runs, mode.steps[1].closes) == ({"fan"}, {"relay"})
    without = narrowed(platform, Changes(leaves_out=frozenset({"fan", "board", "guard"})), frozenset())
    left = without.service_modes[mode.id]
    assert [step.text for step in left.steps] == [step.text for step in mode.steps]
    assert (left.steps[1].runs, left.steps[1].closes, left.needs_fitted) == (frozenset(), frozenset(), frozenset())


@given(cases())
@settings(max_examples=300)
def test_what_a_model_has_is_said_alike_without_the_rest_of_it(case: Case) -> None:
    whole = case.platform
    causes = {
        slug: Cause(fault.component, frozenset(each.symptom for each in fault.effects))
        for slug, fault in whole.faults.items()
    }
    found = had(frozenset(whole.components), causes, whole.codes, case.changes, case.optional)
    model = narrowed(whole, case.changes, case.optional)
    assert found.components == set(model.components)
    assert found.codes == set(model.codes)
    assert found.symptoms & set(whole.symptoms) == set(model.symptoms)
