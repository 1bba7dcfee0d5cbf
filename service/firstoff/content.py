"""Where the ontology, the demo data, the phone app and the shared context lie.

In a wheel they are inside the package (``firstoff/content``); in an editable install or a checkout they are at the
repository root.
"""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def _root() -> Path:
    packed = _PACKAGE / "content"
    return packed if packed.is_dir() else _PACKAGE.parents[1]


def ontology_folder() -> Path:
    """The folder that holds ``core.ttl``, ``shapes.ttl`` and ``vocabularies/``."""
    return _root() / "ontology"


def data_folder() -> Path:
    """The folder of the demo platforms, one Turtle file each, with ``checked.json`` beside them."""
    return _root() / "data"


def context_file() -> Path:
    """The JSON-LD context of the answers."""
    return _root() / "shared" / "context.jsonld"


def clients_folder() -> Path:
    """The folder that holds ``phone/``, the app, and ``javascript/``, the client that it uses."""
    return _root() / "clients"
