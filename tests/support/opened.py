"""Machines that are found open, for the tests alone."""

from __future__ import annotations

from random import Random

from firstoff.appliance.model import Appliance
from firstoff.removal import ActKind, Request
from support.full_model import start_of, steps
from support.instances import small_case


def opened_case(seed: int) -> tuple[Appliance, Request]:
    """A small machine after up to eight random acts, and a request for what is left to do on it.

    What is off is named by the removal that took it off or, now and then, by the component alone.
    """
    machine, asked = small_case(seed)
    rng = Random(f"opened {seed}")
    now = start_of(machine, Request(()))
    for _ in range(rng.randint(2, 8)):
        able = [after for (kind, *_), after in steps(machine, Request(()), now) if kind is not ActKind.SERVE]
        if able:
            now = rng.choice(sorted(able, key=lambda each: (sorted(each.off), sorted(each.states))))
    off = frozenset(part if rng.random() < 0.3 else way for part, way in sorted(now.off))
    targets = asked.targets if rng.random() < 0.9 else ()
    banned = asked.banned if rng.random() < 0.5 else frozenset()
    return machine, Request(targets, off, None, asked.alternatives, dict(now.states), banned)
