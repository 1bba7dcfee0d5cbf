"""Questions of authors: platforms as RDF, their versions, checking a draft, publishing. Those that write need the
publish key.

Content is Turtle text, or the bytes of an XLSX workbook. ``over`` says what a save replaces: the ETag of the version it
was made over, ``*`` for whichever is served, None for a platform that is not served yet.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..asking import Form, Question, UnknownFields, model_form, path, query
from ..contract.authoring import GraphCheck, GraphList, Published, VersionDifference, VersionList
from ..replies import Got

TURTLE = "text/turtle"
WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@dataclass(frozen=True, slots=True)
class GraphText:
    """A platform as text; ``etag`` is what a save over it names."""

    text: str
    media_type: str
    etag: str | None


def _rdf(media_type: str) -> Form[GraphText]:
    def read(got: Got, _: UnknownFields) -> GraphText:
        return GraphText(got.body.decode("utf-8"), got.media_type, got.etag)

    return Form(media_type, read, "GraphText")


def _content(content: str | bytes) -> tuple[bytes, dict[str, str]]:
    if isinstance(content, str):
        return content.encode("utf-8"), {"content-type": TURTLE}
    return content, {"content-type": WORKBOOK}


def _over(over: str | None) -> dict[str, str]:
    return {"if-none-match": "*"} if over is None else {"if-match": over}


def graph_list() -> Question[GraphList]:
    """Every platform with its models and versions."""
    return Question("/v1/graphs", model_form(GraphList))


def graph(platform: str, *, media_type: str = TURTLE) -> Question[GraphText]:
    """A platform as it is served, as RDF of ``media_type``."""
    return Question(path("/v1/graphs/{}", platform), _rdf(media_type))


def graph_versions(platform: str) -> Question[VersionList]:
    """Who published each version, when and why, the first first."""
    return Question(path("/v1/graphs/{}/versions", platform), model_form(VersionList))


def graph_version(platform: str, number: int, *, media_type: str = TURTLE) -> Question[GraphText]:
    """A version as it was published."""
    return Question(path("/v1/graphs/{}/versions/{}", platform, str(number)), _rdf(media_type))


def graph_difference(platform: str, before: int, after: int | None = None) -> Question[VersionDifference]:
    """What differs between two versions, in words; without ``after``, between one and what is served."""
    asked = query(before=before, after=after)
    return Question(path("/v1/graphs/{}/difference", platform), model_form(VersionDifference), query=asked)


def graph_provenance(platform: str, *, media_type: str = TURTLE) -> Question[GraphText]:
    """Who published what, when and why, as PROV-O."""
    return Question(path("/v1/graphs/{}/provenance", platform), _rdf(media_type))


def check_graph(content: str | bytes) -> Question[GraphCheck]:
    """Check a draft, and see what it would change for a technician. Nothing is published."""
    body, headers = _content(content)
    return Question(
        "/v1/graphs/check",
        model_form(GraphCheck),
        "POST",
        headers=headers,
        body=body,
        key="publish_key",
        slow=True,
    )


def publish_graph(platform: str, content: str | bytes, *, over: str | None, why: str) -> Question[Published]:
    """Check and publish a platform: all of it or nothing. ``why`` is kept with the version."""
    body, headers = _content(content)
    return _write("PUT", path("/v1/graphs/{}", platform), over, why, body, headers)


def withdraw_graph(platform: str, *, over: str | None, why: str) -> Question[Published]:
    """Serve a platform no more; its versions stay and can be restored."""
    return _write("DELETE", path("/v1/graphs/{}", platform), over, why)


def restore_graph(platform: str, number: int, *, over: str | None, why: str) -> Question[Published]:
    """Publish an earlier version again; it becomes a version of its own."""
    return _write("POST", path("/v1/graphs/{}/versions/{}/restore", platform, str(number)), over, why)


def _write(
    method: str,
    address: str,
    over: str | None,
    why: str,
    body: bytes | None = None,
    headers: dict[str, str] | None = None,
) -> Question[Published]:
    """A save. It is not sent again once it may have arrived: the second would be told that the first is served."""
    return Question(
        address,
        model_form(Published),
        method,
        query=query(why=why),
        headers={**(headers or {}), **_over(over)},
        body=body,
        key="publish_key",
        repeatable=False,
        slow=True,
    )
