"""The search from query to hits: tables of what customers type and what is meant."""

from __future__ import annotations

import pytest

from firstoff.search import Answer, Entry, Index, Phrase
from support.small_index import ENTRIES, SYNONYMS


@pytest.fixture(scope="module")
def index() -> Index:
    return Index.build(ENTRIES, SYNONYMS)


@pytest.mark.parametrize(
    ("query", "first"),
    [
        ("drain pump", "drain-pump"),
        ("drsin pump", "drain-pump"),  # the key beside
        ("drian pmup", "drain-pump"),  # swapped letters
        ("draain pummp", "drain-pump"),  # doubled
        ("drin pmp", "drain-pump"),  # dropped
        ("pump drain", "drain-pump"),  # word order
        ("drain pu", "drain-pump"),  # half-typed
        ("drainpump", "drain-pump"),  # run together
        ("drainpmup", "drain-pump"),  # run together, with a slip
        ("dish washer arm", "dishwasher-arm"),  # taken apart
        ("door swich", "door-switch"),
        ("fridge not cooling", "fridge-not-cooling"),
        ("my fridge is not cooling please help", "fridge-not-cooling"),  # little words
        ("refrigerator not cooling", "fridge-not-cooling"),  # synonym
        ("frige isn't coling", "fridge-not-cooling"),  # two slips and a negation
        ("the washer doesn't spin", "no-spin"),  # a synonym of two words, a negation
        ("washr wont turn", "no-spin"),
        ("drum not spinning", "no-spin"),  # another ending
        ("lamp", "lamp"),  # for "light bulb"
        ("dryer heats not", "no-heat"),
        ("leaking water", "leak"),
        ("TÜRSCHALTER", "door-switch"),
        ("tuerschalter", "door-switch"),
        ("turschalter", "door-switch"),
        ("Tu\u0308rschlater", "door-switch"),
        ("kuehlschrank kuehlt nicht", "fridge-not-cooling"),
        ("trommel dreht sich nicht", "no-spin"),
        ("refrigerador no enfria", "fridge-not-cooling"),  # no accent
        ("E4", "e4"),
        ("e 4", "e4"),
        ("E - 4", "e4"),
        ("shows error E 4", "e4"),
        ("f5", "f05"),  # a zero left out
        ("FO5", "f05"),  # O for 0
        ("wm1200a", "wm-1200-a"),
        ("WM 12OO / A", "wm-1200-a"),  # O for 0, spaces
        ("marrowby wm 1200 a", "wm-1200-a"),
        ("WM12", "wm-1200-a"),  # half-typed
        ("1200", "wm-1200-a"),  # a part of the number
        ("WM 1300 A", "wm-1200-a"),  # a misread digit of a long number
        ("wm-100", "wm-1o0"),  # 0 for O
        ("td90", "td-90"),
    ],
)
def test_first_hit(index: Index, query: str, first: str) -> None:
    assert index.search(query).hits[0].id == first


@pytest.mark.parametrize(
    ("query", "matched", "marked"),
    [
        ("drian pump", "Drain pump", ["Drain", "pump"]),
        ("drain pu", "Drain pump", ["Drain", "pu"]),  # as far as typed
        ("door", "Door switch", ["Door"]),
        ("e4", "E-4", ["E-4"]),  # a number from end to end
        ("washer wont spin", "washing machine won't spin", ["washing", "machine", "won't", "spin"]),
        ("tuerschalter", "Türschalter", ["Türschalter"]),
        ("dreht nicht", "Trommel dreht nicht", ["dreht", "nicht"]),
    ],
)
def test_what_matched(index: Index, query: str, matched: str, marked: list[str]) -> None:
    hit = index.search(query).hits[0]
    assert hit.matched == matched
    assert [hit.matched[start:end] for start, end in hit.ranges] == marked


@pytest.mark.parametrize("query", ["", "   ", "!!!", "\x00\x07", "\u200b", "\ud800"])
def test_a_query_without_words_has_no_hits(index: Index, query: str) -> None:
    assert index.search(query) == Answer()


