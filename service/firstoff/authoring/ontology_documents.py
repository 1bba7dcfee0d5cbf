"""The ontology as RDF documents: core, shapes and vocabularies together."""

from __future__ import annotations

from pathlib import Path

from firstoff.authoring.digest import ontology_files
from firstoff.authoring.rdf_documents import RDF_TYPES, TURTLE, rdf_document
from firstoff.content import ontology_folder

__all__ = ["RDF_TYPES", "TURTLE", "ontology_document"]


def ontology_document(media_type: str, folder: Path | None = None) -> bytes:
    """The ontology of ``folder`` (the package's own unless given), always the same bytes for the same files.

    :raises KeyError: ``media_type`` is none of ``RDF_TYPES``.
    :raises ContentSyntax: a file cannot be parsed.
    :raises OSError: a file is not there.
    """
    texts = {path.name: path.read_text(encoding="utf-8") for path in ontology_files(folder or ontology_folder())}
    return rdf_document(texts, media_type)
