"""The job sheet as one HTML page, for paper, a phone and the dark. It needs no script and no other address."""

from __future__ import annotations

from markupsafe import Markup

from firstoff.sheet.head import given_of, proof_of, time_of
from firstoff.sheet.job import Job
from firstoff.sheet.picture import picture_style
from firstoff.sheet.policy import content_security_policy
from firstoff.sheet.sections import errands, sections_of
from firstoff.sheet.templating import rendered, text_of
from firstoff.sheet.words import job_title

_FEW_STEPS, _MANY_STEPS = 8, 16


def page(job: Job) -> str:
    """The whole page. Every text of the content is escaped."""
    style = page_style()
    return str(
        rendered(
            "page.html",
            job=job,
            title=job_title(job.plan),
            errands=errands(job),
            time=time_of(job.plan),
            proof=proof_of(job.plan),
            given=given_of(job.plan),
            sections=[(section, _filled(section.name, section.values)) for section in sections_of(job)],
            density=_density(job),
            style=style,
            policy=content_security_policy(style, framed=False),
        )
    )


def page_style() -> Markup:
    """The style of the page, that of its picture included."""
    return text_of("page.css") + picture_style()


def _density(job: Job) -> str:
    """How closely the paper is set, by how much there is to say."""
    steps = [*job.plan.steps, *job.plan.refit]
    return "brief" if len(steps) <= _FEW_STEPS else "lengthy" if len(steps) > _MANY_STEPS else "usual"


def _filled(name: str, values: dict[str, object]) -> Markup:
    return rendered(f"sections/{name}.html", **values)
