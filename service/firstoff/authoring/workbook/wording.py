"""Findings in the words of a workbook: sheets and columns in place of classes and properties.

Rules and shapes tell how to mend a Turtle file. Who fills in a workbook has never seen one, so the terms are replaced
before a finding is told of a workbook.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from firstoff.authoring.ontology import FO
from firstoff.authoring.workbook.sheets import Workbook, words_of

_ANY = "a word of its list"
_PLAIN: tuple[tuple[str, str], ...] = (
    (r"; append it to ontology/vocabularies/\S+\.ttl if it is not there", "; the sheet 'choices' lists them all"),
    (r", without a language tag", ""),
    (r"\bof this file\b", "of this workbook"),
    (r'"([^"]*)"@en', r"\1"),
    (r"\bp:(?=[a-z])", ""),
)


def in_cells(text: str, workbook: Workbook) -> str:
    """A message or a mend as it is said of a workbook."""
    titles = _titles(workbook)

    def title(name: str) -> str:
        return f"'{titles.get(name, words_of(name))}'"

    steps: tuple[tuple[str, Callable[[re.Match[str]], str]], ...] = (
        (r"fo:\w+ \[ a fo:(\w+)[^\]]*\]", lambda found: f"a row of the sheet {title(found[1])}"),
        (r"fo:(\w+) (true|false)\b", lambda found: f"{'yes' if found[2] == 'true' else 'no'} under {title(found[1])}"),
        (r"\bWrite fo:([a-z]\w*) with ", lambda found: f"Name under {title(found[1])} "),
        (r"fo:([A-Z]\w*)", lambda found: f"row of the sheet {title(found[1])}"),
        (r"fo:([a-z]\w*)", lambda found: title(found[1])),
        (rf"\b(?:{'|'.join(map(re.escape, workbook.prefixes.values()))}):(…|[a-zA-Z][\w-]*)",
         lambda found: _ANY if found[1] == "…" else found[1]),
    )  # fmt: skip
    for pattern, said in steps:
        text = re.sub(pattern, said, text)
    for pattern, plain in _PLAIN:
        text = re.sub(pattern, plain, text)
    return text


def _titles(workbook: Workbook) -> Mapping[str, str]:
    """Sheet titles by class and column titles by property, local names of the ontology."""
    columns = {column.iri.removeprefix(FO): column.title for sheet in workbook.sheets for column in sheet.columns}
    return columns | {sheet.of: sheet.title for sheet in workbook.sheets}
