"""The SPARQL 1.1 Protocol (https://www.w3.org/TR/sparql11-protocol/): what a request asks, in its three forms."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import parse_qsl

from firstoff.errors import QueryMalformed, UnsupportedMedia
from firstoff.sparql.asking import Dataset
from firstoff.sparql.updates import reading_only

FORM = "application/x-www-form-urlencoded"
DIRECT = "application/sparql-query"
_UPDATE = "application/sparql-update"
_MOST_PARAMETERS = 1_000
_IN_THE_BODY = ("query", "default-graph-uri", "named-graph-uri")


@dataclass(frozen=True, slots=True)
class Asked:
    """The text of the query, None where there is none, and the dataset of the request (2.1.4)."""

    text: str | None
    dataset: Dataset


def asked_in_address(query_string: bytes) -> Asked:
    """What a GET asks (2.1.1). Parameters that the protocol does not know are passed over: clients add their own.

    :raises QueryMalformed: the query is given twice or empty, or is no UTF-8.
    :raises QueryNotAllowed: it is an update.
    """
    return _asked(_pairs(query_string))


def asked_in_body(content_type: str, query_string: bytes, body: bytes) -> Asked:
    """What a POST asks, as a form (2.1.2) or as the query itself (2.1.3).

    :raises UnsupportedMedia: the body is neither.
    :raises QueryMalformed: as of a GET; there is no query, or part of it stands where it does not count.
    :raises QueryNotAllowed: it is an update.
    """
    media, _, parameters = content_type.partition(";")
    media = media.strip().lower()
    in_address = _pairs(query_string)
    if media == _UPDATE:
        raise reading_only()
    if media not in (FORM, DIRECT):
        raise UnsupportedMedia(
            f"A body of type {media[:100] or 'unknown'} is no query.", mend=f"Send {FORM} with query=, or {DIRECT}."
        )
    _only_utf_8(parameters)
    if media == DIRECT:
        if any(name == "query" for name, _ in in_address):
            raise QueryMalformed("There is a query in the address and one in the body.", mend="Send one.")
        return _asked([*in_address, ("query", _decoded(body))])
    if any(name in _IN_THE_BODY for name, _ in in_address):
        raise QueryMalformed("A form is sent, and part of it stands in the address.", mend="Put all of it in the body.")
    found = _asked(_pairs(body))
    if found.text is None:
        raise QueryMalformed("There is no query.", mend="Send it as query= in the form.")
    return found


def _asked(pairs: Iterable[tuple[str, str]]) -> Asked:
    given: dict[str, list[str]] = {}
    for name, value in pairs:
        given.setdefault(name, []).append(value)
    if "update" in given:
        raise reading_only()
    queries = given.get("query", [])
    if len(queries) > 1:
        raise QueryMalformed("There is more than one query.", mend="Send one.")
    dataset = Dataset(*(tuple(dict.fromkeys(given.get(f"{kind}-graph-uri", []))) for kind in ("default", "named")))
    return Asked(queries[0] if queries else None, dataset)


def _pairs(encoded: bytes) -> list[tuple[str, str]]:
    try:
        text = encoded.decode("utf-8")
        return parse_qsl(text, keep_blank_values=True, errors="strict", max_num_fields=_MOST_PARAMETERS)
    except UnicodeDecodeError as error:
        raise QueryMalformed("The request is not in UTF-8.", mend="Send it in UTF-8.") from error
    except ValueError as error:
        raise QueryMalformed(f"There are more than {_MOST_PARAMETERS} parameters.", mend="Send fewer.") from error


def _decoded(body: bytes) -> str:
    try:
        return body.decode("utf-8")
    except UnicodeDecodeError as error:
        raise QueryMalformed("The query is not in UTF-8.", mend="Send it in UTF-8.") from error


def _only_utf_8(parameters: str) -> None:
    for each in parameters.split(";"):
        name, _, value = each.partition("=")
        if name.strip().lower() == "charset" and value.strip().strip('"').lower() not in ("utf-8", "utf8"):
            raise UnsupportedMedia("A query is read in UTF-8 alone.", mend="Send it in UTF-8.")
