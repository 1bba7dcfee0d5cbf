"""One rule of authoring held against a text."""

from __future__ import annotations

from firstoff.authoring.check import Rule
from firstoff.authoring.draft import Draft, read_draft
from firstoff.authoring.findings import Problem
from firstoff.authoring.ontology import Ontology
from firstoff.authoring.turtle import read_turtle
from support.small_platform import NAME


def draft_of(turtle: str, ontology: Ontology, name: str = NAME) -> Draft:
    return read_draft(name, read_turtle(turtle, name), ontology)


def problems(rule: Rule, turtle: str, ontology: Ontology, name: str = NAME) -> list[Problem]:
    return list(rule(draft_of(turtle, ontology, name)))


def told(rule: Rule, turtle: str, ontology: Ontology, name: str = NAME) -> list[tuple[str, str | None]]:
    """Rule and resource of each problem, in order of their names."""
    return sorted(((each.rule, each.resource) for each in problems(rule, turtle, ontology, name)), key=str)
