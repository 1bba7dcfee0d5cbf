"""The catalogue of models: found by slug or plate, narrowed by serial number, with the bulletins that touch them."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest

from firstoff.answers.desk import Desk
from firstoff.appliance.terms import Concept
from firstoff.appliance.variant import Changes
from firstoff.collection.catalogue import Collection, SerialRange
from firstoff.collection.opening import put_words
from firstoff.errors import AmbiguousModel, BadRequest, ContentBroken, NotFound
from firstoff.store.embedded import EmbeddedStore
from firstoff.store.terms import Iri
from support.small_machine import PLATFORM, TURTLE, changed

WORDS = """
@prefix fo: <https://firstoff.example/ontology#> .
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .
@prefix device: <https://firstoff.example/vocabulary/device-kinds#> .
@prefix appliance: <https://firstoff.example/vocabulary/appliance-kinds#> .
device:plug a skos:Concept ; skos:prefLabel "plug"@en ; fo:isolates true .
appliance:cooker-hood a skos:Concept ; skos:prefLabel "cooker hood"@en .
"""


def store_of(*documents: tuple[str, str]) -> EmbeddedStore:
    """A store with a vocabulary and the platforms given: slug and Turtle."""
    store = EmbeddedStore()
    put_words(store, WORDS)
    for slug, turtle in documents:
        graph = Iri(f"https://firstoff.example/graph/{slug}/1")
        store.put_graph(graph, turtle, file=f"{slug}.ttl")
        store.point(Iri(f"https://firstoff.example/platform/{slug}"), graph, f"revision of {slug}")
    return store


def collection_of(turtle: str = TURTLE) -> Collection:
    return Collection(store_of(("brook-fan", turtle)))


def other(number: str, slug: str = "other-20") -> str:
    """Another platform, whose second model has this number."""
    return (
        TURTLE.replace(PLATFORM, PLATFORM.replace("brook-fan", "other-fan"))
        .replace("model:bm-10-s", "model:other-10")
        .replace("model:bm-20", f"model:{slug}")
        .replace('"BM 10/S"', '"OTHER 10"')
        .replace('"BM 20"', f'"{number}"')
    )


@pytest.fixture(scope="module")
def collection() -> Collection:
    return collection_of()


# --- models ----------------------------------------------------------------------------------------


def test_entries(collection: Collection) -> None:
    assert [entry.id for entry in collection.models] == ["bm-10-s", "bm-20"]
    entry = collection.models[0]
    assert (entry.number, entry.label, entry.maker) == ("BM 10/S", "Brook fan 10", "Tolvane")
    assert entry.platform == Concept("brook-fan", "Brook table fan")
    assert entry.kind == Concept("cooker-hood", "cooker hood")
    assert entry.revision == "revision of brook-fan"
    assert collection.platform_count == 1


def test_labels_are_english_whatever_the_order() -> None:
    """A label in two languages makes two rows; which comes first is the engine's business."""
    swapped = changed('"Brook fan 10"@en, "Brook-Ventilator 10"@de', '"Ältester Ventilator"@de, "Zephyr fan 10"@en')
    assert collection_of(swapped).models[0].label == "Zephyr fan 10"
    assert collection_of(swapped).models[0].platform.label == "Brook table fan"


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("bm-10-s", "bm-10-s"),
        ("bm-20", "bm-20"),
        ("BM 10/S", "bm-10-s"),
        ("bm10s", "bm-10-s"),
        ("BM 1O S", "bm-10-s"),
        ("  Bm-10 / s ", "bm-10-s"),
        ("BM 2O", "bm-20"),
        ("B.M.2.0", "bm-20"),
    ],
)
def test_find(collection: Collection, name: str, found: str) -> None:
    assert collection.find(name).id == found


@pytest.mark.parametrize(
    ("name", "nearest"),
    [
        ("BM 21", ["bm-20", "bm-10-s"]),
        ("BM 2O/S", ["bm-20", "bm-10-s"]),
        ("BM 10", ["bm-10-s", "bm-20"]),
        ("qqqqqqqq", []),
        ("", []),
        (" / ", []),
        ("日本", []),
    ],
)
def test_not_found(collection: Collection, name: str, nearest: list[str]) -> None:
    with pytest.raises(NotFound) as caught:
        collection.find(name)
    assert sorted(caught.value.nearest) == sorted(nearest)
    assert (caught.value.what, caught.value.name) == ("model", name)
    assert caught.value.nearest[:1] == tuple(nearest[:1])


def test_a_number_that_two_models_have() -> None:
    both = Collection(store_of(("brook-fan", TURTLE), ("other-fan", other("BM-2O"))))
    with pytest.raises(AmbiguousModel) as caught:
        both.find("BM 20")
    assert caught.value.models == ("bm-20", "other-20")
    assert both.find("bm-20").id == "bm-20"
    assert both.find("other-20").number == "BM-2O"
    assert [entry.id for entry in both.models] == ["bm-10-s", "bm-20", "other-10", "other-20"]
    assert both.platform_count == 2


