"""The addresses of version 1: each asks the answers for a contract model."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import Query, Request, Response
from fastapi.responses import HTMLResponse

from firstoff.api.parameters import Asked, Limit, Names, Offset, Serial, split
from firstoff.api.routing import BODY, desk_of, keep_if, version_one
from firstoff.sheet import Job, content_security_policy, page, page_style, picture, picture_style
from firstoff_contract.catalogue import ComponentDetail, ComponentList, ModelDetail, ModelList
from firstoff_contract.reach import Exposed, Hidden, WhileOpen
from firstoff_contract.record import RecordRequest, SafetyRecord
from firstoff_contract.removal import ParetoAnswer, PlanRequest, RemovalPlan
from firstoff_contract.search import SearchAnswer, SuggestAnswer

router = version_one()


@router.get("/search", tags=["search"], summary="Search symptoms, components, codes and models")
def search(
    request: Request,
    q: Annotated[str, Query(max_length=10_000, description="What to look for; typing errors are forgiven.")] = "",
    model: Annotated[str | None, Query(max_length=100, description="The model in hand.")] = None,
    kind: Annotated[
        Literal["symptom", "component", "code", "model"] | None, Query(description="One kind only.")
    ] = None,
    lang: Annotated[
        str | None,
        Query(max_length=10, description="Language to answer in, such as en."),
    ] = None,
    serial: Serial = None,
    limit: Annotated[int, Query(ge=1, le=50, description="How many hits at the most.")] = 10,
) -> SearchAnswer:
    """Best first, with the name that matched. A symptom lists its faults by relative frequency and the checks that tell
    them apart."""
    return desk_of(request).search(q, model=model, serial=serial, kind=kind, lang=lang, limit=limit)


@router.get("/suggest", tags=["search"], summary="Go on from a half-typed query")
def suggest(
    request: Request,
    q: Annotated[str, Query(max_length=10_000, description="What is typed so far; typing errors are forgiven.")] = "",
    model: Annotated[str | None, Query(max_length=100, description="The model in hand.")] = None,
    lang: Annotated[str | None, Query(max_length=10, description="Language where the query shows none.")] = None,
    serial: Serial = None,
    limit: Annotated[int, Query(ge=1, le=50, description="How many completions at the most.")] = 10,
) -> SuggestAnswer:
    """For a list below the box while somebody types: names, symptoms, codes and numbers, with the characters that are
    typed already."""
    return desk_of(request).suggest(q, model=model, serial=serial, lang=lang, limit=limit)


@router.get("/models", tags=["models"], summary="List models, or resolve a number")
def models(
    request: Request,
    number: Annotated[str | None, Query(max_length=100, description="Number as it stands on a rating plate.")] = None,
    offset: Offset = 0,
    limit: Limit = 50,
) -> ModelList:
    """Spaces, slashes, hyphens and case do not matter, and the letter O is read as zero.

    A near miss is answered with the nearest.
    """
    return desk_of(request).models(number, offset, limit)


@router.get("/models/{model}", tags=["models"], summary="What is known of a model")
def model(request: Request, model: str, serial: Serial = None) -> ModelDetail:
    """Its platform, how it differs from it, bulletins and cautions. ``model`` is a slug or a number."""
    return desk_of(request).model(model, serial)


@router.get("/models/{model}/components", tags=["models"], summary="The components of a model")
def components(
    request: Request, model: str, serial: Serial = None, offset: Offset = 0, limit: Limit = 100
) -> ComponentList:
    """In order of their labels."""
    return desk_of(request).components(model, serial, offset, limit)


@router.get("/models/{model}/components/{component}", tags=["models"], summary="A component with its ways in")
def component(request: Request, model: str, component: str, serial: Serial = None) -> ComponentDetail:
    """Removals, access paths, points, faults and cautions."""
    return desk_of(request).component(model, component, serial)


@router.get("/models/{model}/removal-plan", tags=["removal"], summary="What comes off first")
def removal_plan(request: Request, response: Response, model: str, asked: Asked) -> RemovalPlan:
    """The cheapest plan that reaches every target, with its refit, its kit and the next-best plans."""
    plan = desk_of(request).removal_plan(model, asked)
    keep_if(plan.settled, response)
    return plan


@router.post(
    "/models/{model}/removal-plan", tags=["removal"], summary="What comes off first, asked in a body", responses=BODY
)
def removal_plan_by_body(request: Request, response: Response, model: str, asked: PlanRequest) -> RemovalPlan:
    """As by GET, for requests too long for an address."""
    plan = desk_of(request).removal_plan(model, asked)
    keep_if(plan.settled, response)
    return plan


@router.get("/models/{model}/removal-plan/pareto", tags=["removal"], summary="The plans that no other beats")
def pareto(request: Request, response: Response, model: str, asked: Asked) -> ParetoAnswer:
    """Every plan that is better than each other in something: minutes, parts taken off, single-use parts broken or
    exposures to a hazard."""
    found = desk_of(request).pareto(model, asked)
    keep_if(found.complete, response)
    return found


@router.get("/models/{model}/safety-record", tags=["record"], summary="What proves the machine safe after work")
def safety_record(
    request: Request,
    model: str,
    done: Annotated[
        Names,
        Query(
            description="Component taken off, preparation made or state brought about. Repeats. Leave out where nothing"
            " is said; blank where none was."
        ),
    ] = [],
    serial: Serial = None,
) -> SafetyRecord:
    """The blank record: the readings that end a job on this machine, each with its limit, its standard and edition."""
    return desk_of(request).safety_record(model, RecordRequest(done=split(done) if done else None, serial=serial))


@router.post(
    "/models/{model}/safety-record", tags=["record"], summary="Judge the readings that end a job", responses=BODY
)
def safety_record_judged(request: Request, model: str, asked: RecordRequest) -> SafetyRecord:
    """Every line passes, fails, or is open; unknown is never a pass."""
    return desk_of(request).safety_record(model, asked)


@router.get("/models/{model}/while-open", tags=["removal"], summary="What is worth doing while the machine is open")
def while_open(request: Request, response: Response, model: str, asked: Asked) -> WhileOpen:
    """Parts with known wear that the plan lays open: what replacing each adds now, takes alone, and so saves."""
    answer = desk_of(request).while_open(model, asked)
    keep_if(answer.complete, response)
    return answer


@router.get("/models/{model}/exposed", tags=["removal"], summary="What is within reach now, and by one more removal")
def exposed(
    request: Request,
    model: str,
    off: Annotated[Names, Query(description="Component that is off, or the removal that took it off. Repeats.")] = [],
    states: Annotated[Names, Query(description="State in force now, where it is not the initial one. Repeats.")] = [],
    tools: Annotated[
        Names, Query(description="Tool at hand. Repeats. Leave out where all are; blank where none is.")
    ] = [],
    serial: Serial = None,
) -> Exposed:
    """What can be inspected, tested or replaced without another part off, and what each next removal would open."""
    return desk_of(request).exposed(
        model, serial, off=split(off), states=split(states), tools=split(tools) if tools else None
    )


@router.get("/models/{model}/components/{component}/hidden", tags=["removal"], summary="What a part hides")
def hidden(request: Request, response: Response, model: str, component: str, serial: Serial = None) -> Hidden:
    """Every component behind it: those no way reaches while it is on, and those the cheapest plan reaches by taking it
    off."""
    answer = desk_of(request).hidden(model, component, serial)
    keep_if(answer.complete, response)
    return answer


@router.get(
    "/models/{model}/job-sheet", tags=["removal"], summary="The plan as a sheet to print", response_class=HTMLResponse
)
def job_sheet(request: Request, model: str, asked: Asked) -> Response:
    """One page for paper and phone: cautions, kit, steps out and back to tick off, and the picture of the plan."""
    job = desk_of(request).job_sheet(model, asked)
    return _for_the_eye(HTMLResponse(page(job)), job, page_style())


@router.get(
    "/models/{model}/removal-plan/picture",
    tags=["removal"],
    summary="The plan as a picture",
    response_class=Response,
    responses={200: {"content": {"image/svg+xml": {"schema": {"type": "string"}}}}},
)
def plan_picture(request: Request, model: str, asked: Asked) -> Response:
    """All that the targets may need off, drawn in layers, with the plan's way through it: SVG with its text."""
    job = desk_of(request).job_sheet(model, asked)
    return _for_the_eye(Response(picture(job.diagram), media_type="image/svg+xml"), job, picture_style())


def _for_the_eye(response: Response, job: Job, style: str) -> Response:
    """``response`` with what a browser may do with it, and not to be kept where the plan ran out of time."""
    response.headers["content-security-policy"] = content_security_policy(style)
    response.headers["x-content-type-options"] = "nosniff"
    keep_if(job.settled, response)
    return response
