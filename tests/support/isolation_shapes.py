"""Circuits with many isolating devices, in the shapes that make isolation sets hard to find."""

from __future__ import annotations

import random

from firstoff.appliance.circuit import Circuit, Link
from support.circuits import circuit, link, mains

DEVICES = 25


def _built(links: list[Link]) -> Circuit:
    devices = sorted({each.device for each in links if each.device is not None})
    return circuit(links, [mains(neutral=None)], devices)


def parallel(count: int = DEVICES, seed: int = 0) -> Circuit:
    """One feed for each device: all of them must open."""
    return _built([link(f"k{n}", "contact", "l", "p", device=f"d{n:02d}") for n in range(count)])


def series(count: int = DEVICES, seed: int = 0) -> Circuit:
    """All devices in a row: any one of them will do."""
    ends = ["l", *(f"q{n}" for n in range(count - 1)), "p"]
    return _built([link(f"k{n}", "contact", ends[n], ends[n + 1], device=f"d{n:02d}") for n in range(count)])


def ladder(count: int = DEVICES, seed: int = 0) -> Circuit:
    """Two rails with rungs between them: a path may change rails at every rung."""
    links, rungs = [], count // 3
    for n in range(rungs):
        left, right = f"a{n}" if n else "l", f"b{n}" if n else "l"
        last = n == rungs - 1
        links.append(link(f"ka{n}", "contact", left, "p" if last else f"a{n + 1}", device=f"a{n:02d}"))
        links.append(link(f"kb{n}", "contact", right, "p" if last else f"b{n + 1}", device=f"b{n:02d}"))
        if n:
            links.append(link(f"kr{n}", "contact", f"a{n}", f"b{n}", device=f"r{n:02d}"))
    for n in range(count - len(links)):
        links.append(link(f"ks{n}", "contact", "l", "a1", device=f"s{n:02d}"))
    return _built(links)


def multi_pole(count: int = DEVICES, seed: int = 0) -> Circuit:
    """Every device has two or three poles in different branches of three."""
    rng = random.Random(seed)
    links = []
    for branch in range(9):
        chain = rng.sample(range(count), 3)
        ends = ["l", f"m{branch}", f"n{branch}", "p"]
        links += [
            link(f"k{branch}-{n}", "contact", ends[n], ends[n + 1], device=f"d{device:02d}")
            for n, device in enumerate(chain)
        ]
    for device in sorted(set(range(count)) - {int(each.device[1:]) for each in links if each.device}):
        links.append(link(f"kx{device}", "contact", rng.choice(["l", "m0", "m1"]), "p", device=f"d{device:02d}"))
    return _built(links)


def grid(count: int = DEVICES, seed: int = 0) -> Circuit:
    """Points in a mesh, joined at random by devices of one to three poles."""
    rng = random.Random(seed)
    points = ["l", *(f"q{n}" for n in range(8)), "p"]
    links = []
    for device in range(count):
        for pole in range(rng.choice([1, 1, 2, 3])):
            one, other = rng.sample(points, 2)
            links.append(link(f"k{device}-{pole}", "contact", one, other, device=f"d{device:02d}"))
    return _built(links)


def three_phase(count: int = DEVICES, seed: int = 0) -> Circuit:
    """Three lines through switches of three poles and fuses of one, some of them beside each other."""
    rng = random.Random(seed)
    links = []
    lines = ("l1", "l2", "l3")
    for device in range(count):
        three = rng.random() < 0.5
        stage = rng.randrange(3)
        for number, line in enumerate(lines):
            if three or number == device % 3:
                start = line if stage == 0 else f"{line}-{stage}"
                end = "p" if stage == 2 and number == 0 else f"{line}-{stage + 1}"
                links.append(link(f"k{device}-{number}", "contact", start, end, device=f"d{device:02d}"))
    loads = [link(f"e{n}", "load", "p", f"{line}-3") for n, line in enumerate(lines)]
    devices = sorted({each.device for each in links if each.device is not None})
    return circuit([*links, *loads], [mains(lines=lines, neutral=None)], devices)


SHAPES = {
    "parallel": parallel, "series": series, "ladder": ladder, "multi-pole": multi_pole, "grid": grid,
    "three-phase": three_phase,
}  # fmt: skip