def test_revision_is_of_all_platforms() -> None:
    one, two = ("brook-fan", TURTLE), ("other-fan", other("ON 3"))
    revisions = {Collection(store_of(*each)).revision for each in ((one,), (two,), (one, two), ())}
    assert len(revisions) == 4
    assert Collection(store_of(one, two)).revision == Collection(store_of(two, one)).revision


def test_only_the_current_version_is_seen() -> None:
    store = store_of(("brook-fan", TURTLE))
    graph = Iri("https://firstoff.example/graph/brook-fan/2")
    store.put_graph(graph, changed('"BM 20"', '"BM 30"'), file="brook-fan.ttl")
    before = Collection(store)
    store.point(Iri(PLATFORM), graph, "second")
    after = Collection(store)
    assert [entry.number for entry in before.models] == ["BM 10/S", "BM 20"]
    assert [entry.number for entry in after.models] == ["BM 10/S", "BM 30"]
    assert {entry.revision for entry in after.models} == {"second"}
    assert before.revision != after.revision


# --- serial numbers --------------------------------------------------------------------------------

EARLY, LATE = "serial numbers from BF 100 to BF 199", "serial numbers from BF 300"


@pytest.mark.parametrize(
    ("model", "serial", "ranges"),
    [
        ("bm-10-s", "BF 150", [EARLY]),
        ("bm-10-s", "bf-1oo", [EARLY]),
        ("bm-10-s", "BF199", [EARLY]),
        ("bm-10-s", "BF 300", [LATE]),
        ("bm-10-s", "BF 12345", [LATE]),
        # in no range
        ("bm-10-s", "BF 250", [None]),
        ("bm-10-s", "BF 99", [None]),
        # not given, or nothing that can be read: every possibility, and the gap is one of them
        ("bm-10-s", None, [None, EARLY, LATE]),
        ("bm-10-s", "", [None, EARLY, LATE]),
        ("bm-10-s", " - ", [None, EARLY, LATE]),
        # a model without ranges
        ("bm-20", None, [None]),
        ("BM 2O", "BF 150", [None]),
    ],
)
def test_appliances(collection: Collection, model: str, serial: str | None, ranges: list[str | None]) -> None:
    found = collection.appliances(model, serial)
    assert [appliance.serial_range for appliance in found] == ranges
    assert {appliance.model for appliance in found} == {collection.find(model).id}


def test_what_an_appliance_is_called(collection: Collection) -> None:
    (appliance,) = collection.appliances("bm-10-s", "BF 150")
    assert (appliance.model_number, appliance.label, appliance.revision) == (
        "BM 10/S",
        "Brook fan 10",
        "revision of brook-fan",
    )
    assert appliance.kind == Concept("cooker-hood", "cooker hood")
    assert appliance.circuit.devices["plug"].isolating


def test_parts_of_model_and_range(collection: Collection) -> None:
    def parts(model: str, serial: str) -> set[str]:
        return set(collection.appliances(model, serial)[0].components) & {
            *("guard", "board", "late-board", "fan", "quiet-fan", "buzzer")
        }

    assert parts("bm-10-s", "BF 250") == {"guard", "board", "fan"}
    assert parts("bm-10-s", "BF 150") == {"guard", "board", "fan", "buzzer"}
    assert parts("bm-10-s", "BF 350") == {"guard", "late-board", "fan"}
    assert parts("bm-20", "BF 350") == {"board", "quiet-fan", "buzzer"}


#: the two ranges, as they are written instead; what an unknown serial number may be
RANGES = [
    ('"BF 100" ; fo:lastSerial "BF 199"', '"BF 300"', [None, EARLY, LATE]),
    ('"BF 100" ; fo:lastSerial "BF 299"', '"BF 300"', [None, "serial numbers from BF 100 to BF 299", LATE]),
    ('"BF 100" ; fo:lastSerial "BF 1000"', '"BF 300"', [None, "serial numbers from BF 100 to BF 1000", LATE]),
]


@pytest.mark.parametrize(("early", "late", "possible"), RANGES)
def test_without_a_serial_number(early: str, late: str, possible: list[str | None]) -> None:
    turtle = changed('"BF 100" ; fo:lastSerial "BF 199"', early).replace('"BF 300"', late)
    assert [each.serial_range for each in collection_of(turtle).appliances("bm-10-s")] == possible


def test_ranges_that_hold_every_number_leave_no_other() -> None:
    turtle = changed('fo:firstSerial "BF 100" ; fo:lastSerial "BF 199"', 'fo:lastSerial "BF 299"')
    found = [each.serial_range for each in collection_of(turtle).appliances("bm-10-s")]
    assert found == ["serial numbers to BF 299", LATE]


def test_ranges_with_a_gap_leave_the_model_as_it_is() -> None:
    turtle = changed('fo:firstSerial "BF 100" ; fo:lastSerial "BF 199"', 'fo:lastSerial "BF 198"')
    found = [each.serial_range for each in collection_of(turtle).appliances("bm-10-s")]
    assert found == [None, "serial numbers to BF 198", LATE]


