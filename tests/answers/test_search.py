"""Search answers on the demo machines."""

from __future__ import annotations

import pytest

from firstoff.answers.desk import Desk
from firstoff.errors import NotFound
from firstoff_contract.search import SearchAnswer


def ask(
    desk: Desk, query: str, model: str | None = None, kind: str | None = None, lang: str | None = None, limit: int = 10
) -> SearchAnswer:
    return desk.search(query, model=model, kind=kind, lang=lang, limit=limit)


@pytest.mark.parametrize(
    ("query", "kind", "slug"),
    [
        ("drum does not turn", "symptom", "drum-does-not-turn"),
        ("drumm wont trun", "symptom", "drum-does-not-turn"),  # typing errors, swapped letters
        ("turn not does drum", "symptom", "drum-does-not-turn"),  # word order
        ("drum does not tu", "symptom", "drum-does-not-turn"),  # half-typed
        ("evaporater fan", "component", "evaporator-fan"),
        ("fan evaporator", "component", "evaporator-fan"),
        ("drumbelt", "component", "drum-belt"),  # joined
        ("TGD27/46O S", "model", "tgd27-460-s"),  # letter O for zero
        ("flb316t", "model", "flb-316-t"),
    ],
)
def test_first_hit(desk: Desk, query: str, kind: str, slug: str) -> None:
    first = ask(desk, query).hits[0]
    assert (first.kind, first.id) == (kind, slug)


def test_every_symptom_is_found_by_each_of_its_labels(desk: Desk) -> None:
    collection = desk.opened.collection
    shown = {s: symptom for e in collection.models for s, symptom in collection.appliances(e.id)[0].symptoms.items()}
    for slug, symptom in shown.items():
        for language, texts in symptom.labels.items():
            for text in texts:
                found = [hit.id for hit in ask(desk, text, kind="symptom", lang=language, limit=5).hits]
                assert slug in found, (slug, text, found)


def test_codes_with_and_without_spaces(desk: Desk) -> None:
    for model in ("flb-316-t", "tgd27-460-s"):
        for code in desk.opened.collection.appliances(model)[0].codes.values():
            spaced = " ".join(code.notation)
            for query in (code.notation, code.notation.lower(), spaced):
                ids = [hit.id for hit in ask(desk, query, model=model, kind="code", limit=3).hits]
                assert code.id in ids, (query, ids)


def test_symptom_lists_faults_by_share_with_telling_checks(desk: Desk) -> None:
    hit = ask(desk, "drum does not turn", model="tgd27-460-s").hits[0]
    shares = [fault.share for fault in hit.faults]
    assert shares == sorted(shares, reverse=True)
    assert 0 < sum(shares) <= 1.001
    assert all(fault.models == ["tgd27-460-s"] for fault in hit.faults)
    assert all(fault.remedies for fault in hit.faults)
    assert any(fault.checks for fault in hit.faults)
    for fault in hit.faults:
        for check in fault.checks:
            spoken = {s for outcome in check.outcomes for s in outcome.speaks_for + outcome.rules_out}
            assert fault.id in spoken


def test_faults_that_models_share_are_listed_once(desk: Desk) -> None:
    hit = ask(desk, "fridge is warm, freezer is cold", kind="symptom").hits[0]
    ids = [fault.id for fault in hit.faults]
    assert len(ids) == len(set(ids))
    assert any(fault.models == ["flb-316-k", "flb-316-t"] for fault in hit.faults)


def test_a_model_that_lacks_the_part_is_not_named(desk: Desk) -> None:
    """The ice maker is on the K model alone, the touch panel on the T model alone."""
    hit = next(hit for hit in ask(desk, "ice maker", kind="component").hits if hit.id == "ice-maker")
    assert hit.models == ["flb-316-k"]


def test_scores_and_ranges(desk: Desk) -> None:
    answer = ask(desk, "drum belt", limit=10)
    scores = [hit.score for hit in answer.hits]
    assert scores == sorted(scores, reverse=True)
    for hit in answer.hits:
        assert 0 <= hit.score <= 1
        for start, end in hit.ranges:
            assert 0 <= start < end <= len(hit.matched)


@pytest.mark.parametrize(
    "query",
    [
        "",
        "   ",
        "!!!",
        "\u202e\u0000",
        "😀",
        "x" * 10_000,
        "qqqq zzzz",
        "\u0627\u0644\u062b\u0644\u0627\u062c\u0629 \u0644\u0627",
    ],
)
def test_nothing_good_is_said(desk: Desk, query: str) -> None:
    answer = ask(desk, query)
    assert answer.hits == []
    assert answer.query == query
    words = any(character.isalpha() for character in query)
    assert answer.note
    assert answer.note.startswith("Nothing good was found." if words else "There is no word to search for.")
    assert desk.suggest(query, limit=5).completions == []


