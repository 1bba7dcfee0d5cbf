"""Requests a second and how long they take, on a mix as technicians make it, beside a fixed answer; and growth.

Run: python tests/benchmarks/load.py [--quick] [--platforms 2000] [--seconds 5] [--rounds 3] [--warm 60] [--growth]

A service in a process of its own is asked by wrk (Debian package of that name) over loopback, on four connections kept
open. The mix, 20,000 requests drawn anew each round: search 20 % (a third misspelt), suggestions 15 %, a model 10 %,
its parts 10 %, plans 20 % (one in five never asked before), live points 10 %, isolation 5 %, diagnosis by POST 5 %,
making safe 5 %; some of the hottest bring the tag of a copy at hand. Models are drawn by Zipf's law, exponent 1. A
diagnosis is a moment of a job that does what it is told next: symptoms, then an outcome or a remedy more, as likely as
the answers say. The fixed answer is a route of the same process that returns stored bytes of the mean size of the mix.
Both are asked in turn, several rounds, after a mix that warms up; printed are medians, and the ratio of rates within a
round.

``--growth`` asks the same of 100, 300, 1,000, 3,000 and 10,000 generated platforms; times marked * are of cores, not of
the clock, and so much the same on a busy machine.
"""

from __future__ import annotations

import argparse
import http.client
import json
import multiprocessing
import os
import random
import shutil
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pyoxigraph as ox

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from support.generated_platforms import models_of, platform, written

SCRIPT = Path(__file__).with_name("mix.lua")
DRAWN = 20_000
CONNECTIONS = 4
MOST_STEPS = 4
#: One caller asks for all: what keeps callers in bounds is not what is measured.
UNLIMITED: dict[str, Any] = {"log_level": "error"}


@dataclass(frozen=True, slots=True)
class Machine:
    """A model and what is asked of it. ``more`` is a parameter of every question."""

    model: str
    reach: str
    touch: str
    opened: str
    symptoms: tuple[str, ...]
    more: str = ""

    @property
    def body(self) -> dict[str, str]:
        """What a body says of the serial number."""
        name, _, value = self.more.removeprefix("&").partition("=")
        return {name: value} if name else {}


@dataclass(frozen=True, slots=True)
class Content:
    name: str
    folder: Path | None
    machines: Sequence[Machine]
    searches: Sequence[str]


DEMO = Content(
    "demo",
    None,
    (
        Machine(
            "tgd27-460-s",
            "drum-belt",
            "drive-motor",
            "power-control",
            ("no-heat", "drum-does-not-turn", "clothes-still-damp"),
        ),
        Machine("flb-316-k", "damper", "compressor", "plug", ("fridge-warm", "no-defrost", "noisy"), "&serial=1"),
    ),
    ("drum wont turn", "no heat", "fridge warm", "belt", "drive motor", "compressor", "e 5", "tgd27 460", "door seal"),
)


