"""Values put into the text of a named query, for engines that take text alone."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from firstoff.errors import QueryRefused
from firstoff.store.converting import to_engine
from firstoff.store.terms import Term

#: What a variable may not be looked for in: comments, IRIs, texts. Then variables, and words.
_TOKEN = re.compile(
    r"""(?P<other>\#[^\n]*|<[^<>\s]*>|"(?:[^"\\\n]|\\.)*"|'(?:[^'\\\n]|\\.)*')"""
    r"""|[?$](?P<variable>\w+)|(?P<word>[A-Za-z]\w*)"""
)


@dataclass(frozen=True, slots=True)
class Bound:
    """``text`` gives the variables ``asked``, ``counting`` the number of its rows; ``given`` are the values put in."""

    text: str
    counting: str
    asked: tuple[str, ...]
    given: Mapping[str, Term]


def bound(text: str, bindings: Mapping[str, Term]) -> Bound:
    """A SELECT with ``bindings`` put in for their variables, which it has to project.

    A value is written as N-Triples writes it, so that no value can end the place it stands in.

    :raises QueryRefused: it is no SELECT of named variables, or does not project what is bound.
    """
    tokens = [each for each in _TOKEN.finditer(text) if each["other"] is None]
    select = next((each for each in tokens if (each["word"] or "").upper() == "SELECT"), None)
    where = next((each for each in tokens if (each["word"] or "").upper() == "WHERE"), None)
    if select is None or where is None or where.start() < select.start():
        raise QueryRefused("The query is not a SELECT with WHERE.")
    head = [each for each in tokens if each["variable"] and select.end() <= each.start() < where.start()]
    projected = [each["variable"] for each in head]
    written = {name: str(to_engine(term)) for name, term in bindings.items()}
    if missing := sorted(set(written) - set(projected)):
        raise QueryRefused(f"The query does not give what is bound: {', '.join(missing)}.")
    asked = tuple(name for name in projected if name not in written)
    if not asked:
        raise QueryRefused("Everything that the query gives is bound.")
    distinct = " DISTINCT" if re.search(r"\bDISTINCT\b", text[select.end() : where.start()], re.IGNORECASE) else ""
    body, place = [], where.start()
    for each in tokens:
        if each.start() > where.start() and each["variable"] in written:
            body += [text[place : each.start()], written[each["variable"]]]
            place = each.end()
    pattern = "".join(body) + text[place:]
    prologue = text[: select.start()]
    inner = f"SELECT{distinct} {' '.join('?' + name for name in asked)}\n{pattern}"
    counting = f"{prologue}SELECT (COUNT(*) AS ?rows) WHERE {{ {{ {inner}\n}} }}"
    return Bound(prologue + inner, counting, asked, {name: bindings[name] for name in written})
