"""The job sheet and the picture of a plan: answers on paper.

``page(job)`` is the job sheet as one HTML page, ``picture(diagram)`` the removal graph of a request as SVG. Both are
pure: contract models and the read model in, text out. Every text of the content is escaped.
"""

from firstoff.sheet.diagram import Diagram, diagram_of
from firstoff.sheet.job import Job, Machine
from firstoff.sheet.page import page, page_style
from firstoff.sheet.picture import picture, picture_style
from firstoff.sheet.policy import content_security_policy

__all__ = [
    "Diagram",
    "Job",
    "Machine",
    "content_security_policy",
    "diagram_of",
    "page",
    "page_style",
    "picture",
    "picture_style",
]
