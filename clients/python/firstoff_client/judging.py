"""What an answer is: the value asked for, or an error of the tree."""

from __future__ import annotations

import json
from typing import TypeVar

from pydantic import ValidationError

from .asking import Question, UnknownFields
from .contract.problem import Problem
from .errors import Interrupted, NoAnswer, Nonsense, TimedOut, Unavailable, Unreachable, problem_error
from .replies import Failed, Got, Reply

T = TypeVar("T")

_LOST = "Whether it was carried out is not known: look before you send it again."
_AGAIN = "Try again; if it goes on, see whether the service runs and the network is there."


class Unread(Exception):
    """A good answer that cannot be read as the contract; ``why`` in a few words."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


def judged(question: Question[T], reply: Reply, where: str, unknown: UnknownFields, wait: float | None) -> T:
    """The value that ``reply`` answers ``question`` with. ``where`` names the request, ``wait`` is its Retry-After.

    :raises Unread: the answer is good but not of the form it should have.
    :raises FirstoffError: there is no good answer.
    """
    if isinstance(reply, Failed):
        raise _no_answer(question, reply, where)
    if reply.status in question.answered and reply.media_type != "application/problem+json":
        return _value(question, reply, unknown)
    problem = problem_of(reply)
    if problem is not None:
        raise problem_error(problem, wait)
    raise _no_problem(reply, where, wait)


def problem_of(got: Got) -> Problem | None:
    """The problem document of an answer, None where it is none. RFC 9457 lets every member be left out: what is
    missing is filled in."""
    if got.media_type != "application/problem+json" or got.status < 400:
        return None
    try:
        said = json.loads(got.body)
        title = said.get("title") or f"The request was answered with {got.status}."
        filled = {"type": "about:blank", "title": title, "detail": title, "mend": "Correct the request."} | said
        return Problem.model_validate(filled | {"status": got.status})
    except (ValueError, AttributeError, TypeError, RecursionError):
        return None


def _value(question: Question[T], got: Got, unknown: UnknownFields) -> T:
    if got.media_type != question.form.accept:
        raise Unread(f"it is {got.media_type or 'of no kind that it tells'}, not {question.form.accept}")
    try:
        return question.form.read(got, unknown)
    except ValidationError as error:
        first = error.errors(include_url=False, include_context=False, include_input=False)[0]
        place = ".".join(str(part) for part in first["loc"])
        raise Unread(f"{place}: {first['msg']}" if place else first["msg"]) from error
    except (ValueError, RecursionError) as error:
        raise Unread(str(error) or "it cannot be read") from error


def _no_answer(question: Question[T], failed: Failed, where: str) -> NoAnswer | Nonsense:
    mend = _AGAIN if question.repeatable else _LOST
    match failed.how:
        case "unsent":
            return Unreachable(f"{where}: there is no connection ({failed.said}).", f"Nothing was sent. {_AGAIN}")
        case "late":
            return TimedOut(f"{where}: there was no whole answer in time ({failed.said}).", mend)
        case "broken":
            return Interrupted(f"{where}: the connection broke ({failed.said}).", mend)
        case "garbled":
            return Nonsense(f"{where}: the answer cannot be read ({failed.said}).", "See what stands at this address.")


def _no_problem(got: Got, where: str, wait: float | None) -> NoAnswer | Nonsense:
    """The error of an answer that is neither good nor a problem document."""
    kind = got.media_type or "nothing that says what it is"
    if 300 <= got.status < 400:
        aim = got.headers.get("location", "nowhere")
        return Nonsense(
            f"{where}: answered {got.status}, on to {aim[:200]}. Redirects are not followed.",
            "Give the client the address that the service is at.",
        )
    if got.status in (429, 502, 503, 504):
        error = Unavailable(
            f"{where}: answered {got.status} in {kind}: something in front of the service, not the service.", _AGAIN
        )
        error.retry_after = wait
        return error
    return Nonsense(
        f"{where}: answered {got.status} in {kind}, which is neither an answer nor a problem document.",
        "See whether a firstoff service is at this address.",
    )
