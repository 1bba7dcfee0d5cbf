"""Methods made of questions: the same name, the same parameters, the same words; only how it is answered differs."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator
from typing import Any


def described(method: Callable[..., Any], question: Callable[..., Any], outside: str, gives: str) -> None:
    """Give ``method`` the name, docstring and parameters of ``question``, as ``help`` shows them.

    Its answer is what stands in ``outside[...]`` of the question's, written as ``gives`` says.
    """
    signature = inspect.signature(question)
    inside = str(signature.return_annotation).removeprefix(f"{outside}[").removesuffix("]").rpartition(", ")[2]
    first = inspect.Parameter("self", inspect.Parameter.POSITIONAL_ONLY)
    method.__name__ = method.__qualname__ = question.__name__
    method.__doc__ = question.__doc__
    method.__signature__ = signature.replace(  # type: ignore[attr-defined]
        parameters=[first, *signature.parameters.values()], return_annotation=gives.format(inside)
    )


def public(kind: type) -> Iterator[str]:
    """The names of the methods of a client that ask something."""
    return (name for name, value in vars(kind).items() if not name.startswith("_") and hasattr(value, "__signature__"))
