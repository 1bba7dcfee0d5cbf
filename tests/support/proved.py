"""Plans of small machines, each held against the oracle that looks at every situation there is."""

from __future__ import annotations

from firstoff.appliance.model import Appliance
from firstoff.removal import Plan, Request, plan
from support.full_model import cheapest, check


def plan_checked(machine: Appliance, request: Request) -> Plan:
    """The plan, carried out and compared with the oracle."""
    found = plan(machine, request)
    check(machine, request, found)
    assert found.optimal
    assert found.minutes == cheapest(machine, request)
    return found
