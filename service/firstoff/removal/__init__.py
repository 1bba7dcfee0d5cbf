"""What comes off first: the cheapest plan to reach components and to put everything back.

``plan(appliance, request)`` answers one request. ``Planner(appliance)`` compiles an appliance once and answers many
requests on it by ``planner.plan(request)``; hold one beside a cached appliance. Errors form the tree drawn in
``firstoff.removal.errors``.
"""

from firstoff.removal.errors import (
    BrokenPlan,
    IllDefinedVariable,
    Obstacle,
    OffTwice,
    RemovalError,
    Undecided,
    UnknownComponent,
    UnknownState,
    UnknownTarget,
    Unreachable,
)
from firstoff.removal.graph import Node, Way
from firstoff.removal.measures import UNITS
from firstoff.removal.planner import Planner, plan
from firstoff.removal.plans import Act, ActKind, Figures, OffRecord, Pareto, Phase, Plan
from firstoff.removal.reliance import Reliance, reliance
from firstoff.removal.request import Budget, Measure, Request, Target

__all__ = [
    "UNITS",
    "Act",
    "ActKind",
    "BrokenPlan",
    "Budget",
    "Figures",
    "IllDefinedVariable",
    "Measure",
    "Node",
    "Obstacle",
    "OffRecord",
    "OffTwice",
    "Pareto",
    "Phase",
    "Plan",
    "Planner",
    "Reliance",
    "RemovalError",
    "Request",
    "Target",
    "Undecided",
    "UnknownComponent",
    "UnknownState",
    "UnknownTarget",
    "Unreachable",
    "Way",
    "plan",
    "reliance",
]
