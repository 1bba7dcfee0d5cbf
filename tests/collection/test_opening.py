"""Opening a folder of content: what is refused and why, and that the rest is served."""

from __future__ import annotations

from pathlib import Path

import pytest

from firstoff.authoring import check
from firstoff.authoring.digest import digest_of, ontology_digest
from firstoff.authoring.record import record_file, write_record
from firstoff.collection.opening import Opened, Refusal, open_content
from firstoff.errors import ContentMissing, NotFound
from support.small_machine import NAME, PLATFORM, TURTLE, changed


def vouched(folder: Path, files: dict[str, str | bytes]) -> Path:
    """The folder with these files, all of which the record says have passed the check."""
    for name, content in files.items():
        (folder / name).write_bytes(content.encode() if isinstance(content, str) else content)
    digests = {name: digest_of((folder / name).read_bytes(), ontology_digest()) for name in files}
    write_record(digests, record_file(folder))
    return folder


def another(slug: str) -> str:
    """Another platform than the small machine, with models of its own."""
    return TURTLE.replace(PLATFORM, f"https://firstoff.example/platform/{slug}").replace("model:bm-", f"model:{slug}-")


def served(opened: Opened) -> list[str]:
    return [entry.id for entry in opened.collection.models]


@pytest.fixture
def no_check(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(path: Path) -> None:
        pytest.fail(f"{path.name} was checked")

    monkeypatch.setattr(check, "check_text", fail)


# --- folders ---------------------------------------------------------------------------------------


def test_no_folder(tmp_path: Path) -> None:
    with pytest.raises(ContentMissing, match="no folder"):
        open_content(tmp_path / "nothing")


def test_a_file_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / NAME).write_text(TURTLE)
    with pytest.raises(ContentMissing, match="no folder"):
        open_content(tmp_path / NAME)


