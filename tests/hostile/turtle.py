"""Texts of Turtle for the check of a draft, and a few that are sent to be published."""

from __future__ import annotations

from firstoff.content import data_folder
from hostile.inputs import CHECK, PLATFORM, TEXTS, TURTLE, Hostile, posting

_PREFIXES = (
    "@prefix fo: <https://firstoff.example/ontology#> .\n"
    "@prefix rdfs: <http://www.w3.org/2000/01/rdf-schema#> .\n"
    "@prefix platform: <https://firstoff.example/platform/> .\n"
    "@prefix model: <https://firstoff.example/model/> .\n"
    "@prefix c: <https://firstoff.example/component/> .\n"
)
_PLATFORM = f"platform:{PLATFORM} a fo:Platform ; rdfs:label "


def _labelled(text: str) -> str:
    quoted = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n").replace("\r", "\\r")
    return f'{_PREFIXES}{_PLATFORM}"{quoted}"@en .'


_SOUND = (data_folder() / f"{PLATFORM}.ttl").read_text(encoding="utf-8")

_TEXTS: dict[str, str | bytes] = {
    "nothing": "",
    "a space": " ",
    "a comment": "# nothing",
    "a comment without an end": "#" * 100_000,
    "a null byte": b"\x00",
    "broken UTF-8": b"\xff\xfe\x00",
    "UTF-16": (_PREFIXES + _PLATFORM + '"a"@en .').encode("utf-16"),
    "a byte order mark": b"\xef\xbb\xbf" + (_PREFIXES + _PLATFORM + '"a"@en .').encode(),
    "HTML": "<!doctype html><title>no</title>",
    "JSON": '{"@context": "http://127.0.0.1:1/context"}',
    "RDF/XML with an entity": '<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/passwd">]><a>&b;</a>',
    "no dot at the end": f'{_PREFIXES}{_PLATFORM}"a"@en',
    "a prefix nobody declared": "nobody:a nobody:b nobody:c .",
    "half an IRI": "<https://firstoff.example/platform/",
    "an IRI with spaces": "<https://firstoff.example/a b> a <c d> .",
    "an IRI with a newline": "<https://firstoff.example/a\nb> a <c> .",
    "a relative IRI": "<a> <b> <c> .",
    "a base of a file": "@base <file:///etc/> . <passwd> a <shadow> .",
    "a base of nothing": "@base <> . <a> <b> <c> .",
    "an IRI of 200 kB": f"<https://firstoff.example/{'a' * 200_000}> a <https://b.example/> .",
    "a text of 500 kB": _labelled("a" * 500_000),
    "a text without an end": _PREFIXES + _PLATFORM + '"' + "a" * 10_000,
    "a long text without an end": _PREFIXES + _PLATFORM + '"""' + "a\n" * 10_000,
    "a broken escape": _PREFIXES + _PLATFORM + r'"\q"@en .',
    "half a surrogate": _PREFIXES + _PLATFORM + r'"\uD800"@en .',
    "beyond Unicode": _PREFIXES + _PLATFORM + r'"\U00110000"@en .',
    "an escaped null": _PREFIXES + _PLATFORM + r'"\u0000"@en .',
    "a language of nothing": _PREFIXES + _PLATFORM + '"a"@ .',
    "a language of 10 kB": _PREFIXES + _PLATFORM + '"a"@' + "a" * 10_000 + " .",
    "a direction": _PREFIXES + _PLATFORM + '"a"@en--ltr .',
    "lists ten thousand deep": _PREFIXES + "c:a fo:inside " + "(" * 10_000 + ")" * 10_000 + " .",
    "lists that never close": _PREFIXES + "c:a fo:inside " + "(" * 50_000,
    "blank nodes ten thousand deep": _PREFIXES
    + "c:a fo:inside "
    + "[ fo:inside " * 10_000
    + "c:b"
    + "]" * 10_000
    + " .",
    "blank nodes that never close": _PREFIXES + "c:a fo:inside " + "[ fo:inside " * 50_000,
    "a list of 20,000": _PREFIXES + "c:a fo:inside (" + " c:b" * 20_000 + ") .",
    "a triple term": _PREFIXES + "<<( c:a fo:inside c:b )>> fo:inside c:c .",
    "a reified triple": _PREFIXES + "<< c:a fo:inside c:b >> fo:inside c:c .",
    "an annotation": _PREFIXES + "c:a fo:inside c:b {| fo:inside c:c |} .",
    "graphs": _PREFIXES + "GRAPH c:g { c:a fo:inside c:b }",
    "graphs of TriG": _PREFIXES + "c:g { c:a fo:inside c:b } c:h { c:a fo:inside c:b }",
    "rules of N3": _PREFIXES + "{ ?a fo:inside ?b } => { ?b fo:inside ?a } .",
    "an update": "INSERT DATA { <a:a> <a:b> <a:c> }",
    "a load": "LOAD <http://127.0.0.1:1/>",
    "a literal as subject": _PREFIXES + '"a" fo:inside c:b .',
    "a blank node as property": _PREFIXES + "c:a _:b c:c .",
    "numbers that are none": _PREFIXES + "c:a fo:minutes 1e999999 , -1e999999 , 1.e , .e1 .",
    "numbers of words": _PREFIXES + 'c:a fo:minutes "many"^^<http://www.w3.org/2001/XMLSchema#decimal> .',
    "no number": _PREFIXES + 'c:a fo:minutes "NaN"^^<http://www.w3.org/2001/XMLSchema#double> .',
    "a number of 100,000 digits": _PREFIXES + f"c:a fo:minutes {'9' * 100_000} .",
    "a date of no calendar": _PREFIXES + 'c:a fo:minutes "2026-02-30"^^<http://www.w3.org/2001/XMLSchema#date> .',
    "a component inside itself": _PREFIXES + "c:a a fo:Component ; fo:inside c:a .",
    "a ring of components": _PREFIXES
    + "".join(f"c:a{n} a fo:Component ; fo:inside c:a{(n + 1) % 300} .\n" for n in range(300)),
    "five thousand prefixes": "".join(f"@prefix p{n}: <https://p{n}.example/> .\n" for n in range(5_000)),
    "five thousand models": _PREFIXES + "".join(f"model:m{n} a fo:Model .\n" for n in range(5_000)),
    "two platforms": _PREFIXES + "platform:a a fo:Platform . platform:b a fo:Platform .",
    "a platform of no slug": _PREFIXES + "<https://firstoff.example/platform/../../etc> a fo:Platform .",
    "a platform named by a path": _PREFIXES
    + "<https://firstoff.example/platform/..%2F..%2Fetc%2Fpasswd> a fo:Platform .",
    "a platform in capitals": _PREFIXES + "<https://firstoff.example/platform/ABC> a fo:Platform .",
    "a platform without a name": _PREFIXES + "<https://firstoff.example/platform/> a fo:Platform .",
    "a platform that is a blank node": _PREFIXES + '[] a fo:Platform ; rdfs:label "a"@en .',
    "every class at once": _PREFIXES + "c:a a fo:Platform , fo:Model , fo:Component , fo:Link , fo:Fault .",
    "a shape of its own": _PREFIXES + "@prefix sh: <http://www.w3.org/ns/shacl#> . c:s a sh:NodeShape ; sh:targetClass "
    'fo:Platform ; sh:sparql [ sh:select "SELECT $this WHERE { SERVICE <http://127.0.0.1:1/> { $this ?p ?o } }" ] .',
    "an import": _PREFIXES
    + "@prefix owl: <http://www.w3.org/2002/07/owl#> . <a:a> owl:imports <http://127.0.0.1:1/> .",
    "words of the ontology": _PREFIXES + 'fo:Component rdfs:label "owned"@en . fo:minutes a fo:Platform .',
    "the dryer cut in half": _SOUND[: len(_SOUND) // 2],
    "the dryer without its prefixes": "\n".join(line for line in _SOUND.splitlines() if not line.startswith("@prefix")),
    "the dryer as CRLF and tabs": _SOUND.replace("\n", "\r\n").replace("    ", "\t"),
    "the dryer under another slug": _SOUND.replace(PLATFORM, "a-b"),
}

TURTLES: list[Hostile] = [
    *(posting(CHECK, text, TURTLE, name=name) for name, text in _TEXTS.items()),
    *(posting(CHECK, _labelled(text), TURTLE, name=repr(text)[:80]) for text in TEXTS[::7]),
    *(
        posting(address, _PREFIXES + _PLATFORM + '"a"@en .', TURTLE, method="PUT", name="a platform of one line")
        for address in (
            f"/v1/graphs/{PLATFORM}?why=x",
            "/v1/graphs/..%2Fx?why=x",
            "/v1/graphs/A?why=x",
            "/v1/graphs/%00?why=x",
        )
    ),
    *(
        posting(CHECK, "a", media, name=f"as {media[:60]}")
        for media in (
            "text/n3",
            "application/n-triples",
            "text/turtle;charset=utf-16",
            "",
            "a" * 3_000,
            "application/ld+json",
        )
    ),
]
