from __future__ import annotations

from pathlib import Path

import pytest

from firstoff.authoring.check import check_file
from firstoff.authoring.findings import Finding, Report, Severity
from firstoff.authoring.ontology import Ontology
from firstoff.authoring.record import RECORD_NAME, passed, read_record, record_file, recorded, write_record
from firstoff.content import data_folder
from support.small_platform import FILE

BAD = Finding(Severity.ERROR, "x", None, None, "Bad.", "Mend it.", "b.ttl", None)
ODD = Finding(Severity.WARNING, "y", None, None, "Odd.", "Look at it.", "a.ttl", None)


def test_record_file_lies_beside_the_data(tmp_path: Path) -> None:
    assert record_file(tmp_path) == tmp_path / RECORD_NAME
    assert record_file() == data_folder() / "checked.json"


def test_written_and_read(tmp_path: Path) -> None:
    path = tmp_path / RECORD_NAME
    assert read_record(path) == {}
    write_record({"b.ttl": "2", "a.ttl": "1"}, path)
    assert read_record(path) == {"a.ttl": "1", "b.ttl": "2"}
    assert path.read_text(encoding="utf-8").index("a.ttl") < path.read_text(encoding="utf-8").index("b.ttl")
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("text", ["[]", '{"a.ttl": 1}'])
def test_what_is_no_record_is_refused(text: str, tmp_path: Path) -> None:
    path = tmp_path / RECORD_NAME
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ValueError, match="no record of checked files"):
        read_record(path)


def test_recorded_keeps_others_and_drops_failed() -> None:
    reports = [Report("x/a.ttl", "new", (ODD,)), Report("x/b.ttl", "new", (BAD,))]
    assert recorded({"a.ttl": "old", "b.ttl": "old", "c.ttl": "old"}, reports) == {"a.ttl": "new", "c.ttl": "old"}


def test_passed_as_long_as_nothing_changes(ontology: Ontology) -> None:
    content = FILE.read_bytes()
    record = recorded({}, [check_file(FILE, ontology)])
    assert passed(FILE.name, content, record, ontology.digest)
    assert not passed(FILE.name, content, {}, ontology.digest)
    assert not passed(FILE.name, content, record, "another ontology")
    assert not passed(FILE.name, content + b"\n# a remark\n", record, ontology.digest)
    assert not passed("another.ttl", content, record, ontology.digest)