def test_a_folder_without_turtle(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("nothing to see")
    with pytest.raises(ContentMissing, match="holds no Turtle file"):
        open_content(tmp_path)


# --- files that the record vouches for -------------------------------------------------------------


@pytest.mark.usefixtures("no_check")
def test_a_recorded_file_is_not_checked_again(tmp_path: Path) -> None:
    told: list[str] = []
    opened = open_content(vouched(tmp_path, {NAME: TURTLE}), told.append)
    assert opened.refused == ()
    assert served(opened) == ["bm-10-s", "bm-20"]
    assert told == [f"loading {NAME}", "building the search index"]
    assert opened.index.search("kein Ton", kind="code").hits[0].id == "code-e2"
    assert opened.collection.appliances("bm-20")[0].circuit.devices["plug"].isolating


@pytest.mark.usefixtures("no_check")
def test_the_graph_is_named_for_what_it_says(tmp_path: Path) -> None:
    first = open_content(vouched(tmp_path, {NAME: TURTLE})).collection
    same = open_content(vouched(tmp_path, {NAME: TURTLE})).collection
    other = open_content(vouched(tmp_path, {NAME: changed('"T-310"', '"T-311"')})).collection
    assert first.models[0].graph.value.endswith(f"/brook-fan/{first.models[0].revision}")
    assert first.models[0] == same.models[0]
    assert first.revision == same.revision != other.revision
    assert first.models[0].graph != other.models[0].graph


#: a file that even a record cannot save; the line and a word of what is told
UNREADABLE = [
    pytest.param("broken.ttl", TURTLE + ":x ;", len(TURTLE.splitlines()) + 1, "prefix", id="syntax"),
    pytest.param(
        "latin.ttl", another("latin").encode() + "# Türe\n".encode("latin-1"), None, "not UTF-8", id="latin-1"
    ),
    pytest.param("zz-again.ttl", TURTLE, None, f"bm-10-s is described in {NAME} already", id="models of another file"),
    pytest.param("no iri.ttl", another("no-iri"), None, "not an IRI", id="name"),
    pytest.param(
        "star.ttl", another("star") + "p:a p:b <<( p:a p:b p:c )>> .", None, "triple about a triple", id="star"
    ),
]


@pytest.mark.usefixtures("no_check")
@pytest.mark.parametrize(("name", "content", "line", "told"), UNREADABLE)
def test_the_rest_is_served(tmp_path: Path, name: str, content: str | bytes, line: int | None, told: str) -> None:
    opened = open_content(vouched(tmp_path, {NAME: TURTLE, name: content}))
    assert served(opened) == ["bm-10-s", "bm-20"]
    (refusal,) = opened.refused
    assert (refusal.file, refusal.line) == (name, line)
    assert told in refusal.reason
    assert opened.collection.platform_count == 1


@pytest.mark.usefixtures("no_check")
def test_two_platforms(tmp_path: Path) -> None:
    opened = open_content(vouched(tmp_path, {NAME: TURTLE, "alder.ttl": another("alder")}))
    assert opened.refused == ()
    assert served(opened) == ["alder-10-s", "alder-20", "bm-10-s", "bm-20"]


@pytest.mark.usefixtures("no_check")
def test_nothing_left_to_serve(tmp_path: Path) -> None:
    opened = open_content(vouched(tmp_path, {NAME: "nonsense"}))
    assert (served(opened), len(opened.refused)) == ([], 1)
    with pytest.raises(NotFound):
        opened.collection.find("bm-20")
    assert opened.index.search("fan").hits == ()


# --- files that are checked ------------------------------------------------------------------------


def test_a_file_without_a_record_is_checked_and_served(tmp_path: Path) -> None:
    (tmp_path / NAME).write_text(TURTLE, encoding="utf-8")
    told: list[str] = []
    opened = open_content(tmp_path, told.append)
    assert opened.refused == ()
    assert served(opened) == ["bm-10-s", "bm-20"]
    assert told == [f"loading {NAME}", f"checking {NAME}", "building the search index"]


def test_a_file_that_changed_since_is_checked(tmp_path: Path) -> None:
    vouched(tmp_path, {NAME: TURTLE, "alder.ttl": another("alder")})
    (tmp_path / NAME).write_text(changed("fo:removes p:cover ;", ""), encoding="utf-8")
    opened = open_content(tmp_path)
    assert served(opened) == ["alder-10-s", "alder-20"]
    (refusal,) = opened.refused
    line = TURTLE[: TURTLE.index("p:cover-off a fo:Removal")].count("\n") + 1
    assert (refusal.file, refusal.line) == (NAME, line)


@pytest.mark.parametrize("record", ["not JSON", "[]", '{"brook-fan.ttl": 1}', '{"brook-fan.ttl": "0"}'])
def test_a_record_that_says_nothing_vouches_for_nothing(tmp_path: Path, record: str) -> None:
    (tmp_path / NAME).write_text(TURTLE + ":x ;", encoding="utf-8")
    record_file(tmp_path).write_text(record)
    opened = open_content(tmp_path)
    assert [refusal.line for refusal in opened.refused] == [len(TURTLE.splitlines()) + 1]


@pytest.mark.parametrize(
    ("name", "content", "told"),
    [
        ("latin.ttl", "# Türe\n".encode("latin-1"), "UTF-8"),
        ("broken.ttl", b"nonsense", "cannot be read"),
        ("empty.ttl", b"", "exactly one platform"),
        ("other.ttl", another("alder").encode(), "alder"),
        ("star.ttl", (another("star") + "p:a p:b <<( p:a p:b p:c )>> .").encode(), ""),
    ],
    ids=["latin-1", "syntax", "empty", "another name", "star"],
)
def test_an_unrecorded_file_is_refused_and_the_rest_is_served(
    tmp_path: Path, name: str, content: bytes, told: str
) -> None:
    vouched(tmp_path, {NAME: TURTLE})
    (tmp_path / name).write_bytes(content)
    opened = open_content(tmp_path)
    assert served(opened) == ["bm-10-s", "bm-20"]
    assert [refusal.file for refusal in opened.refused] == [name]
    assert told in opened.refused[0].reason


def test_a_folder_named_like_a_file(tmp_path: Path) -> None:
    vouched(tmp_path, {NAME: TURTLE})
    (tmp_path / "folder.ttl").mkdir()
    opened = open_content(tmp_path)
    assert served(opened) == ["bm-10-s", "bm-20"]
    assert [refusal.file for refusal in opened.refused] == ["folder.ttl"]


def test_a_refusal_says_what_is_wrong_and_how_to_mend_it(tmp_path: Path) -> None:
    (tmp_path / NAME).write_text(changed('fo:protection "Wear gloves."@en ;', ""), encoding="utf-8")
    (refusal,) = open_content(tmp_path).refused
    assert isinstance(refusal, Refusal)
    assert "says what protects" in refusal.reason
    assert "Write fo:protection" in refusal.reason