def generated(folder: Path, count: int) -> Content:
    written(folder, count)
    machines = [
        Machine(model, "cover", "cover", "plug", ("light-out",), "&serial=150" if model.endswith("10") else "")
        for number in range(count)
        for model in models_of(number)
    ]
    words = ("rear door bracket", "lamp glass", "upper drum spring", "dark", "E1", "supply cord", "left pump gasket")
    plates = tuple(f"B {number:05d}/10" for number in range(0, count, max(1, count // 50)))
    return Content(f"{count} platforms", folder, machines, words + plates)


def misspelt(text: str, drawn: random.Random) -> str:
    place = drawn.randrange(len(text))
    return text[:place] + text[place + 1 :] if len(text) > 3 else text


Findings = Sequence[tuple[dict[str, Any], float]]


def moments(service: Service, content: Content) -> list[Findings]:
    """By machine the bodies of diagnosis and how likely a job comes to each; generated machines fail alike."""
    asked = content.machines[:1] if content.folder else content.machines
    found = [[each for symptom in one.symptoms for each in moments_of(service, one, symptom)] for one in asked]
    return found * (len(content.machines) // len(asked))


def moments_of(service: Service, machine: Machine, symptom: str) -> list[tuple[dict[str, Any], float]]:
    """From a symptom along the tree of what is told next, at most ``MOST_STEPS`` steps."""
    body: dict[str, Any] = {"symptoms": [symptom], **machine.body}
    asked = json.dumps({**body, "tree": True})
    status, _, answer = service.ask("POST", f"/v1/models/{machine.model}/diagnosis", asked)
    if status != 200:
        raise SystemExit(f"{status} for {machine.model} and {symptom}: {answer.decode()[:300]}")
    found = [(body, 1.0)]
    waiting = [(body, 1.0, json.loads(answer)["next"], MOST_STEPS)]
    while waiting:
        known, likely, step, left = waiting.pop()
        if step is None or step["id"] is None or not left:
            continue
        for then in step["then"]:
            if then["outcome"] == "repaired":
                continue
            told: dict[str, Any] = {"check": step["id"], "label": then["outcome"]}
            name, more = ("tried", step["id"]) if step["kind"] == "remedy" else ("outcomes", told)
            after = {**known, name: [*known.get(name, ()), more]}
            found.append((after, likely * then["probability"]))
            waiting.append((*found[-1], then["step"], left - 1))
    return found


def mix(content: Content, jobs: Sequence[Findings], turn: int, count: int = DRAWN) -> list[tuple[str, str, str]]:
    """Method, address and body of each request of a round, in the order they are sent; round 0 has no fresh plans."""
    drawn = random.Random(8 + turn)
    hot = list(zip(content.machines, jobs, strict=True))
    random.Random(8).shuffle(hot)
    ranks = [1 / (rank + 1) for rank in range(len(hot))]
    fresh = turn * DRAWN // 20
    asked: list[tuple[str, str, str]] = []
    for machine, findings in drawn.choices(hot, ranks, k=count):
        share, at = drawn.random(), f"/v1/models/{machine.model}"
        if share < 0.35:
            text = drawn.choice(content.searches)
            name, slips = ("search", share < 0.07) if share < 0.20 else ("suggest", False)
            asked.append(("GET", f"/v1/{name}?q={quote(misspelt(text, drawn) if slips else text)}", ""))
        elif share < 0.45:
            asked.append(("GET", at, ""))
        elif share < 0.55:
            asked.append(("GET", f"{at}/components?limit=50", ""))
        elif share < 0.75:
            new = turn > 0 and share < 0.59
            fresh += new  # an empty parameter more makes an address of its own: its answer is computed anew
            asked.append(("GET", f"{at}/removal-plan?reach={machine.reach}{machine.more}{'&' * fresh * new}", ""))
        elif share < 0.85:
            asked.append(("GET", f"{at}/live-points?opened={machine.opened}{machine.more}", ""))
        elif share < 0.90:
            asked.append(("GET", f"{at}/isolation?touch={machine.touch}{machine.more}", ""))
        elif share < 0.95:
            (body,) = drawn.choices([each for each, _ in findings], [likely for _, likely in findings])
            asked.append(("POST", f"{at}/diagnosis", json.dumps({**body, **machine.body})))
        else:
            asked.append(("GET", f"{at}/make-safe?reach={machine.reach}{machine.more}", ""))
    return asked


def serve(folder: Path | None, port: int) -> None:
    """The service on ``port``, with ``/fixed`` beside it."""
    import uvicorn
    from fastapi import Response

    from firstoff.api.application import create_app
    from firstoff.collection.opening import open_content
    from firstoff.collection.settling import settled
    from firstoff.settings import Settings

    settings = Settings(**({"data": folder} if folder else {}), **UNLIMITED)
    app = create_app(open_content(settings.data), settings)
    settled()
    bodies: dict[int, bytes] = {}

    @app.get("/fixed")
    def fixed(size: int = 0) -> Response:
        return Response(bodies.setdefault(size, b"x" * size), media_type="application/json")

    uvicorn.run(app, host="127.0.0.1", port=port, log_level="error", access_log=False)


class Service:
    """A service in a process of its own; ``seconds`` is how long it took to answer, ``content`` its megabytes then."""

    def __init__(self, content: Content) -> None:
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port: int = free.getsockname()[1]
        started = time.perf_counter()
        context = multiprocessing.get_context("spawn")
        self._process = context.Process(target=serve, args=(content.folder, self.port), daemon=True)
        self._process.start()
        while True:
            try:
                self.ask("GET", "/healthz")
                break
            except OSError:
                time.sleep(0.02)
        self.seconds = time.perf_counter() - started
        self.content = self.memory("VmRSS")

    def ask(self, method: str, address: str, body: str = "") -> tuple[int, dict[str, str], bytes]:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        connection.request(method, address, body or None, {"content-type": "application/json"} if body else {})
        answer = connection.getresponse()
        said = answer.status, {name.lower(): value for name, value in answer.getheaders()}, answer.read()
        connection.close()
        return said

    def memory(self, which: str) -> float:
        """Megabytes: ``VmRSS`` now, ``VmHWM`` at the most."""
        lines = Path(f"/proc/{self._process.pid}/status").read_text().splitlines()
        return next(int(line.split()[1]) for line in lines if line.startswith(which)) / 1024

    def computing(self) -> float:
        """Seconds that cores have spent on it up to now, all its threads together: waiting for a core is not in it."""
        said = Path(f"/proc/{self._process.pid}/stat").read_text().rpartition(")")[2].split()
        return (int(said[11]) + int(said[12])) / os.sysconf("SC_CLK_TCK")

    def stop(self) -> None:
        self._process.kill()
        self._process.join()


@dataclass(frozen=True, slots=True)
class Measured:
    """Requests a second, and milliseconds that half, 95 and 99 of 100 took at the most."""

    rate: float
    half: float
    most: float
    worst: float


def measured(service: Service, file: Path, seconds: float) -> Measured:
    asked = ["wrk", "-t1", f"-c{CONNECTIONS}", f"-d{seconds:g}s", "--timeout=10s", "--latency", "-s", str(SCRIPT)]
    done = subprocess.run(
        [*asked, f"http://127.0.0.1:{service.port}", "--", str(file)], check=True, capture_output=True, text=True
    )
    line = next(each for each in done.stdout.splitlines() if each.startswith("MEASURED"))
    requests, micros, half, most, worst, failed = (int(each) for each in line.split()[1:])
    if failed:
        raise SystemExit(f"{failed} of {requests} requests failed")
    return Measured(requests / micros * 1e6, half / 1e3, most / 1e3, worst / 1e3)


def lines(service: Service, asked: Sequence[tuple[str, str, str]]) -> str:
    """The file for wrk. Every hundredth address is asked for its tag, which one in ten of the hottest then brings."""
    tags: dict[str, str] = {}
    for _, address, _ in [each for each in asked if each[0] == "GET"][: DRAWN // 100]:
        if address not in tags:
            status, headers, _ = service.ask("GET", address)
            if status != 200:
                raise SystemExit(f"{status} for {address}")
            tags[address] = headers.get("etag", "")
    return "".join(
        f"{method}\t{address}\t{tags.get(address, '') if place % 5 == 0 else ''}\t{body}\n"
        for place, (method, address, body) in enumerate(asked)
    )


def rates(
    content: Content, seconds: float, rounds: int, warm: float
) -> tuple[Service, list[Measured], list[Measured], int]:
    """The service (still running), each round of the mix, each of the fixed answer, and the mean bytes of an answer."""
    service = Service(content)
    jobs = moments(service, content)
    size = round(statistics.mean(len(service.ask(*each)[2]) for each in mix(content, jobs, 0)[:300]))
    mixed, fixed = [], []
    with tempfile.TemporaryDirectory() as name:
        file, plain = Path(name) / "mix", Path(name) / "fixed"
        plain.write_text(f"GET\t/fixed?size={size}\t\t\n", encoding="utf-8")
        for turn in range(rounds + 1):
            count = DRAWN if turn else round(max(DRAWN, 600 * warm))  # more than are answered
            file.write_text(lines(service, mix(content, jobs, turn, count)), encoding="utf-8")
            one = measured(service, file, seconds if turn else warm)
            if turn:
                mixed.append(one)
                fixed.append(measured(service, plain, seconds))
    return service, mixed, fixed, size


def row(name: str, found: Sequence[Measured]) -> str:
    middle = [statistics.median(getattr(each, what) for each in found) for what in ("rate", "half", "most", "worst")]
    return f"{name:24} {middle[0]:10.0f} {middle[1]:9.2f} {middle[2]:9.2f} {middle[3]:9.2f}"


def compared(content: Content, seconds: float, rounds: int, warm: float) -> None:
    service, mixed, fixed, size = rates(content, seconds, rounds, warm)
    ratio = statistics.median(one.rate / base.rate for one, base in zip(mixed, fixed, strict=True))
    print(
        f"{content.name}: ready in {service.seconds:.1f} s (imports included); an answer has {size} bytes in the mean"
    )
    print(f"{'':24} {'requests/s':>10} {'50 % ms':>9} {'95 % ms':>9} {'99 % ms':>9}")
    print(row("mix", mixed))
    print(row("fixed answer", fixed))
    after, most = service.memory("VmRSS"), service.memory("VmHWM")
    print(f"ratio {ratio:.2f}; {service.content:.0f} MB when ready, {after:.0f} after, {most:.0f} at the most\n")
    service.stop()


def core_ms(service: Service, asked: Sequence[tuple[str, str, str]]) -> float:
    """Milliseconds of one core for an answer, in the mean over requests sent one by one."""
    before = service.computing()
    for each in asked:
        status, *_ = service.ask(*each)
        if status != 200:
            raise SystemExit(f"{status} for {each[1][:200]}")
    return (service.computing() - before) * 1e3 / len(asked)


def grown(folder: Path, count: int, seconds: float, warm: float, triples_each: int, empty: float) -> dict[str, float]:
    """What was measured of so many platforms, by the titles of ``TITLES`` and what ``scale.py`` reads."""
    content = generated(folder, count)
    service, mixed, fixed, size = rates(content, seconds, 1, warm)
    drawn = random.Random(9)
    # Each with an empty parameter more than any before: an address of its own, computed anew.
    asked = mix(content, [[({"symptoms": list(each.symptoms)}, 1.0)] for each in content.machines], 9)[:600]
    plain = {address for method, address, _ in asked if method == "GET" and "?q=" not in address}
    named = [("GET", f"{each.rstrip('&')}{'&' if '?' in each else '?'}{'&' * 3_000}", "") for each in sorted(plain)]
    named = sorted(set(named))
    words = [misspelt(drawn.choice(content.searches), drawn) for _ in range(60)]
    searches = [("GET", f"/v1/search?q={quote(word)}&limit={place % 50 + 1}&&", "") for place, word in enumerate(words)]
    plans = [
        ("GET", f"/v1/models/{each.model}/removal-plan?reach=cover{each.more}&&&&&", "")
        for each in drawn.sample(content.machines, min(40, len(content.machines)))
    ]
    found = {
        "platforms": count,
        "triples": count * triples_each,
        "ready_s": service.seconds,
        "search_ms": core_ms(service, searches),
        "plan_ms": core_ms(service, plans),
        "miss_ms": core_ms(service, named),
        "hit_ms": core_ms(service, named),
        "megabytes": service.memory("VmRSS"),
        "rate": mixed[0].rate,
        "ratio": mixed[0].rate / fixed[0].rate,
        "answer_bytes": size,
    }
    found["bytes_a_triple"] = (service.content - empty) * 1048576 / found["triples"]
    service.stop()
    return found


TITLES = {
    "platforms": ("platforms", 0),
    "triples": ("triples", 0),
    "ready_s": ("ready s", 1),
    "bytes_a_triple": ("bytes/tr.+", 0),
    "megabytes": ("MB", 0),
    "search_ms": ("search*", 1),
    "plan_ms": ("plan*", 1),
    "miss_ms": ("computed*", 1),
    "hit_ms": ("kept*", 2),
    "rate": ("requests/s", 0),
    "ratio": ("ratio", 2),
}


def growth(counts: Sequence[int], seconds: float, warm: float, kept: Path | None) -> None:
    """Print a row for each; ``kept`` gets the last, for ``scale.py``."""
    triples = sum(1 for _ in ox.parse(platform(0).encode(), format=ox.RdfFormat.TURTLE))
    with tempfile.TemporaryDirectory() as name:
        alone = Service(generated(Path(name), 1))
        empty = alone.memory("VmRSS")
        alone.stop()
    print("".join(f"{title:>11}" for title, _ in TITLES.values()))
    for count in counts:
        with tempfile.TemporaryDirectory() as name:
            found = grown(Path(name), count, seconds, warm, triples, empty)
        print("".join(f"{found[name]:11.{digits}f}" for name, (_, digits) in TITLES.items()), flush=True)
        if kept is not None:
            said = {name: round(value, 3) for name, value in found.items()}
            machine = {"on": datetime.now(UTC).date().isoformat(), "cores": os.cpu_count(), "load": os.getloadavg()[0]}
            kept.write_text(json.dumps({**machine, **said}, indent=1) + "\n", encoding="utf-8")
    print("* milliseconds of one core for an answer: searches without a model, plans, anything else computed and kept")
    print(
        "+ of content, before anything is asked; MB is the whole after the load, with compiled models and kept answers"
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--platforms", type=int, default=2_000)
    parser.add_argument("--seconds", type=float, default=5.0, help="seconds for each kind in each round")
    parser.add_argument("--warm", type=float, default=60.0, help="seconds of a mix before, for what is kept")
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--growth", action="store_true", help="100 to 10,000 platforms instead")
    parser.add_argument("--counts", type=int, nargs="+", default=[100, 300, 1_000, 3_000, 10_000])
    parser.add_argument("--keep", type=Path, help="file for the last row of the growth, for scale.py")
    parser.add_argument("--quick", action="store_true", help="one short round, 100 platforms; growth to 300")
    asked = parser.parse_args()
    if shutil.which("wrk") is None:
        raise SystemExit("Install wrk (Debian package of that name).")
    seconds, rounds, count = (2.0, 1, 100) if asked.quick else (asked.seconds, asked.rounds, asked.platforms)
    warm = 3.0 if asked.quick else asked.warm
    print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}\n")
    if asked.growth:
        growth((100, 300) if asked.quick else asked.counts, seconds, warm, asked.keep)
        return
    compared(DEMO, seconds, rounds, warm)
    with tempfile.TemporaryDirectory() as name:
        compared(generated(Path(name), count), seconds, rounds, warm)


if __name__ == "__main__":
    main()
