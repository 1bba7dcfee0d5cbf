"""The templates of the sheet: HTML and SVG by Jinja, everything put into them escaped, and the styles beside them."""

from __future__ import annotations

import re
from functools import cache
from importlib import resources
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from firstoff.sheet.words import sentence


def rendered(name: str, **values: Any) -> Markup:
    """The template ``name`` filled in. Every value is escaped, save what is ``Markup`` already."""
    return Markup(_environment().get_template(name).render(**values))


@cache
def text_of(name: str) -> Markup:
    """A file of the templates' folder that is ours as it stands, such as a style."""
    return Markup(resources.files("firstoff.sheet").joinpath("templates", name).read_text(encoding="utf-8"))


#: What may not stand in XML 1.0 (section 2.2), and so in no SVG.
_NOT_IN_XML = re.compile("[^\\t\\n\\r\\x20-\\ud7ff\\ue000-\\ufffd\\U00010000-\\U0010ffff]")


def _printable(value: Any) -> Any:
    """``value`` with a mark in place of every character that no document may hold."""
    if not isinstance(value, str):
        return value
    text = _NOT_IN_XML.sub("\ufffd", value)
    return Markup(text) if isinstance(value, Markup) else text


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=PackageLoader("firstoff.sheet", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_printable,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["sentence"] = sentence
    environment.filters["px"] = lambda length: f"{length:.1f}".removesuffix(".0")
    return environment
