"""Retries and the cache, on the exchange itself: a scripted network and a clock that only moves when told to."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff_client import FirstoffError, NoAnswer, Nonsense, Retrying
from firstoff_client import questions as q
from firstoff_client.asking import Form, Question
from firstoff_client.caching import Cache
from firstoff_client.errors import KINDS, TYPE_BASE, OutOfTime, ServiceFailed, Unavailable
from firstoff_client.exchange import Setup, exchange
from firstoff_client.replies import Failed, Got, Reply, Send, Wait
from firstoff_client.retrying import http_date, retry_after, worth_repeating

TEXT: Form[str] = Form("text/plain", lambda got, _: got.body.decode(), "str")
GOOD = Got(200, {"content-type": "text/plain"}, b"the answer")


def question(method: str = "GET", *, repeatable: bool = True, path: str = "/v1/x") -> Question[str]:
    return Question(path, TEXT, method, repeatable=repeatable)


@dataclass
class Network:
    """Gives ``replies`` in order, the last for ever; each takes ``seconds`` of the clock, up to what is allowed."""

    replies: list[Reply]
    seconds: float = 0.0
    chance: float = 0.5
    now: float = 1000.0
    sent: list[Send] = field(default_factory=list)
    waits: list[float] = field(default_factory=list)

    def run(
        self,
        asked: Question[str],
        retrying: dict[str, float] | None = None,
        cache: Cache | None = None,
        timeout: float = 10.0,
    ) -> str:
        policy = Retrying(clock=lambda: self.now, chance=lambda: self.chance, **(retrying or {}))  # type: ignore[arg-type]
        setup = Setup("http://shop.example", timeout=timeout, retrying=policy)
        steps = exchange(asked, setup, Cache(1_000_000) if cache is None else cache)
        reply: Reply | None = None
        while True:
            try:
                step = steps.send(reply)
            except StopIteration as end:
                answer: str = end.value
                return answer
            if isinstance(step, Wait):
                self.waits.append(step.seconds)
                self.now += step.seconds
                reply = None
            else:
                self.now += min(self.seconds, step.seconds)
                reply = self.replies[min(len(self.sent), len(self.replies) - 1)]
                self.sent.append(step)


def turned_away(status: int, **headers: str) -> Got:
    return Got(
        status, {"content-type": "text/html"} | {n.replace("_", "-"): v for n, v in headers.items()}, b"<p>no</p>"
    )


def problem(kind: str, status: int) -> Got:
    body = f'{{"type": "{TYPE_BASE}{kind}", "title": "T", "status": {status}, "detail": "D.", "mend": "M."}}'
    return Got(status, {"content-type": "application/problem+json"}, body.encode())


PASSING: list[Reply] = [
    Failed("unsent", "refused"),
    Failed("late", "read timeout"),
    Failed("broken", "reset"),
    turned_away(429),
    turned_away(502),
    turned_away(503),
    turned_away(504),
    problem("store-failed", 503),
]


@pytest.mark.parametrize("reply", PASSING, ids=str)
def test_what_passes_is_asked_again(reply: Reply) -> None:
    network = Network([reply, reply, GOOD])
    assert network.run(question()) == "the answer"
    assert len(network.sent) == 3


@pytest.mark.parametrize(
    "reply",
    [
        turned_away(400),
        turned_away(404),
        turned_away(500),  # a fault of the service, which the same request meets again
        problem("not-found", 404),
        problem("out-of-time", 503),
        problem("content-broken", 503),
        Failed("garbled", "bad gzip"),
        Got(302, {"location": "/elsewhere"}, b""),
        Got(304, {}, b""),
    ],
    ids=str,
)
def test_what_lasts_is_not_asked_again(reply: Reply) -> None:
    network = Network([reply, GOOD])
    with pytest.raises(FirstoffError):
        network.run(question())
    assert len(network.sent) == 1


@pytest.mark.parametrize(
    ("reply", "times"),
    [
        (Failed("unsent", "refused"), 2),  # nothing was sent
        (turned_away(429), 2),  # it was turned away
        (turned_away(503), 2),
        (Failed("late", "read timeout"), 1),  # it may have been carried out
        (Failed("broken", "reset"), 1),
        (turned_away(502), 1),
        (turned_away(504), 1),
    ],
    ids=str,
)
def test_what_may_have_been_done_is_not_done_twice(reply: Reply, times: int) -> None:
    network = Network([reply, GOOD])
    if times == 1:
        with pytest.raises(NoAnswer):
            network.run(question("PUT", repeatable=False))
    else:
        assert network.run(question("PUT", repeatable=False)) == "the answer"
    assert len(network.sent) == times


@pytest.mark.parametrize("how", ["late", "broken"])
def test_what_may_have_been_done_is_said_to_be_unknown(how: Literal["late", "broken"]) -> None:
    with pytest.raises(NoAnswer, match="look before you send it again"):
        Network([Failed(how, "")]).run(question("PUT", repeatable=False))


def test_saves_are_the_questions_that_are_not_repeated() -> None:
    saves = [
        q.publish_graph("p", "", over="*", why=""),
        q.withdraw_graph("p", over="*", why=""),
        q.restore_graph("p", 1, over="*", why=""),
    ]
    assert not any(each.repeatable for each in saves)
    assert {each.method for each in saves} == {"PUT", "DELETE", "POST"}
    assert q.check_graph("").repeatable


replies = st.lists(st.sampled_from(PASSING), min_size=1, max_size=12)


@given(
    replies=replies,
    attempts=st.integers(1, 8),
    first=st.floats(0, 4),
    most=st.floats(0, 20),
    total=st.floats(0, 60),
    seconds=st.floats(0, 15),
    chance=st.floats(0, 1, exclude_max=True),
)
def test_attempts_pauses_and_time_are_bounded(
    replies: list[Reply],
    attempts: int,
    first: float,
    most: float,
    total: float,
    seconds: float,
    chance: float,
) -> None:
    network = Network(replies, seconds=seconds, chance=chance)
    start = network.now
    with pytest.raises(FirstoffError):
        network.run(question(), {"attempts": attempts, "first": first, "most": most, "total": total})
    assert 1 <= len(network.sent) <= attempts
    assert len(network.waits) == len(network.sent) - 1
    for place, pause in enumerate(network.waits):
        assert 0 <= pause <= min(most, first * 2**place)
    # The last attempt may begin just before the end, and has no longer than what is left.
    assert network.now - start <= total + 0.002
    assert all(each.seconds <= 10.0 for each in network.sent)


@given(wait=st.integers(0, 100), chance=st.floats(0, 1, exclude_max=True), as_date=st.booleans())
def test_retry_after_is_honoured_or_the_client_gives_up_at_once(wait: int, chance: float, as_date: bool) -> None:
    said = http_date(1_000_000.0 + wait) if as_date else str(wait)
    away = turned_away(503, retry_after=said, date=http_date(1_000_000.0))
    network = Network([away, GOOD], chance=chance)
    if wait + 0.25 * chance < 30.0:
        assert network.run(question(), {"total": 30.0}) == "the answer"
        assert network.waits[0] >= wait
    else:
        with pytest.raises(Unavailable) as refused:
            network.run(question(), {"total": 30.0})
        assert (network.waits, refused.value.retry_after) == ([], wait)


@pytest.mark.parametrize(
    ("headers", "seconds"),
    [
        ({}, None),
        ({"retry-after": "7"}, 7.0),
        ({"retry-after": " 0 "}, 0.0),
        ({"retry-after": "9" * 400}, float("inf")),
        ({"retry-after": "-3"}, None),
        ({"retry-after": "1.5"}, None),  # RFC 9110, 10.2.3: whole seconds
        ({"retry-after": "soon"}, None),
        ({"retry-after": http_date(60.0)}, 0.0),  # over
        ({"retry-after": http_date(500.0)}, 380.0),  # against the clock here
        ({"retry-after": http_date(500.0), "date": http_date(450.0)}, 50.0),  # against the service's own
        ({"retry-after": "Sunday, 06-Nov-94 08:49:37 GMT", "date": "Sun, 06 Nov 1994 08:49:30 GMT"}, 7.0),  # obsolete
        ({"retry-after": "Mon, 99 Foo 2026 99:99:99 GMT"}, None),
    ],
)
def test_retry_after_is_read(headers: dict[str, str], seconds: float | None) -> None:
    assert retry_after(headers, now=lambda: 120.0) == seconds


@given(said=st.text(max_size=60))
def test_whatever_retry_after_says_it_never_fails(said: str) -> None:
    found = retry_after({"retry-after": said})
    assert found is None or found >= 0


def test_backoff_draws_from_the_whole_range() -> None:
    low, high = Retrying(chance=lambda: 0.0), Retrying(chance=lambda: 1.0)
    assert [low.pause(n, None) for n in (1, 2, 3, 4)] == [0.0, 0.0, 0.0, None]
    assert [high.pause(n, None) for n in (1, 2, 3, 4)] == [0.25, 0.5, 1.0, None]
    assert Retrying(attempts=2000, chance=lambda: 1.0).pause(1999, None) == 8.0


@pytest.mark.parametrize("wrong", [{"attempts": 0}, {"first": -1.0}, {"most": -1.0}, {"total": -0.1}])
def test_a_policy_that_is_none_is_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(ValueError, match="at least 1"):
        Retrying(**wrong)  # type: ignore[arg-type]


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_which_problems_pass(kind: str) -> None:
    lasting = {"out-of-time", "content-broken", "queries-off"}
    assert worth_repeating(problem(kind, 503), repeatable=True) == (kind not in lasting)
    expected = OutOfTime if kind == "out-of-time" else KINDS[kind]
    with pytest.raises(expected):
        Network([problem(kind, 503)]).run(question())


# The cache


def tagged(body: str, etag: str, **headers: str) -> Got:
    return Got(200, {"content-type": "text/plain", "etag": etag} | headers, body.encode())


@given(
    changes=st.lists(st.sampled_from(["ask", "change", "forget"]), max_size=30),
    most=st.integers(0, 400),
)
def test_the_answer_is_always_the_service_s_present_one(changes: list[str], most: int) -> None:
    """A service that answers 304 to its present ETag, any cache size: what is given is never what was."""
    cache, version = Cache(most), 0
    for change in changes:
        if change == "change":
            version += 1
        elif change == "forget":
            cache = Cache(most)
        else:
            served = tagged(f"answer {version}", f'"{version}"')
            assert ask_service(served, cache) == f"answer {version}"
        assert cache.size <= most


def ask_service(served: Got, cache: Cache) -> str:
    """What a client gets of a service that serves ``served``, and answers 304 to its ETag."""
    steps = exchange(question(), Setup("http://shop.example"), cache)
    send = next(steps)
    assert isinstance(send, Send)
    same = send.headers.get("if-none-match") == served.etag
    try:
        steps.send(Got(304, {"etag": served.etag or ""}, b"") if same else served)
    except StopIteration as end:
        answer: str = end.value
        return answer
    raise AssertionError("an answer ends an exchange")


def test_what_is_kept_is_asked_for_with_its_etag_and_not_sent_again() -> None:
    cache = Cache(10_000)
    network = Network([tagged("first", '"1"'), Got(304, {}, b"")])
    assert [network.run(question(), cache=cache) for _ in range(3)] == ["first"] * 3
    assert ["if-none-match" in each.headers for each in network.sent] == [False, True, True]


@pytest.mark.parametrize(
    "first",
    [
        tagged("first", '"1"', **{"cache-control": "no-store"}),
        tagged("first", '"1"', **{"cache-control": "No-Cache, NO-STORE"}),
        GOOD,  # no ETag
        tagged("x" * 20_000, '"1"'),  # larger than the cache
    ],
    ids=["no-store", "no-store among others", "no etag", "too large"],
)
def test_what_may_not_be_kept_is_not(first: Got) -> None:
    cache = Cache(10_000)
    network = Network([first, tagged("second", '"2"')])
    network.run(question(), cache=cache)
    assert len(cache) == 0
    assert network.run(question(), cache=cache) == "second"
    assert "if-none-match" not in network.sent[1].headers


def test_an_answer_that_may_no_longer_be_kept_is_dropped() -> None:
    cache = Cache(10_000)
    Network([tagged("first", '"1"')]).run(question(), cache=cache)
    Network([GOOD]).run(question(), cache=cache)
    assert (len(cache), cache.size) == (0, 0)


def test_addresses_and_representations_are_kept_apart() -> None:
    cache = Cache(10_000)
    other: Form[str] = Form("text/other", lambda got, _: "other " + got.body.decode(), "str")
    Network([tagged("a", '"1"')]).run(question(), cache=cache)
    network = Network([Got(200, {"content-type": "text/other", "etag": '"2"'}, b"b")])
    assert network.run(Question("/v1/x", other), cache=cache) == "other b"
    Network([tagged("c", '"3"')]).run(question(path="/v1/y"), cache=cache)
    assert all("if-none-match" not in each.headers for each in network.sent)
    assert len(cache) == 3


def test_only_reads_are_kept() -> None:
    cache = Cache(10_000)
    Network([tagged("a", '"1"')]).run(question("POST"), cache=cache)
    assert len(cache) == 0
    Network([tagged("read", '"1"')]).run(question(), cache=cache)
    network = Network([tagged("posted", '"2"')])
    assert network.run(question("POST"), cache=cache) == "posted"  # the same address, asked in a body
    assert "if-none-match" not in network.sent[0].headers
    assert Network([Got(304, {}, b"")]).run(question(), cache=cache) == "read"


def test_those_used_last_stay() -> None:
    answer = Got(200, {"etag": '"1"'}, b"answer")
    most = 3
    cache = Cache(most * len('answeretag"1"'))
    for name in "abc":
        cache.keep((name, ""), answer)
    for name in "defghijklmnop":
        assert cache.held(("a", "")) is not None
        cache.keep((name, ""), answer)
    assert (cache.held(("b", "")), len(cache)) == (None, most)


def test_threads_may_share_a_cache() -> None:
    cache, each = Cache(2_000), 200

    def work(thread: int) -> None:
        for n in range(each):
            cache.keep((f"/{(n * thread) % 17}", ""), tagged("x" * (n % 400), '"1"'))
            held = cache.held((f"/{n % 17}", ""))
            assert held is None or held.etag == '"1"'

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(work, range(1, 9)))
    kept = [cache.held((f"/{n}", "")) for n in range(17)]
    assert sum(len(one.body) for one in kept if one is not None) <= cache.size <= 2_000
    assert len(cache) == sum(one is not None for one in kept)


@pytest.mark.parametrize("reply", [Got(304, {}, b""), Got(304, {"etag": '"1"'}, b"")], ids=["bare", "with a tag"])
def test_not_modified_without_anything_kept_is_nonsense(reply: Got) -> None:
    with pytest.raises(Nonsense, match="though nothing was kept"):
        Network([reply]).run(question())


def test_not_modified_of_something_else_is_nonsense() -> None:
    cache = Cache(10_000)
    Network([tagged("a", 'W/"1"')]).run(question(), cache=cache)
    assert Network([Got(304, {"etag": '"1"'}, b"")]).run(question(), cache=cache) == "a"  # compared weakly
    with pytest.raises(Nonsense, match="another answer"):
        Network([Got(304, {"etag": '"2"'}, b"")]).run(question(), cache=cache)


def test_nonsense_is_not_kept() -> None:
    cache = Cache(10_000)
    broken = Got(200, {"content-type": "text/plain", "etag": '"1"'}, b"\xff")
    with pytest.raises(Nonsense):
        Network([broken]).run(question(), cache=cache)
    assert len(cache) == 0


def test_a_service_failure_keeps_what_was_kept() -> None:
    cache = Cache(10_000)
    Network([tagged("a", '"1"')]).run(question(), cache=cache)
    with pytest.raises(ServiceFailed):
        Network([problem("store-failed", 503)]).run(question(), {"attempts": 1}, cache=cache)
    assert Network([Got(304, {}, b"")]).run(question(), cache=cache) == "a"
