from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from firstoff.authoring.digest import digest_of, ontology_digest, ontology_files
from firstoff.authoring.ontology import Ontology, load_ontology
from firstoff.content import ontology_folder
from firstoff.errors import ContentSyntax


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the ontology that a test may change."""
    return Path(shutil.copytree(ontology_folder(), tmp_path / "ontology"))


def test_what_is_read(ontology: Ontology) -> None:
    assert {"Component", "Removal", "Outcome"} <= ontology.classes
    assert {"needsOff", "minutesOut", "between"} <= ontology.properties
    assert ontology.concepts["https://firstoff.example/vocabulary/energy-kinds#mains"] == "mains supply"
    assert ontology.symptoms["light-out"].label == "light does not work"
    assert "plug" in ontology.isolating_kinds
    assert ontology.isolating_kinds.isdisjoint({"push-button", "relay", "interlock", "control-valve"})


@pytest.mark.parametrize("name", ["core.ttl", "shapes.ttl", "vocabularies/tools.ttl"])
def test_every_file_counts_in_the_digest(name: str, folder: Path) -> None:
    before = ontology_digest(folder)
    assert before == ontology_digest()
    path = folder / name
    path.write_text(path.read_text(encoding="utf-8") + "\n# a remark\n", encoding="utf-8")
    assert ontology_digest(folder) != before


def test_a_file_more_or_another_name_counts_too(folder: Path) -> None:
    before = ontology_digest(folder)
    (folder / "vocabularies" / "tools.ttl").rename(folder / "vocabularies" / "toolz.ttl")
    assert ontology_digest(folder) != before


def test_files_are_core_shapes_and_every_vocabulary() -> None:
    names = [path.name for path in ontology_files(ontology_folder())]
    assert names[:2] == ["core.ttl", "shapes.ttl"]
    assert {"symptoms.ttl", "tools.ttl", "device-kinds.ttl"} <= set(names[2:])


def test_digest_of_a_file_depends_on_both() -> None:
    assert digest_of(b"a", "x") == digest_of(b"a", "x")
    assert len({digest_of(b"a", "x"), digest_of(b"b", "x"), digest_of(b"a", "y")}) == 3


def test_a_broken_vocabulary_is_told(folder: Path) -> None:
    (folder / "vocabularies" / "tools.ttl").write_text("tool:torch a", encoding="utf-8")
    with pytest.raises(ContentSyntax, match=r"tools\.ttl, line 1"):
        load_ontology(folder)
