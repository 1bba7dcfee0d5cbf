"""What a job sheet is made of."""

from __future__ import annotations

from dataclasses import dataclass

from firstoff.sheet.diagram import Diagram
from firstoff_contract.common import BulletinNote
from firstoff_contract.removal import RemovalPlan


@dataclass(frozen=True, slots=True)
class Machine:
    """The machine in hand. ``serial`` and ``serial_range`` are None where no serial number was given."""

    maker: str
    number: str
    label: str
    kind: str
    platform: str
    serial: str | None = None
    serial_range: str | None = None
    bulletins: tuple[BulletinNote, ...] = ()


@dataclass(frozen=True, slots=True)
class Job:
    """One job: the machine, the plan and the picture of the plan; ``shop`` is printed at the head where it is given."""

    machine: Machine
    plan: RemovalPlan
    diagram: Diagram
    shop: str = ""

    @property
    def settled(self) -> bool:
        """Whether the plan and its alternatives are proved, so that the same question has the same sheet again."""
        return self.plan.settled
