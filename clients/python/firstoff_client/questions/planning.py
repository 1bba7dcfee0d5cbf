"""What every question about a plan is asked with: one signature for all of them."""

from __future__ import annotations

from dataclasses import replace
from typing import Protocol, TypeVar

from ..asking import LONGEST_ADDRESS, Form, Names, Question, json_body, model_path, names, or_blank, query
from ..contract.removal import Minimise

T = TypeVar("T")

_ARGUMENTS = """

    ``reach`` are targets as ``component`` or ``component:purpose`` (inspect, test, live-test, replace); without any, a
    machine that stands open is closed up. ``off`` is what is off already, ``states`` what is in force now, ``tools``
    what is at hand (all where nothing is said, none where it is empty), ``limits`` what cannot be done today (alone,
    no-refrigerant-licence, machine-fixed), ``minimise`` what the plan makes smallest.
    """


class OfAPlan(Protocol[T]):
    """A function that makes a question about a plan."""

    def __call__(
        self,
        model: str,
        reach: Names = (),
        *,
        off: Names = (),
        states: Names = (),
        tools: Names | None = None,
        limits: Names = (),
        minimise: Minimise | None = None,
        serial: str | None = None,
    ) -> Question[T]: ...


def of_a_plan(name: str, address: str, form: Form[T], said: str, *, by_body: bool = False) -> OfAPlan[T]:
    """The function ``name``, which asks ``address`` about a plan; ``said`` is the first sentence of its docstring.

    With ``by_body``, a question too long for an address is asked in a body.
    """

    def asked(
        model: str,
        reach: Names = (),
        *,
        off: Names = (),
        states: Names = (),
        tools: Names | None = None,
        limits: Names = (),
        minimise: Minimise | None = None,
        serial: str | None = None,
    ) -> Question[T]:
        reach, off, states, limits = names(reach), names(off), names(states), names(limits)
        tools = None if tools is None else names(tools)
        parameters = query(
            reach=reach, off=off, states=states, tools=or_blank(tools), limits=limits, minimise=minimise, serial=serial
        )
        question = Question(model_path(address, model), form, query=parameters)
        if not by_body or len(question.address) <= LONGEST_ADDRESS:
            return question
        body = json_body(
            reach=reach, off=off, states=states, tools=tools, limits=limits, minimise=minimise, serial=serial
        )
        return replace(question, method="POST", query=(), body=body, headers={"content-type": "application/json"})

    asked.__name__ = asked.__qualname__ = name
    asked.__doc__ = said + _ARGUMENTS
    asked.__annotations__["return"] = f"Question[{form.gives}]"
    return asked
