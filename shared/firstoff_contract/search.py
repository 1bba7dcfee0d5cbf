"""Search over symptoms, components, codes and models."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .common import Answer, Grounded

Kind = Literal["symptom", "component", "code", "model"]


class OutcomeHint(Answer):
    label: str
    speaks_for: list[str]
    rules_out: list[str]


class CheckHint(Answer):
    """A check that tells the faults of a symptom apart."""

    id: str
    label: str
    component: str | None
    live: bool
    minutes: float
    outcomes: list[OutcomeHint]


class FaultHint(Answer):
    id: str
    label: str
    models: list[str] = Field(description="The models whose faults these are; models of one platform share most.")
    component: str | None
    share: float = Field(description="Share among the faults of this symptom, by relative frequency, 0 to 1.")
    learned: float = Field(description="How much of the frequencies is learned from jobs, 0 to 1; the rest authored.")
    remedies: list[str]
    checks: list[CheckHint] = Field(description="Checks that speak for or against this fault.")


class Hit(Answer):
    kind: Kind
    id: str
    label: str = Field(description="What it is called in the language of the answer; in English where it has no name.")
    lang: str = Field(description="Language of `label`.")
    matched: str = Field(description="The name that matched.")
    ranges: list[tuple[int, int]] = Field(description="Character ranges of `matched` that met the query.")
    score: float
    models: list[str]
    faults: list[FaultHint] = Field(default=[], description="For symptoms: faults by relative frequency.")


class SearchAnswer(Grounded):
    query: str
    lang: str | None = Field(default=None, description="Language of the query, by what it met; null where unclear.")
    hits: list[Hit]
    note: str | None = Field(default=None, description="Said where nothing good was found.")
    suggestions: list[str] = Field(default=[], description="Words to try where nothing good was found.")


class CompletionNote(Answer):
    """A phrase that goes on from what is typed, and what it leads to."""

    text: str
    ranges: list[tuple[int, int]] = Field(description="Character ranges of `text` that are typed already.")
    lang: str | None = Field(description="Language of `text`; null for codes and numbers.")
    kind: Kind
    id: str
    label: str
    models: list[str]


class SuggestAnswer(Grounded):
    query: str
    completions: list[CompletionNote] = Field(description="Best first; one for each thing that is meant.")
