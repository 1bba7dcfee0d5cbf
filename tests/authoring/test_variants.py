from __future__ import annotations

import pytest

from firstoff.authoring import variants
from firstoff.authoring.ontology import Ontology
from support.drafts import problems, told
from support.small_platform import TURTLE, changed, with_more

Told = list[tuple[str, str | None]]


def leaving_out(*parts: str) -> str:
    """Box 20 without further parts."""
    return changed("fo:leavesOut p:tray", "fo:leavesOut p:tray" + "".join(f", p:{part}" for part in parts))


NO_LAMP = leaving_out("lamp").replace(" ; fo:substitutes p:bright-for-plain", "")
ONLY_THE_COVER = changed(" ; fo:bares p:lamp-line, p:lamp-return", "", start="p:test-lamp").replace(
    "fo:tool tool:multimeter ; fo:bares p:lamp-line, p:lamp-return ;", "fo:tool tool:multimeter ;"
)


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        # the way in to the lamp bares the terminals as well, on every model
        (leaving_out("cover"), []),
        (ONLY_THE_COVER.replace("fo:leavesOut p:tray", "fo:leavesOut p:tray, p:cover"), [("guard-left-out", "cover")]),
        # what is gone with the part lies nowhere open
        (ONLY_THE_COVER.replace("fo:leavesOut p:tray ", "fo:leavesOut p:tray, p:cover, p:lamp ")
         .replace(" ; fo:substitutes p:bright-for-plain", ""), []),
        # a substitute covers as the original does
        (ONLY_THE_COVER.replace("fo:original p:lamp ; fo:substitute p:bright-lamp",
                                "fo:original p:cover ; fo:substitute p:bright-lamp"), []),
    ],
    ids=["passes", "bared by another", "left out", "with its points", "replaced"],
)  # fmt: skip
def test_guards_left_out(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(variants.guards_left_out, turtle, ontology) == expected


def test_what_would_lie_open_is_named(ontology: Ontology) -> None:
    turtle = ONLY_THE_COVER.replace("fo:leavesOut p:tray", "fo:leavesOut p:tray, p:cover")
    (problem,) = problems(variants.guards_left_out, turtle, ontology)
    assert problem.message.startswith("Box 20 does not have it and keeps lamp line, which taking it off bares")


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        # pins, plug and earth wire go with the cord: nothing is fed
        (leaving_out("cord"), [("model-cuts-circuit", "lamp-feed")]),
        # the wire in the cover joins the key to the lamp, which the neutral reaches all the same
        (leaving_out("cover"), []),
        # a floating part of the platform is told as such, not for each model
        (changed("fo:contactOf p:tap .", "fo:contactOf p:tap .", start="p:tap-seat"), []),
    ],
    ids=["passes", "cord", "another path", "same"],
)
def test_circuits_cut(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(variants.circuits_cut, turtle, ontology) == expected


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        # the substitute takes over the points of the lamp, and with them the primary
        (leaving_out("lamp"), []),
        (NO_LAMP, [("primary-left-out", "low")]),
        # without the buzzer there is no secondary either
        (NO_LAMP.replace(" fo:adds p:buzzer ;", ""), []),
    ],
    ids=["passes", "substitute", "left out", "both"],
)
def test_primaries_left_out(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(variants.primaries_left_out, turtle, ontology) == expected


WIPE = 'p:wipe a fo:Remedy ; rdfs:label "wipe"@en ; fo:remedyKind remedy:clean ; fo:worksOn p:tray .'


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (with_more(WIPE).replace("fo:remedy p:restore", "fo:remedy p:wipe"), [("remedy-left-out", "no-supply")]),
        # another remedy is left
        (with_more(WIPE).replace("fo:remedy p:restore", "fo:remedy p:restore, p:wipe"), []),
    ],
    ids=["passes", "only one", "another"],
)
def test_remedies_left_out(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(variants.remedies_left_out, turtle, ontology) == expected