def test_a_serial_number_that_two_ranges_hold_is_not_guessed() -> None:
    overlapping = collection_of(changed('"BF 199"', '"BF 400"'))
    ranges = [each.serial_range for each in overlapping.appliances("bm-10-s", "BF 350")]
    assert ranges == ["serial numbers from BF 100 to BF 400", LATE]


def test_ranges_come_in_the_order_of_their_numbers() -> None:
    turtle = changed('"BF 300"', '"BF 99"').replace('"BF 199"', '"BF 1999"')
    assert [each.id for each in collection_of(turtle).serial_ranges("bm-10-s")] == ["late", "early"]


@pytest.mark.parametrize(
    ("first", "last", "words"),
    [
        ("1", "2", "serial numbers from 1 to 2"),
        ("1", None, "serial numbers from 1"),
        (None, "2", "serial numbers to 2"),
        (None, None, "serial numbers of any kind"),
    ],
)
def test_words_of_a_range(first: str | None, last: str | None, words: str) -> None:
    assert SerialRange("r", first, last, Changes()).words == words


def test_changes_and_the_whole_platform(collection: Collection) -> None:
    assert collection.changes("bm-10-s").empty
    assert collection.changes("bm-20").replaces == {"fan": "quiet-fan"}
    assert {"fan", "quiet-fan", "buzzer", "late-board"} <= set(collection.whole_platform("bm-20").components)
    assert collection.serial_ranges("bm-20") == ()


def test_an_unknown_model_has_no_appliances(collection: Collection) -> None:
    with pytest.raises(NotFound):
        collection.appliances("bm-21")


# --- bulletins -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("model", "serial", "touching"),
    [
        ("bm-10-s", "BF 250", {"guard-notice"}),
        ("bm-10-s", "BF 150", {"guard-notice"}),
        ("bm-10-s", "BF 350", {"guard-notice", "late-notice"}),
        ("bm-20", None, {"model-notice"}),
    ],
)
def test_bulletins(collection: Collection, model: str, serial: str | None, touching: set[str]) -> None:
    (appliance,) = collection.appliances(model, serial)
    assert {bulletin.id for bulletin in appliance.bulletins} == touching


@pytest.mark.parametrize(
    ("concerns", "touched"),
    [
        # a model, with all its ranges
        ("model:bm-10-s", {"BF 250", "BF 150", "BF 350"}),
        # a range and a component that every range has: the range alone
        ("p:early, p:guard", {"BF 150"}),
        # another model and a component
        ("model:bm-20, p:guard", set()),
        # the original and what takes its place
        ("p:board", {"BF 250", "BF 150"}),
        ("p:late-board", {"BF 350"}),
        (f"<{PLATFORM}>", {"BF 250", "BF 150", "BF 350"}),
    ],
)
def test_what_a_bulletin_touches(concerns: str, touched: set[str]) -> None:
    collection = collection_of(changed("fo:concerns p:guard", f"fo:concerns {concerns}"))
    found = {
        serial
        for serial in ("BF 250", "BF 150", "BF 350")
        if "guard-notice" in {each.id for each in collection.appliances("bm-10-s", serial)[0].bulletins}
    }
    assert found == touched


# --- the rest --------------------------------------------------------------------------------------


def test_an_appliance_is_compiled_once(collection: Collection) -> None:
    assert collection.appliances("bm-20")[0] is collection.appliances("BM 20", "BF 1")[0]


def test_many_threads_get_the_same() -> None:
    collection = collection_of()
    with ThreadPoolExecutor(8) as pool:
        found = list(pool.map(lambda _: collection.appliances("bm-10-s"), range(32)))
    assert all(each == found[0] for each in found)
    assert len({id(appliance) for each in found for appliance in each}) == 3


def test_content_that_cannot_be_compiled_is_told_when_asked_for() -> None:
    collection = collection_of(changed("fo:removes p:cover ;", ""))
    assert collection.find("bm-20").id == "bm-20"
    with pytest.raises(ContentBroken, match="cover-off has no removes"):
        collection.appliances("bm-20")


def test_an_empty_store() -> None:
    collection = Collection(EmbeddedStore())
    assert (collection.models, collection.platform_count) == ((), 0)
    with pytest.raises(NotFound):
        collection.find("bm-20")


@pytest.mark.parametrize("serial", ["abc", "X22010001"])
def test_a_serial_number_of_another_form_is_refused(desk: Desk, serial: str) -> None:
    """To take it for some range would be to guess which machine it is (guarantee 9)."""
    with pytest.raises(BadRequest, match="does not look like a serial number"):
        desk.model("tgd27-410-k", serial)


def test_what_stands_before_a_serial_number_is_passed_over(desk: Desk) -> None:
    assert desk.model("tgd27-410-k", "S/N 22010001") == desk.model("tgd27-410-k", "22010001")
    assert desk.model("tgd27-410-k", "S/N 22010001") != desk.model("tgd27-410-k", "S/N 23400000")