@pytest.mark.parametrize("query", ["E6", "e 44", "F06", "E-7"])
def test_another_code_is_no_hit(index: Index, query: str) -> None:
    assert index.search(query, kind="code").hits == ()


def test_words_near_are_suggested_where_nothing_is_good(index: Index) -> None:
    answer = index.search("pxmq")
    assert answer.hits == ()
    assert answer.suggestions == ("pump",)
    assert index.search("drain pump").suggestions == ()
    assert index.search("qqqqqq") == Answer()


def test_entries_alike_are_one_hit_with_the_models_of_all(index: Index) -> None:
    pumps = [hit for hit in index.search("drain pump").hits if hit.id == "drain-pump"]
    assert len(pumps) == 1
    assert pumps[0].models == {"wm-1200-a", "td-90"}
    assert pumps[0].groups == {"marrowby-front", "tolvane-dry"}


def test_entries_with_one_id_but_other_labels_stay_apart() -> None:
    entries = [Entry("code", "e4", "E4 no drain", group="a"), Entry("code", "e4", "E4 no heat", group="b")]
    hits = Index.build(entries).search("e4").hits
    assert [(hit.label, hit.groups) for hit in hits] == [
        ("E4 no drain", frozenset("a")),
        ("E4 no heat", frozenset("b")),
    ]


def test_kind_leaves_others_out(index: Index) -> None:
    assert {hit.kind for hit in index.search("drain", kind="code").hits} == {"code"}
    assert index.search("drain", kind="bulletin") == Answer()


def test_the_model_in_hand_comes_first_among_equals(index: Index) -> None:
    assert index.search("pump", model="dw-6").hits[0].id == "sump-pump"
    assert index.search("pump", model="td-90").hits[0].id == "drain-pump"
    # It does not outweigh a better phrase, and an unknown model changes nothing.
    assert index.search("drain pump", model="dw-6").hits[0].id == "drain-pump"
    assert index.search("pump", model="no-such-model") == index.search("pump")


def test_what_occurs_often_comes_first_among_equals() -> None:
    entries = [Entry("symptom", "rare", "Noise, left"), Entry("symptom", "common", "Noise, rear", weight=0.9)]
    assert [hit.id for hit in Index.build(entries).search("noise").hits] == ["common", "rare"]


def test_the_language_asked_for_comes_first_among_equals() -> None:
    entries = [
        Entry("component", "a", "Alpha", (Phrase("Motor vorne", "de"),)),
        Entry("component", "b", "Beta", (Phrase("motor atrás", "es"),)),
    ]
    index = Index.build(entries)
    assert index.search("motor", lang="es-MX").hits[0].id == "b"
    assert index.search("motor", lang="de").hits[0].id == "a"
    assert {hit.id for hit in index.search("motor", lang="de").hits} == {"a", "b"}


def test_an_equal_phrase_comes_before_one_with_every_bonus() -> None:
    entries = [
        Entry("symptom", "other-order", "drain the pump", models=frozenset({"m"}), weight=1.0),
        Entry("symptom", "equal", "pump the drain"),
    ]
    hits = Index.build(entries).search("Pump, the drain", model="m").hits
    assert [hit.id for hit in hits] == ["equal", "other-order"]


def test_only_the_first_two_hundred_characters_count(index: Index) -> None:
    assert index.search("drain pump " + " " * 189 + "door switch") == index.search("drain pump ")


@pytest.mark.parametrize(("limit", "found"), [(-1, 0), (0, 0), (1, 1), (2, 2)])
def test_limit(index: Index, limit: int, found: int) -> None:
    assert len(index.search("pump", limit=limit).hits) == found


def test_an_empty_index_has_no_hits() -> None:
    assert Index.build([]).search("drain pump") == Answer()
    assert Index.build([Entry("symptom", "x", "!!!")], SYNONYMS).search("drain pump").hits == ()
