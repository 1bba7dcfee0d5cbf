"""Turtle that reads as if written by hand: sections, a resource a paragraph, a property a line, in a stable order."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

import pyoxigraph as ox

from firstoff.authoring.ontology import FO
from firstoff.authoring.workbook.sheets import Workbook

_RDF_TYPE = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type"
_XSD = "http://www.w3.org/2001/XMLSchema#"
_WIDTH = 120
_LOCAL = re.compile(r"[A-Za-z0-9]([\w-]*[\w])?")
_DECIMAL = re.compile(r"[+-]?\d*\.\d+")
_WHOLE = re.compile(r"[+-]?\d+")
_SPACES = {
    "fo": FO,
    "rdfs": "http://www.w3.org/2000/01/rdf-schema#",
    "skos": "http://www.w3.org/2004/02/skos/core#",
    "xsd": _XSD,
}
#: Sections with the classes of each; what is of no class named here ends the file.
_SECTIONS = (
    ("Platform and models", ("Platform", "Model", "SerialRange", "Substitution")),
    ("Sources", ("Source",)),
    ("Zones", ("Zone",)),
    ("States and preparations", ("StateVariable", "State", "Preparation")),
    ("Components, each with its removals and ways in", ("Component", "Removal", "AccessPath")),
    ("Devices, points and links", ("Device", "Point", "Link")),
    ("Energy sources", ("EnergySource",)),
    ("Cautions", ("Caution",)),
    ("Display codes and service modes", ("DisplayCode", "ServiceMode")),
    ("Faults and remedies", ("Fault", "Remedy")),
    ("Checks", ("Check",)),
    ("Bulletins and finish steps", ("Bulletin", "FinishStep")),
)
#: Properties that name the resource behind which another is written.
_BEHIND = tuple(FO + name for name in ("removes", "reaches", "valueOf", "gives"))

Node = ox.NamedNode | ox.BlankNode
Said = Mapping[Node, Mapping[str, Sequence[ox.NamedNode | ox.BlankNode | ox.Literal]]]


def write_turtle(triples: Iterable[ox.Triple], platform: str, workbook: Workbook, opening: str = "") -> str:
    """The graph of ``platform`` (its name) as a Turtle file; ``opening`` is put in front as a comment.

    Resources keep the order in which they first appear, values of a property theirs; properties have the order of the
    sheets of ``workbook``. The same triples give the same text, letter for letter.
    """
    said: dict[Node, dict[str, list[ox.NamedNode | ox.BlankNode | ox.Literal]]] = {}
    for triple in triples:
        values = said.setdefault(triple.subject, {}).setdefault(triple.predicate.value, [])  # type: ignore[arg-type]
        if triple.object not in values:
            values.append(triple.object)  # type: ignore[arg-type]
    writer = _Writer(said, platform, workbook)
    body = "".join(writer.sections())
    head = "".join(f"# {line}".rstrip() + "\n" for line in opening.splitlines())
    return f"{head}{chr(10) if head else ''}{writer.prefixes()}{body}"


class _Writer:
    def __init__(self, said: Said, platform: str, workbook: Workbook) -> None:
        self._said = said
        self._spaces = {
            "p": f"https://firstoff.example/platform/{platform}/",
            **_SPACES,
            **{prefix: start for start, prefix in workbook.prefixes.items()},
        }
        self._used = {"p", "fo", "rdfs"}
        self._order = {
            FO + sheet.of: {column.iri: place for place, column in enumerate(sheet.columns)}
            for sheet in workbook.sheets
        }
        self._inside = {sheet.owned_by for sheet in workbook.sheets if sheet.owned_by}
        self._nested = {
            value
            for properties in said.values()
            for values in properties.values()
            for value in values
            if isinstance(value, ox.BlankNode)
        }

    def prefixes(self) -> str:
        """The prefixes that were used, once the body is written."""
        return "".join(f"@prefix {name}: <{space}> .\n" for name, space in self._spaces.items() if name in self._used)

    def sections(self) -> Iterator[str]:
        left = [node for node in self._said if node not in self._nested]
        for title, classes in _SECTIONS:
            wanted = {ox.NamedNode(FO + name) for name in classes}
            own = [node for node in left if wanted & set(self._said[node].get(_RDF_TYPE, ()))]
            if own:
                yield f"\n# {'-' * 99}\n# {title}\n# {'-' * 99}\n"
                yield from self._paragraphs(own, classes)
                left = [node for node in left if node not in own]
        for node in left:
            yield f"\n{self._resource(node)}"

    def _paragraphs(self, nodes: Sequence[Node], classes: Sequence[str]) -> Iterator[str]:
        """Each resource followed by those written behind it; small ones of one class close together."""
        place = {node: at for at, node in enumerate(nodes)}
        rank = {ox.NamedNode(FO + name): at for at, name in enumerate(classes)}
        ordered = sorted(nodes, key=lambda node: self._place(node, place, rank))
        for _, group in groupby(ordered, key=lambda node: place[self._head(node, place)]):
            texts = [self._resource(node) for node in group]
            for before, text in zip(["", *texts], texts, strict=False):
                short = before.count("\n") == 1 and text.count("\n") == 1 and before != ""
                yield text if short else f"\n{text}"

    def _head(self, node: Node, place: Mapping[Node, int]) -> Node:
        seen = {node}
        while True:
            named = (v for prop in _BEHIND for v in self._said[node].get(prop, ()) if not isinstance(v, ox.Literal))
            head = next((v for v in named if v in place and v not in seen), None)
            if head is None:
                return node
            seen.add(head)
            node = head

    def _place(self, node: Node, place: Mapping[Node, int], rank: Mapping[ox.NamedNode, int]) -> tuple[int, int, int]:
        own = min((rank[t] for t in self._said[node].get(_RDF_TYPE, ()) if t in rank), default=0)  # type: ignore[index]
        return place[self._head(node, place)], own, place[node]

    def _resource(self, node: Node) -> str:
        first, *rest = self._pairs(node)
        text = f"{self._term(node)} {first}"
        if rest and rest[0].startswith("rdfs:label") and len(text) + len(rest[0]) < _WIDTH - 4:
            text, rest = f"{text} ; {rest[0]}", rest[1:]
        return " ;\n    ".join([text, *rest]) + " .\n"

    def _pairs(self, node: Node) -> list[str]:
        properties = self._said.get(node, {})
        types = properties.get(_RDF_TYPE, ())
        order = self._order.get(str(getattr(types[0], "value", "")) if types else "", {})
        named = [prop for prop in properties if prop != _RDF_TYPE]
        # Parts in square brackets come before the texts that tell how, where the column of instruction is.
        after = order.get(FO + "instruction", len(order))
        named.sort(key=lambda prop: (after - 0.5 if prop in self._inside else order.get(prop, len(order)), prop))
        pairs = [f"a {', '.join(self._term(each) for each in types)}"] if types else []
        return pairs + [self._pair(prop, properties[prop]) for prop in named]

    def _pair(self, prop: str, values: Sequence[ox.NamedNode | ox.BlankNode | ox.Literal]) -> str:
        name = self._term(ox.NamedNode(prop))
        told = [self._term(value) for value in values]
        joined = f"{name} {', '.join(told)}"
        if len(told) == 1 or (len(joined) < _WIDTH - 6 and not any(text.startswith("[") for text in told)):
            return joined
        if any(text.startswith(("[", '"')) for text in told):
            return f"{name} " + ",\n        ".join(told)
        lines = [name]
        for text in told:
            if len(lines[-1]) + len(text) + 2 > _WIDTH - 8:
                lines.append("")
            lines[-1] += f" {text}," if lines[-1] else f"{text},"
        return "\n        ".join(lines).rstrip(",")

    def _term(self, value: ox.NamedNode | ox.BlankNode | ox.Literal) -> str:
        if isinstance(value, ox.NamedNode):
            return self._named(value.value)
        if isinstance(value, ox.BlankNode):
            return f"[ {' ; '.join(self._pairs(value))} ]" if self._said.get(value) else "[]"
        datatype = value.datatype.value
        if (
            (datatype == _XSD + "boolean" and value.value in ("true", "false"))
            or (datatype == _XSD + "integer" and _WHOLE.fullmatch(value.value))
            or (datatype == _XSD + "decimal" and _DECIMAL.fullmatch(value.value))
        ):
            return value.value
        quoted = '"' + "".join(_ESCAPES.get(letter, letter) for letter in value.value) + '"'
        if value.language:
            return f"{quoted}@{value.language}"
        return quoted if datatype == _XSD + "string" else f"{quoted}^^{self._named(datatype)}"

    def _named(self, iri: str) -> str:
        for name, space in self._spaces.items():
            if iri.startswith(space) and _LOCAL.fullmatch(iri[len(space) :]):
                self._used.add(name)
                return f"{name}:{iri[len(space) :]}"
        return f"<{iri}>"


_ESCAPES = {
    "\\": "\\\\", '"': '\\"', "\n": "\\n", "\r": "\\r", "\t": "\\t", "\b": "\\b", "\f": "\\f",
    **{chr(code): f"\\u{code:04X}" for code in range(0x20) if chr(code) not in "\n\r\t\b\f"},
}  # fmt: skip
