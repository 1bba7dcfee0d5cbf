"""Live points worked out in a client are those of the service, to the last figure."""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from itertools import chain, combinations, pairwise

import pytest
from fastapi.testclient import TestClient

from firstoff.answers.grounds import grounded
from firstoff.answers.live import live_points_answer
from firstoff.answers.names import capacitors
from firstoff.answers.pocket import pocket_answer
from firstoff.appliance.circuit import Circuit, LinkKind, Point
from firstoff.appliance.model import Appliance, Bulletin
from firstoff.appliance.terms import Concept
from firstoff.collection.opening import Opened
from firstoff.settings import Settings
from firstoff_contract.pocket import Pocket
from support.circuits import appliance, circuit, link, mains, random_case
from support.node import called, plain

Needed = Callable[[object, str], None]
Names = tuple[str, ...]
MODULE, CALL = "phone/offline/circuit.js", "livePoints"
DRYER = "/v1/models/tgd27-460-s"


def pocket_of(machine: Appliance) -> Pocket:
    return grounded(pocket_answer(machine, Settings()), [machine])


def service(machine: Appliance, opened: Iterable[str], released: Iterable[str]) -> str:
    """What the service answers."""
    found = live_points_answer(machine, Settings(), opened=opened, off=[], released=released)
    return grounded(found, [machine]).model_dump_json()


def same_everywhere(needed: Needed, asked: Iterable[tuple[Appliance, Names, Names]]) -> int:
    """Ask client and service; how many answers were compared."""
    machines: dict[int, Appliance] = {}
    questions = []
    for machine, opened, released in asked:
        machines[id(machine)] = machine
        questions.append((machine, opened, released))
    kept = {str(name): json.loads(pocket_of(each).model_dump_json()) for name, each in machines.items()}
    calls = [
        [{"kept": str(id(machine))}, {"opened": list(opened), "released": list(released)}]
        for machine, opened, released in questions
    ]
    answers = called(needed, MODULE, CALL, calls, kept)
    for (machine, opened, released), answer in zip(questions, answers, strict=True):
        expected = plain(service(machine, opened, released))
        assert plain(json.dumps(answer.get("value", answer))) == expected, (machine.model, opened, released)
    return len(questions)


def subsets(names: Iterable[str]) -> Iterator[Names]:
    every = sorted(names)
    yield from chain.from_iterable(combinations(every, size) for size in range(len(every) + 1))


def some(rng: random.Random, names: Iterable[str]) -> Names:
    """Any number of the names, in any order."""
    every = sorted(names)
    chosen = rng.sample(every, rng.randint(0, len(every)))
    return tuple(chosen if rng.random() < 0.7 else chosen[:2])


def machines(opened: Opened) -> list[Appliance]:
    return [each for entry in opened.collection.models for each in opened.collection.appliances(entry.id)]


def test_demo_machines(needed: Needed, opened: Opened) -> None:
    """Every model and serial range: all sets of isolating devices, and any sets of devices and capacitors."""
    rng = random.Random(7)

    def asked() -> Iterator[tuple[Appliance, Names, Names]]:
        for machine in machines(opened):
            devices, charged = machine.circuit.devices, capacitors(machine)
            yield from ((machine, each, ()) for each in subsets(d for d in devices if devices[d].isolating))
            yield from ((machine, (), (each,)) for each in charged)
            yield machine, tuple(devices), tuple(charged)
            yield from ((machine, some(rng, devices), some(rng, charged)) for _ in range(30))

    assert same_everywhere(needed, asked()) > 500


