"""The client that waits for its answers."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from types import TracebackType
from typing import Concatenate, ParamSpec, Self, TypeVar

import httpx2

from . import questions as q
from .asking import Question, UnknownFields
from .caching import Cache
from .exchange import Setup, base_of, exchange
from .listing import Listing
from .methods import described
from .replies import Reply, Wait
from .retrying import Retrying
from .transport import sent

P = ParamSpec("P")
T = TypeVar("T")
A = TypeVar("A")
Entry = TypeVar("Entry")


def _asked(question: Callable[P, Question[T]]) -> Callable[Concatenate[Firstoff, P], T]:
    def method(self: Firstoff, /, *args: P.args, **kwargs: P.kwargs) -> T:
        return self.ask(question(*args, **kwargs))

    described(method, question, "Question", "{}")
    return method


def _listed(listing: Callable[P, Listing[A, Entry]]) -> Callable[Concatenate[Firstoff, P], Iterator[Entry]]:
    def method(self: Firstoff, /, *args: P.args, **kwargs: P.kwargs) -> Iterator[Entry]:
        return self.each(listing(*args, **kwargs))

    described(method, listing, "Listing", "Iterator[{}]")
    return method


class Firstoff:
    """A service at ``address``, such as ``http://localhost:8080``. Use it in a ``with`` block, or close it.

    Each method asks the question of the same name in :mod:`firstoff_client.questions` and gives its contract model, or
    raises an error of :mod:`firstoff_client.errors`. One client may be used by several threads.

    ``outcome_key`` and ``publish_key`` are the keys for telling outcomes and for publishing. ``timeout`` are the
    seconds of one attempt, ``retrying`` how often and how long a request is tried again, ``cache_bytes`` how much of
    the answers is kept to save sending them again. ``unknown_fields="ignore"`` reads answers of a service with fields
    that this client does not know; what they say, such as a new caution, is then lost. ``http`` is an HTTP client of
    your own, for certificates or proxies; it is not closed.

    :raises ValueError: ``address`` is no address of a service.
    """

    def __init__(
        self,
        address: str,
        *,
        outcome_key: str | None = None,
        publish_key: str | None = None,
        timeout: float = 10.0,
        retrying: Retrying | None = None,
        cache_bytes: int = 16_000_000,
        unknown_fields: UnknownFields = "refuse",
        http: httpx2.Client | None = None,
    ) -> None:
        given = {"outcome_key": outcome_key, "publish_key": publish_key}
        keys = {name: key for name, key in given.items() if key is not None}
        self._setup = Setup(base_of(address), keys, timeout, retrying or Retrying(), unknown_fields)
        self._cache = Cache(cache_bytes)
        self._own = http is None
        self._http = httpx2.Client() if http is None else http

    def ask(self, question: Question[T]) -> T:
        """Ask any question, and wait for its answer.

        :raises FirstoffError: there is no good answer.
        """
        steps = exchange(question, self._setup, self._cache)
        reply: Reply | None = None
        while True:
            try:
                step = steps.send(reply)
            except StopIteration as end:
                answer: T = end.value
                return answer
            reply = None
            if isinstance(step, Wait):
                time.sleep(step.seconds)
            else:
                reply = sent(self._http, step)

    def each(self, listing: Listing[A, Entry]) -> Iterator[Entry]:
        """Every entry of a list, asking for a page when it is needed."""
        question: Question[A] | None = listing.first
        while question is not None:
            answer = self.ask(question)
            yield from listing.entries(answer)
            question = listing.after(question, answer)

    def close(self) -> None:
        """Close the connections."""
        if self._own:
            self._http.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    search = _asked(q.search)
    suggest = _asked(q.suggest)
    models = _listed(q.models)
    model_list = _asked(q.model_list)
    model = _asked(q.model)
    components = _listed(q.components)
    component_list = _asked(q.component_list)
    component = _asked(q.component)
    codes = _listed(q.codes)
    code_list = _asked(q.code_list)
    code = _asked(q.code)
    service_modes = _asked(q.service_modes)
    health = _asked(q.health)
    readiness = _asked(q.readiness)

    removal_plan = _asked(q.removal_plan)
    pareto = _asked(q.pareto)
    while_open = _asked(q.while_open)
    exposed = _asked(q.exposed)
    hidden = _asked(q.hidden)
    job_sheet = _asked(q.job_sheet)
    plan_picture = _asked(q.plan_picture)

    live_points = _asked(q.live_points)
    isolation = _asked(q.isolation)
    make_safe = _asked(q.make_safe)
    reading = _asked(q.reading)
    energies = _asked(q.energies)
    curve = _asked(q.curve)
    saturation = _asked(q.saturation)
    socket_check = _asked(q.socket_check)
    supply_picture = _asked(q.supply_picture)
    pocket = _asked(q.pocket)

    diagnosis = _asked(q.diagnosis)
    carry = _asked(q.carry)
    safety_record = _asked(q.safety_record)
    outcomes = _asked(q.outcomes)
    tell_outcome = _asked(q.tell_outcome)

    graph_list = _asked(q.graph_list)
    graph = _asked(q.graph)
    graph_versions = _asked(q.graph_versions)
    graph_version = _asked(q.graph_version)
    graph_difference = _asked(q.graph_difference)
    graph_provenance = _asked(q.graph_provenance)
    check_graph = _asked(q.check_graph)
    publish_graph = _asked(q.publish_graph)
    withdraw_graph = _asked(q.withdraw_graph)
    restore_graph = _asked(q.restore_graph)
