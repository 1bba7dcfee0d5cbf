"""The record of files that passed the check: ``checked.json`` beside them.

It maps the name of a file to the digest of its bytes together with the ontology, so that a changed file and a changed
shape both ask for a new check.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from pathlib import Path

from firstoff.authoring.digest import digest_of
from firstoff.authoring.findings import Report
from firstoff.content import data_folder

RECORD_NAME = "checked.json"


def record_file(folder: Path | None = None) -> Path:
    """Where the record of ``folder`` (the demo data unless given) lies."""
    return (folder or data_folder()) / RECORD_NAME


def read_record(path: Path | None = None) -> dict[str, str]:
    """File name to digest; empty where there is no record.

    :raises ValueError: the record is no JSON object of texts.
    """
    path = path or record_file()
    if not path.exists():
        return {}
    record = json.loads(path.read_text(encoding="utf-8"))
    if not isinstance(record, dict) or not all(isinstance(digest, str) for digest in record.values()):
        raise ValueError(f"{path} is no record of checked files.")
    return {str(name): str(digest) for name, digest in record.items()}


def write_record(record: Mapping[str, str], path: Path | None = None) -> None:
    """Write the record whole or not at all, names in order."""
    path = path or record_file()
    aside = path.with_name(path.name + ".new")
    aside.write_text(json.dumps(dict(sorted(record.items())), indent=2) + "\n", encoding="utf-8")
    aside.replace(path)


def recorded(record: Mapping[str, str], reports: Iterable[Report]) -> dict[str, str]:
    """The record after these reports: passed files with their digest, failed ones gone, others as they were."""
    after = dict(record)
    for report in reports:
        name = Path(report.file).name
        if report.ok:
            after[name] = report.digest
        else:
            after.pop(name, None)
    return after


def passed(name: str, content: bytes, record: Mapping[str, str], ontology: str) -> bool:
    """True where these bytes, as the file ``name``, passed the check against the ontology of digest ``ontology``."""
    return record.get(name) == digest_of(content, ontology)
