"""Questions to find: search, models, their components, codes and service modes; and how the service is."""

from __future__ import annotations

from typing import Literal

from ..asking import Names, Question, model_form, model_path, query
from ..contract.catalogue import ComponentDetail, ComponentList, ComponentSummary, ModelDetail, ModelList, ModelSummary
from ..contract.codes import CodeDetail, CodeList, CodeSummary, ServiceModeList
from ..contract.operation import Health, Readiness
from ..contract.search import SearchAnswer, SuggestAnswer
from ..listing import Listing

_PAGE = 200


def search(
    q: str,
    *,
    model: str | None = None,
    kind: Literal["symptom", "component", "code", "model"] | None = None,
    lang: str | None = None,
    limit: int | None = None,
    serial: str | None = None,
) -> Question[SearchAnswer]:
    """Symptoms, components, codes and models, best first; typing errors are forgiven.

    ``model`` is the machine in hand, ``lang`` the language to answer in, such as ``en``.
    """
    asked = query(q=q, model=model, kind=kind, lang=lang, limit=limit, serial=serial)
    return Question("/v1/search", model_form(SearchAnswer), query=asked)


def suggest(
    q: str,
    *,
    model: str | None = None,
    lang: str | None = None,
    limit: int | None = None,
    serial: str | None = None,
) -> Question[SuggestAnswer]:
    """How a half-typed query may go on."""
    asked = query(q=q, model=model, lang=lang, limit=limit, serial=serial)
    return Question("/v1/suggest", model_form(SuggestAnswer), query=asked)


def model_list(
    number: str | None = None, *, offset: int | None = None, limit: int | None = None
) -> Question[ModelList]:
    """A page of models; with ``number``, those that a rating plate may mean, and the nearest where none fits."""
    return Question("/v1/models", model_form(ModelList), query=query(number=number, offset=offset, limit=limit))


def models() -> Listing[ModelList, ModelSummary]:
    """Every model, from page to page."""
    return Listing(model_list(limit=_PAGE), lambda answer: answer.models, lambda answer: answer.page)


def model(model: str, *, serial: str | None = None) -> Question[ModelDetail]:
    """What is known of a model: its platform, what differs, bulletins, devices, states and tools."""
    return Question(model_path("/v1/models/{}", model), model_form(ModelDetail), query=query(serial=serial))


def component_list(
    model: str, *, serial: str | None = None, offset: int | None = None, limit: int | None = None
) -> Question[ComponentList]:
    """A page of the components of a model, in order of their labels."""
    asked = query(serial=serial, offset=offset, limit=limit)
    return Question(model_path("/v1/models/{}/components", model), model_form(ComponentList), query=asked)


def components(model: str, *, serial: str | None = None) -> Listing[ComponentList, ComponentSummary]:
    """Every component of a model, from page to page."""
    first = component_list(model, serial=serial, limit=_PAGE)
    return Listing(first, lambda answer: answer.components, lambda answer: answer.page)


def component(model: str, component: str, *, serial: str | None = None) -> Question[ComponentDetail]:
    """A component with its ways in, removals, points, faults and cautions."""
    address = model_path("/v1/models/{}/components/{}", model, component)
    return Question(address, model_form(ComponentDetail), query=query(serial=serial))


def code_list(
    model: str, *, serial: str | None = None, offset: int | None = None, limit: int | None = None
) -> Question[CodeList]:
    """A page of the codes that a machine shows or stores."""
    asked = query(serial=serial, offset=offset, limit=limit)
    return Question(model_path("/v1/models/{}/codes", model), model_form(CodeList), query=asked)


def codes(model: str, *, serial: str | None = None) -> Listing[CodeList, CodeSummary]:
    """Every code of a model, from page to page."""
    first = code_list(model, serial=serial, limit=_PAGE)
    return Listing(first, lambda answer: answer.codes, lambda answer: answer.page)


def code(model: str, code: str, *, serial: str | None = None) -> Question[CodeDetail]:
    """What a code says and what it does not prove; read as the machine shows it, or by name."""
    address = model_path("/v1/models/{}/codes/{}", model, code)
    return Question(address, model_form(CodeDetail), query=query(serial=serial))


def service_modes(model: str, *, kind: Names = (), serial: str | None = None) -> Question[ServiceModeList]:
    """How to read stored codes and run test programmes, and what each step makes live.

    ``kind``: stored-codes, readings, component-test, clearing or configuration.
    """
    asked = query(kind=kind, serial=serial)
    return Question(model_path("/v1/models/{}/service-modes", model), model_form(ServiceModeList), query=asked)


def health() -> Question[Health]:
    """Whether the service runs, and its version."""
    return Question("/healthz", model_form(Health))


def readiness() -> Question[Readiness]:
    """Whether its content is loaded, and what of it was refused; a service that serves nothing says so here too."""
    return Question("/readyz", model_form(Readiness), answered=(200, 503))