def random_machine(seed: int) -> Appliance:
    """A random circuit with what random ones elsewhere lack: charges that bleed and share, voltages of points and of
    sources, bonds that a device opens, notices."""
    rng = random.Random(seed)
    found = random_case(seed, size=rng.choice([3, 4, 8, 12]), isolating=3, stray=0.15).circuit
    links = {id_: _filled(rng, each, found) for id_, each in found.links.items()}
    ends = [f"e{number}" for number in range(rng.choice([0, 0, 2, 3, 4]))]
    for number, (start, end) in enumerate(pairwise(ends)):
        sizes = {"farads": rng.choice([1e-6, 4.7e-5]), "farad_tolerance": 0.1, "volts": 325.0, "current": "dc"}
        links[f"q{number}"] = link(f"q{number}", "capacitor", start, end, **sizes)
        bleeding = {"ohms": 47000.0, "ohm_tolerance": 0.05, "bleeds": f"q{number}"}
        links[f"r{number}"] = link(f"r{number}", "load", start, end, **bleeding)
        device = rng.choice([*found.devices])
        other = rng.choice(sorted(found.points) if rng.random() < 0.3 else [each for each in ends if each != end])
        links[f"d{number}"] = link(f"d{number}", "contact", end, other, device=device)
    found = replace(found, points=found.points | {each: Point(each, each, "body") for each in ends})
    points = {
        id_: replace(each, volts=rng.choice([None, 5.0, 170.0, 400.0]), current=rng.choice([None, "ac", "dc"]))
        if rng.random() < 0.2
        else each
        for id_, each in found.points.items()
    }
    sources = {
        id_: replace(each, **rng.choice(VOLTAGES)) if rng.random() < 0.4 and each.volts is not None else each
        for id_, each in found.sources.items()
    }
    charged = [id_ for id_, each in links.items() if each.kind is LinkKind.CAPACITOR]
    for each in charged[:1]:
        links[each] = replace(links[each], component="part-with-charge")
    machine = appliance(
        replace(found, links=links, points=points, sources=sources),
        dict.fromkeys(["body", "part-with-charge", "part-with-nothing"]),
    )
    return replace(machine, bulletins=NOTICES, status=rng.choice(["draft", "reviewed"]))


#: Voltages of sources: not told, and different ones of one peak.
VOLTAGES = [
    {"volts": None},
    {"volts": 200.0, "upper_tolerance": 0.25},
    {"volts": 250.0, "upper_tolerance": 0.0},
    {"volts": 325.0, "current": "dc"},
    {"volts": 120.0, "upper_tolerance": 0.0},  # 169.7 V at its peak, written as 170 V where it is rectified
]
NOTICES = tuple(
    Bulletin(f"notice-{number}", "notice", Concept(kind, kind), "Look.", frozenset(parts))
    for number, (kind, parts) in enumerate(
        [
            ("changed-part", []),
            ("changed-part", ["body"]),
            ("changed-part", ["part-with-charge"]),
            ("changed-part", ["part-with-nothing"]),
            ("safety-recall", ["part-with-nothing"]),
            ("changed-part", ["not-in-this-machine"]),
        ]
    )
)


def _filled(rng: random.Random, each: object, of: Circuit) -> object:
    kind = each.kind  # type: ignore[attr-defined]
    if kind is LinkKind.CAPACITOR:
        sizes = {"farads": rng.choice([None, 1e-6, 2.2e-5]), "volts": rng.choice([None, 120.0, 170.0, 170.0, 325.0])}
        return replace(each, current=rng.choice(["ac", "dc", "dc"]), **sizes)  # type: ignore[type-var]
    if kind is LinkKind.LOAD:
        return replace(each, ohms=rng.choice([None, 100.0, 1e5]))  # type: ignore[type-var]
    if kind is LinkKind.EARTH_BOND and rng.random() < 0.3:
        return replace(each, device=rng.choice(sorted(of.devices)))  # type: ignore[type-var]
    return each


def test_random_machines(needed: Needed) -> None:
    """All sets of devices and capacitors where there are few, some where there are many."""
    rng = random.Random(11)

    def asked() -> Iterator[tuple[Appliance, Names, Names]]:
        for seed in range(200):
            machine = random_machine(seed)
            devices, charged = sorted(machine.circuit.devices), sorted(capacitors(machine))
            if len(devices) + len(charged) <= 5:
                yield from ((machine, one, other) for one in subsets(devices) for other in subsets(charged))
            else:
                yield from ((machine, some(rng, devices), some(rng, charged)) for _ in range(12))

    assert same_everywhere(needed, asked()) > 2000


