"""pyagrum, loaded so that a warning of its binding cannot stop it."""

from __future__ import annotations

import warnings

with warnings.catch_warnings():
    # Python 3.11 warns of types that the binding makes; as an error the warning crashes the interpreter.
    warnings.simplefilter("ignore", DeprecationWarning)
    import pyagrum as gum

__all__ = ["gum"]