def test_nothing_good_names_words_near(desk: Desk) -> None:
    answer = ask(desk, "xxmpxexxor")
    assert answer.hits == []
    assert "compressor" in answer.suggestions
    assert "compressor" in (answer.note or "")
    assert ask(desk, "drum").note is None


@pytest.mark.parametrize(
    "query",
    [
        "dr\x00um doe\x1bs not tu\x07rn",  # control characters inside words
        "\u202edrum does not turn\u202c",  # right-to-left override
        "drum 😀 does not turn 🔧",
        "drum\tdoes\nnot\r\nturn",
        "drum does not turn" + " " * 9_900 + "x",  # the first 200 characters count
        "\ufeffdrum\u00a0does not turn\ud800",
    ],
)
def test_what_is_no_letter_does_not_disturb(desk: Desk, query: str) -> None:
    assert ask(desk, query).hits[0].id == "drum-does-not-turn"


@pytest.mark.parametrize(
    ("query", "lang", "spoken", "label", "label_lang"),
    [
        ("Trommel dreht nicht", None, "de", "Trommel dreht sich nicht", "de"),  # as it was asked
        ("Trommel dreht nicht", "en", "de", "drum does not turn", "en"),
        ("Trommel dreht nicht", "es", "de", "el tambor no gira", "es"),
        ("drum does not turn", "de", "en", "Trommel dreht sich nicht", "de"),
        ("drum does not turn", None, "en", "drum does not turn", "en"),
        ("drum does not turn", "fr", "en", "drum does not turn", "en"),  # no French name
    ],
)
def test_the_language_is_told_by_the_words_and_the_answer_is_in_the_one_asked_for(
    desk: Desk, query: str, lang: str | None, spoken: str, label: str, label_lang: str
) -> None:
    answer = ask(desk, query, kind="symptom", lang=lang)
    assert answer.lang == spoken
    assert (answer.hits[0].label, answer.hits[0].lang) == (label, label_lang)


def test_parts_and_codes_in_another_language_keep_what_tells_them_apart(desk: Desk) -> None:
    switches = {hit.id: hit.label for hit in ask(desk, "Türschalter", kind="component", model="flb-316-t").hits}
    assert switches["freezer-door-switch"].startswith("Türschalter (")
    assert switches["freezer-door-switch"] != switches["fridge-door-switch"]
    code = ask(desk, "E3", kind="code", model="tgd27-460-s", lang="de").hits[0]
    assert code.label.startswith("E3: ")


@pytest.mark.parametrize(
    ("query", "symptom"),
    [
        ("no enfría", "not-cooling"),
        ("no enfria", "not-cooling"),
        ("heizt nicht", "no-heat"),
        ("heitzt nich", "no-heat"),
        ("se para a mitad de ciclo", "stops-midway"),
        ("Trommel dreht nicht", "drum-does-not-turn"),
        ("warm fridge but freezer ok", "fridge-warm"),
    ],
)
def test_complaints_in_three_languages(desk: Desk, query: str, symptom: str) -> None:
    assert ask(desk, query, kind="symptom").hits[0].id == symptom


def test_unknown_model(desk: Desk) -> None:
    with pytest.raises(NotFound):
        ask(desk, "drum", model="none")


@pytest.mark.parametrize(
    ("typed", "text", "marked"),
    [
        ("drumm do", "Drum does not turn", ["Drum", "do"]),  # a slip in the finished word
        ("Trommel dr", "Trommel dreht nicht", ["Trommel", "dr"]),
        ("el tam", "el tambor no gira", ["el", "tam"]),
        ("flb 31", "FLB 316 K", ["FLB 31"]),
    ],
)
def test_completions(desk: Desk, typed: str, text: str, marked: list[str]) -> None:
    found = desk.suggest(typed, limit=5)
    offered = {each.text.lower(): each for each in found.completions}
    each = offered[text.lower()]
    # Other ways to read a beginning ("do" begins "don't" too) may be marked besides.
    marks = [each.text[start:end].lower() for start, end in each.ranges]
    assert [mark for mark in marks if mark in [part.lower() for part in marked]] == [part.lower() for part in marked]
    assert found.revision == desk.opened.collection.revision


def test_completions_are_of_models_that_have_the_part(desk: Desk) -> None:
    offered = desk.suggest("ice mak", limit=5).completions
    assert [each.models for each in offered if each.id == "ice-maker"] == [["flb-316-k"]]


@pytest.mark.parametrize("query", ["", "   ", "!!!", "\u202e\u0000", "😀", "x" * 10_000, "qqqq zzzz"])
def test_nothing_is_offered_where_nothing_goes_on(desk: Desk, query: str) -> None:
    assert desk.suggest(query).completions == []


def test_suggesting_for_an_unknown_model(desk: Desk) -> None:
    with pytest.raises(NotFound):
        desk.suggest("drum", model="none")