def test_random_machines_are_of_every_kind() -> None:
    """What the test before must have met to be worth anything."""
    found = [random_machine(seed) for seed in range(200)]
    pockets = [pocket_of(each) for each in found]
    circuits = [each.circuit for each in pockets if each.circuit]
    assert len(circuits) == len(found)
    assert any(feed.derived for each in circuits for feed in each.feeds)
    assert any(feed.wet for each in circuits for feed in each.feeds)
    assert any(feed.wet and feed.holds for each in circuits for feed in each.feeds)
    assert any(len(feed.starts) > 1 and not feed.holds for each in circuits for feed in each.feeds)
    assert any(source.fixed for each in found for source in each.circuit.sources.values())
    assert any(line.changeover for each in found for line in each.circuit.links.values())
    assert any(set(each.deciding) - set(each.isolating) for each in circuits), "a control that opens an earth bond"
    assert any(len(time.sharing) > 1 for each in circuits for time in each.times)
    assert any(len(set(time.seconds)) > 2 for each in circuits for time in each.times)
    assert any(each.doubt for of in circuits for each in of.situations)
    assert any(len({each.waits for each in of.situations}) > 1 for of in circuits)


def test_over_http(needed: Needed, client: TestClient) -> None:
    """The pocket as it is sent makes the answers as they are sent; several serial ranges that share them too."""
    pocket = client.get(f"{DRYER}/pocket").json()
    asked = [((), ()), (("supply-plug",), ()), (("power-control",), ("bus-capacitor",))]
    calls = [[{"kept": "p"}, {"opened": list(one), "released": list(other)}] for one, other in asked]
    for (one, other), answer in zip(asked, called(needed, MODULE, CALL, calls, {"p": pocket}), strict=True):
        sent = client.get(f"{DRYER}/live-points", params={"opened": one, "released": other})
        assert plain(json.dumps(answer["value"])) == plain(sent.text)


@pytest.mark.parametrize(
    ("asked", "said", "what"),
    [
        ({"opened": ["supply-plag"]}, "There is no device 'supply-plag'.", "device"),
        ({"released": ["supply-plug"]}, "There is no capacitor 'supply-plug'.", "capacitor"),
        ({"opened": ["z", "y"], "released": ["x"]}, "There is no device 'y'.", "device"),
    ],
)
def test_unknown_names(needed: Needed, client: TestClient, asked: dict[str, list[str]], said: str, what: str) -> None:
    kept = {"p": client.get(f"{DRYER}/pocket").json()}
    (answer,) = called(needed, MODULE, CALL, [[{"kept": "p"}, asked]], kept)
    assert answer["error"]["message"] == said
    assert answer["error"]["what"] == what
    assert client.get(f"{DRYER}/live-points", params=asked).json()["detail"].startswith(said)


def ladder(rungs: int) -> Appliance:
    """A supply with ``rungs`` isolating devices in a row."""
    names = [f"i{number}" for number in range(rungs)]
    places = ["l", *(f"p{number}" for number in range(rungs))]
    contacts = [
        link(f"k-{name}", "contact", *ends, device=name) for name, ends in zip(names, pairwise(places), strict=True)
    ]
    return appliance(circuit(contacts, [mains()], names))


def bank(size: int) -> Appliance:
    """``size`` capacitors that share one bleed resistor."""
    sizes = {"farads": 1e-5, "volts": 325.0, "current": "dc"}
    links = [link(f"q{number}", "capacitor", "a", "b", **sizes) for number in range(size)]
    return appliance(circuit([*links, link("r", "load", "a", "b", ohms=47000.0, bleeds="q0")], [mains()]))


@pytest.mark.parametrize("machine", [ladder(8), bank(9)])
def test_as_much_as_can_be_foreseen(needed: Needed, machine: Appliance) -> None:
    rng = random.Random(3)
    devices, charged = machine.circuit.devices, capacitors(machine)
    assert same_everywhere(needed, ((machine, some(rng, devices), some(rng, charged)) for _ in range(30)))


@pytest.mark.parametrize(("machine", "said"), [(ladder(9), "9 devices isolate it"), (bank(10), "9 capacitors share")])
def test_no_circuit_where_there_would_be_too_much(needed: Needed, machine: Appliance, said: str) -> None:
    pocket = pocket_of(machine)
    assert pocket.circuit is None
    assert pocket.why_no_circuit is not None
    assert said in pocket.why_no_circuit
    (answer,) = called(needed, MODULE, CALL, [[json.loads(pocket.model_dump_json()), {}]])
    assert answer["error"]["message"] == pocket.why_no_circuit
