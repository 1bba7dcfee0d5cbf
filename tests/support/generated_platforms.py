"""Many invented platforms for measuring: each says what the small platform says, under names of its own.

A platform has about 750 triples and two models, so that 2,000 are one and a half million triples. Slugs, model numbers,
part numbers and labels differ from platform to platform; eight parts more are drawn from a list of words, so that a
search has something to tell apart. The same number always gives the same platform.
"""

from __future__ import annotations

import json
import random
import re
from collections.abc import Iterator
from pathlib import Path

from firstoff.authoring.ontology import ontology_digest
from firstoff.authoring.record import digest_of
from support.small_platform import TURTLE

_WHERE = ("front", "rear", "left", "right", "upper", "lower", "inner", "outer", "main", "spare", "long", "short")
_OF = ("door", "drum", "pump", "fan", "duct", "tub", "motor", "filter", "lid", "shelf", "tank", "hob", "rack", "valve")
_WHAT = ("bracket", "spring", "gasket", "clip", "bearing", "shroud", "grommet", "strap", "plate", "spacer", "hinge")
_WHAT_IT_IS = ("box", "chest", "cabinet", "case", "crate", "trunk", "locker", "coffer")
_RENAMED = ("drip tray", "cover", "lamp glass", "bright lamp", "buzzer", "supply cord", "earth wire")
_MORE = 8


def slug_of(number: int) -> str:
    """The slug of a platform."""
    return f"bench-{number:05d}"


def models_of(number: int) -> tuple[str, str]:
    """The slugs of its models."""
    return f"b{number:05d}-10", f"b{number:05d}-20"


def platform(number: int) -> str:
    """The Turtle text of a platform."""
    drawn = random.Random(number)
    text = TURTLE.replace("platform/small-box", f"platform/{slug_of(number)}")
    for old, new in zip(("box-10", "box-20"), models_of(number), strict=True):
        text = text.replace(f"model/{old}>", f"model/{new}>")
    text = text.replace('"BOX 10"', f'"B {number:05d}/10"').replace('"BOX 20"', f'"B {number:05d}/20"')
    text = re.sub(r'"M-(\d{3})"', rf'"M-{number:05d}-\1"', text)
    name = f"{drawn.choice(_WHERE)} {drawn.choice(_OF)} {drawn.choice(_WHAT_IT_IS)} {number}"
    text = text.replace('"small box"@en', f'"{name}"@en')
    for label in _RENAMED:
        text = text.replace(f'"{label}"@en', f'"{drawn.choice(_WHERE)} {label}"@en')
    more = "\n".join(
        f"p:more-{each} a fo:Component ;"
        f' rdfs:label "{drawn.choice(_WHERE)} {drawn.choice(_OF)} {drawn.choice(_WHAT)}"@en ;'
        f'\n    fo:kind component:cover ; fo:inZone p:inside ; fo:partNumber "M-{number:05d}-9{each:02d}" .\n'
        f'p:see-more-{each} a fo:AccessPath ; rdfs:label "see it"@en ; fo:reaches p:more-{each} ; fo:purpose\n'
        f"    purpose:inspect ; fo:audience audience:customer ; fo:minutes 0.2 ;\n"
        f'    fo:instruction "Look through the slots."@en ; fo:source p:notes .\n'
        for each in range(_MORE)
    )
    return text + "\n" + more


def written(folder: Path, count: int, first: int = 0) -> int:
    """Write ``count`` platforms to ``folder`` with the record that they passed the check; how many bytes they are."""
    record, size, ontology = {}, 0, ontology_digest()
    for number, content in zip(range(first, first + count), _encoded(first, count), strict=True):
        file = folder / f"{slug_of(number)}.ttl"
        file.write_bytes(content)
        record[file.name] = digest_of(content, ontology)
        size += len(content)
    (folder / "checked.json").write_text(json.dumps(record), encoding="utf-8")
    return size


def _encoded(first: int, count: int) -> Iterator[bytes]:
    return (platform(number).encode() for number in range(first, first + count))
