"""Words that an organisation adds: what is let in, what is refused, and that platforms may use them."""

from __future__ import annotations

from pathlib import Path

import pytest

from firstoff.answers.desk import Desk
from firstoff.authoring.check import check_text
from firstoff.authoring.digest import ontology_digest
from firstoff.authoring.ontology import load_ontology, ontology_of
from firstoff.authoring.words import OPEN, check_words, sound_words
from firstoff.collection.opening import open_content
from firstoff.collection.shelf import Shelf
from firstoff.content import ontology_folder
from firstoff.settings import Settings
from support.small_platform import TURTLE, changed

HEAD = """@prefix our: <https://larkfield.example/words#> .
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .
@prefix fo: <https://firstoff.example/ontology#> .
@prefix scheme: <https://firstoff.example/vocabulary/> .
@prefix symptom: <https://firstoff.example/vocabulary/symptoms#> .
@prefix component: <https://firstoff.example/vocabulary/component-kinds#> .
"""
LANTERN = (
    'our:lantern a skos:Concept ; skos:inScheme scheme:component-kinds ; skos:prefLabel "lantern"@en, "Laterne"@de .'
)
FLICKERS = (
    'our:flickers a skos:Concept ; skos:inScheme scheme:symptoms ; skos:prefLabel "flickers"@en ; '
    'skos:altLabel "on and off again"@en .'
)
FRENCH = 'symptom:no-heat skos:prefLabel "aucun signe de vie"@fr ; skos:altLabel "stone dead"@en .'


def rules(text: str) -> list[str]:
    (report,) = check_words({"words/our.ttl": HEAD + text})
    return [finding.rule for finding in report.findings]


@pytest.mark.parametrize("text", [LANTERN, FLICKERS, FRENCH, LANTERN + FLICKERS + FRENCH, ""])
def test_words_that_are_sound(text: str) -> None:
    assert rules(text) == []


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (LANTERN.replace("a skos:Concept ;", ""), ["word-not-a-concept"]),
        (LANTERN.replace('"lantern"@en, ', ""), ["word-label"]),
        (LANTERN.replace('"Laterne"@de', '"lamp"@en'), ["word-label"]),
        (LANTERN.replace("component-kinds", "link-kinds"), ["word-scheme"]),  # computations rest on it
        (LANTERN.replace("component-kinds", "device-kinds"), ["word-scheme"]),
        (LANTERN.replace("skos:inScheme scheme:component-kinds ;", ""), ["word-scheme"]),
        (LANTERN.replace("component-kinds ;", "component-kinds, scheme:tools ;"), ["word-scheme"]),
        (LANTERN.replace("our:lantern a", "our:lamp a"), ["word-taken"]),  # ours is called so
        (LANTERN.replace("inScheme", "topConceptOf"), ["word-unknown-property", "word-scheme"]),
        (LANTERN.replace(" ;", " ; fo:isolates true ;", 1), ["word-unknown-property"]),
        (FRENCH.replace("no-heat", "no-powder"), ["word-not-ours"]),
        (FRENCH.replace("@fr", "@en"), ["word-of-ours-renamed"]),
        (FRENCH.replace("@fr", ""), ["word-language"]),
        ("component:lamp fo:isolates true .", ["word-of-ours-changed"]),
        ('fo:Removal skos:prefLabel "x"@fr .', ["word-not-ours"]),
        ('[] skos:prefLabel "x"@fr .', ["word-address"]),
        ("nonsense", ["syntax"]),
    ],
)
def test_words_that_are_refused(text: str, found: list[str]) -> None:
    assert rules(text) == found


def test_two_files_with_one_name() -> None:
    other = LANTERN.replace("our:lantern", "<https://other.example/lantern>")
    one, two = check_words({"words/a.ttl": HEAD + LANTERN, "words/b.ttl": HEAD + other})
    assert (one.ok, [finding.rule for finding in two.findings]) == (True, ["word-taken"])
    assert two.findings[0].file == "words/b.ttl"


def test_vocabularies_that_take_words_are_there() -> None:
    assert {path.stem for path in (ontology_folder() / "vocabularies").glob("*.ttl")} >= OPEN


USING = changed("fo:kind component:lamp", "fo:kind <https://larkfield.example/words#lantern>")


def content(folder: Path, words: str | None, turtle: str = USING) -> Path:
    (folder / "small-box.ttl").write_text(turtle, encoding="utf-8")
    (folder / "words").mkdir(exist_ok=True)
    if words is not None:
        (folder / "words" / "our.ttl").write_text(HEAD + words, encoding="utf-8")
    return folder


def test_a_platform_may_use_them_and_no_other(tmp_path: Path) -> None:
    ontology = load_ontology(content=content(tmp_path, LANTERN))
    assert check_text(USING, "small-box.ttl", ontology).ok
    assert not check_text(USING, "small-box.ttl").ok
    assert not check_text(USING.replace("words#lantern", "words#lanterns"), "small-box.ttl", ontology).ok
    wrong = changed("fo:kind component:lamp", "fo:kind component:lamppost")
    assert not check_text(wrong, "small-box.ttl", ontology).ok


def test_a_word_is_of_its_vocabulary_alone(tmp_path: Path) -> None:
    tool = LANTERN.replace("component-kinds", "tools")
    assert not check_text(USING, "small-box.ttl", load_ontology(content=content(tmp_path, tool))).ok


def test_served_searched_and_told(tmp_path: Path) -> None:
    opened = open_content(content(tmp_path, LANTERN + FLICKERS))
    assert opened.refused == ()
    desk = Desk(opened, Settings(data=tmp_path))
    assert desk.component("box-10", "lamp", "100").kind == "lantern"
    assert any(hit.id == "lamp" for hit in desk.search("Laterne", lang="de").hits)


def test_words_that_are_wrong_are_refused_with_what_uses_them(tmp_path: Path) -> None:
    other = TURTLE.replace("platform/small-box", "platform/other").replace("model/box-", "model/other-")
    (tmp_path / "other.ttl").write_text(other.replace('"BOX', '"OT'))
    opened = open_content(content(tmp_path, LANTERN.replace("a skos:Concept ;", "")))
    assert [each.file for each in opened.refused] == ["words/our.ttl", "small-box.ttl"]
    assert {entry.platform.id for entry in opened.collection.models} == {"other"}
    assert sound_words(tmp_path)[0] == {}


def test_another_word_asks_for_another_check_and_is_taken_over(tmp_path: Path) -> None:
    content(tmp_path, None)
    before = ontology_digest(content=tmp_path)
    shelf = Shelf(open_content(tmp_path), tmp_path)
    assert not shelf.opened.collection.models
    content(tmp_path, LANTERN)
    assert ontology_digest(content=tmp_path) != before
    assert shelf.refresh()
    assert shelf.opened.collection.models
    assert not shelf.refresh()
    assert ontology_of(tmp_path) is ontology_of(tmp_path)
