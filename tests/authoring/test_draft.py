from __future__ import annotations

from firstoff.authoring.ontology import Ontology
from firstoff.store.terms import Iri
from support.drafts import draft_of
from support.small_platform import TURTLE, changed

SPACE = "https://firstoff.example/platform/small-box/"


def test_variants_are_models_and_their_serial_ranges(ontology: Ontology) -> None:
    draft = draft_of(TURTLE, ontology)
    parts = {variant.words: set(variant.appliance.components) for variant in draft.variants}
    common = {"socket", "stop-tap", "cord", "box", "cover", "lamp-glass"}
    assert parts == {
        "box 10, early": common | {"tray", "lamp"},
        "box 10, late": common | {"tray", "lamp", "buzzer"},
        "box 20": common | {"buzzer", "bright-lamp"},
    }
    assert draft.whole is not None
    assert set(draft.whole.components) == common | {"tray", "lamp", "buzzer", "bright-lamp"}


def test_labels_and_classes(ontology: Ontology) -> None:
    draft = draft_of(TURTLE, ontology)
    assert draft.label("tray") == "drip tray"
    assert draft.label("nothing-of-this-name") == "nothing-of-this-name"
    assert draft.classes(Iri(SPACE + "tray")) == ("Component",)
    assert draft.classes(Iri(SPACE + "nothing")) == ()


def test_owners_of_blank_nodes(ontology: Ontology) -> None:
    draft = draft_of(TURTLE, ontology)
    assert set(draft.owners.values()) == {
        "cord-off", "tray-off", "cover-off", "lamp-off", "lamp-broken", "no-supply", "lamp-ohms", "lamp-look",
            "buzzer-coil", "self-test",
    }  # fmt: skip


def test_blank_nodes_inside_blank_nodes_belong_to_the_resource(ontology: Ontology) -> None:
    draft = draft_of("@prefix p: <https://firstoff.example/platform/x/> . p:a p:b [ p:c [ p:d 1 ] ] .", ontology)
    assert sorted(draft.owners.values()) == ["a", "a"]


def test_what_cannot_be_compiled_is_said(ontology: Ontology) -> None:
    draft = draft_of(changed("fo:minutesOut 0.2", "fo:minutesOut 0.2, 0.3"), ontology)
    assert draft.whole is None
    assert draft.variants == ()
    assert draft.broken is not None
    assert "minutesOut" in draft.broken
