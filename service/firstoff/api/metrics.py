"""What a scraper of metrics sees: requests as they were answered, and what the service holds, read when it is asked.

The names and the text are those of the Prometheus exposition format, by its own library.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from prometheus_client import CollectorRegistry, Counter, Gauge, Histogram, ProcessCollector, generate_latest
from prometheus_client.core import CounterMetricFamily, GaugeMetricFamily
from prometheus_client.registry import Collector

#: Seconds: a kept answer takes less than the first, a plan that ran out of time more than the last but one.
_BUCKETS = (0.001, 0.002, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 2.5, 5.0, 10.0)


@dataclass(frozen=True, slots=True)
class Held:
    """What a service holds at one moment; ``hits`` and ``misses`` are of the answers it keeps;
    ``engine_failures`` of the looks at the engine since it began."""

    version: str
    revision: str
    platforms: int
    models: int
    refused: int
    hits: int
    misses: int
    engine_failures: int


class _Holding(Collector):
    def __init__(self, held: Callable[[], Held]) -> None:
        self._held = held

    def describe(self) -> Iterable[GaugeMetricFamily]:
        return ()  # so that nothing is read at registration

    def collect(self) -> Iterator[GaugeMetricFamily | CounterMetricFamily]:
        now = self._held()
        content = GaugeMetricFamily("firstoff_content", "Content that is served.", labels=("version", "revision"))
        content.add_metric((now.version, now.revision), 1)
        yield content
        yield GaugeMetricFamily("firstoff_platforms", "Platforms that are served.", now.platforms)
        yield GaugeMetricFamily("firstoff_models", "Models that are served.", now.models)
        yield GaugeMetricFamily("firstoff_refused_files", "Files of content that are not served.", now.refused)
        kept = CounterMetricFamily("firstoff_kept_answers", "Answers that were kept, and were not.", labels=("found",))
        kept.add_metric(("yes",), now.hits)
        kept.add_metric(("no",), now.misses)
        yield kept
        yield CounterMetricFamily("firstoff_engine_failures", "Looks at the engine that failed.", now.engine_failures)


class Metrics:
    """The metrics of one application; ``held`` is asked at each scrape."""

    def __init__(self, held: Callable[[], Held]) -> None:
        self.registry = CollectorRegistry(auto_describe=False)
        self.in_flight = Gauge("firstoff_requests_in_flight", "Requests being answered.", registry=self.registry)
        self._requests = Counter(
            "firstoff_requests", "Requests answered.", ("method", "route", "status"), registry=self.registry
        )
        self._seconds = Histogram(
            "firstoff_request_seconds",
            "Seconds from a request to the end of its answer.",
            ("route",),
            buckets=_BUCKETS,
            registry=self.registry,
        )
        self._problems = Counter(
            "firstoff_problems", "Answers that were problem documents, by kind.", ("kind",), registry=self.registry
        )
        ProcessCollector(registry=self.registry)
        self.registry.register(_Holding(held))

    def answered(self, method: str, route: str, status: int, seconds: float, problem: str | None) -> None:
        """Count one request. ``method`` and ``route`` are of short lists."""
        self._requests.labels(method, route, str(status)).inc()
        self._seconds.labels(route).observe(seconds)
        if problem is not None:
            self._problems.labels(problem).inc()

    def text(self) -> bytes:
        """All of it in the text format 0.0.4."""
        return generate_latest(self.registry)
