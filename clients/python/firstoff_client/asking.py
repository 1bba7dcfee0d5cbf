"""A question: a request that does not know yet how it is sent, and how its answer is read."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Generic, Literal, TypeVar
from urllib.parse import quote, urlencode

from pydantic import BaseModel

from .errors import BadName
from .replies import Got

T = TypeVar("T")
M = TypeVar("M", bound=BaseModel)

#: What a client does with fields of an answer that it does not know: refuse the answer, or ignore them.
UnknownFields = Literal["refuse", "ignore"]
#: One name, or several.
Names = str | Iterable[str]
Query = tuple[tuple[str, str], ...]

JSON = "application/json"
JSON_LD = "application/ld+json"
LONGEST_ADDRESS = 8_000  # bytes; a service takes 16,384, what stands in front of it often less


@dataclass(frozen=True, slots=True)
class Form(Generic[T]):
    """A representation to ask for, and how to read it. ``read`` raises ValueError where it cannot be read; ``gives`` is
    the name of the type."""

    accept: str
    read: Callable[[Got, UnknownFields], T]
    gives: str


@dataclass(frozen=True, slots=True)
class Question(Generic[T]):
    """A request with an answer of type ``T``.

    ``key`` names the key it needs. ``repeatable`` is true where it does the same however often it arrives, ``slow``
    where the service may take minutes over it. ``answered`` are the statuses that come with an answer.
    """

    path: str
    form: Form[T]
    method: str = "GET"
    query: Query = ()
    headers: Mapping[str, str] = field(default_factory=dict)
    body: bytes | None = None
    key: Literal["", "outcome_key", "publish_key"] = ""
    repeatable: bool = True
    slow: bool = False
    answered: tuple[int, ...] = (200, 201)

    @property
    def address(self) -> str:
        """Path and query as they are sent, without the service's own address."""
        return f"{self.path}?{urlencode(self.query)}" if self.query else self.path


def model_form(model: type[M]) -> Form[M]:
    """JSON, as a contract model."""

    def read(got: Got, unknown: UnknownFields) -> M:
        return model.model_validate_json(got.body, extra="ignore" if unknown == "ignore" else None)

    return Form(JSON, read, model.__name__)


def _read_object(got: Got, _: UnknownFields) -> dict[str, Any]:
    found = json.loads(got.body)
    if not isinstance(found, dict):
        raise ValueError("it is no JSON object")
    return found


def text_form(media_type: str) -> Form[str]:
    """Text of ``media_type``, in UTF-8."""
    return Form(media_type, lambda got, _: got.body.decode("utf-8"), "str")


LINKED: Form[dict[str, Any]] = Form(JSON_LD, _read_object, "dict")


def path(template: str, *names: str) -> str:
    """``template`` with each ``{}`` replaced by a name, in a spelling that cannot lead anywhere else.

    :raises BadName: a name is empty, or stands for another folder.
    """
    for name in names:
        if name in ("", ".", ".."):
            raise BadName(f"{name!r} is no name.", "Give the name of something in the content.")
    return template.format(*(quote(_text(name), safe="") for name in names))


def model_path(template: str, model: str, *names: str) -> str:
    """:func:`path` of a model, which may be the number on its plate: there a slash says no more than a space."""
    return path(template, model.replace("/", " "), *names)


def names(value: Names) -> list[str]:
    """One name or several as a list."""
    return [value] if isinstance(value, str) else list(value)


def query(**values: str | float | Names | None) -> Query:
    """Parameters in the order given: None, False and no names are left out, several names repeat the parameter.

    :raises BadName: a value is no Unicode text.
    """
    found: list[tuple[str, str]] = []
    for name, value in values.items():
        if value is None or value is False:
            continue
        if value is True:
            found.append((name, "true"))
        elif isinstance(value, (int, float)):
            found.append((name, repr(value)))
        else:
            found += [(name, _text(each)) for each in names(value)]
    return tuple(found)


def _text(value: str) -> str:
    """``value``, which can be sent.

    :raises BadName: it is no Unicode text.
    """
    try:
        value.encode("utf-8")
    except UnicodeEncodeError as error:
        raise BadName(f"{value!r} has letters that are none.", "Give Unicode text.") from error
    return value


def or_blank(value: Names | None) -> list[str] | None:
    """``value`` for a parameter where none at all says something else than nothing said: then it is sent blank."""
    return None if value is None else names(value) or [""]


def json_body(**values: Any) -> bytes:
    """A JSON object of the values that are not None."""
    return json.dumps({name: value for name, value in values.items() if value is not None}).encode()
