"""Digests of content and ontology, so that a changed file and a changed shape both ask for a new check.

This module and ``record`` import no RDF library: starting a service on checked content needs none of it.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

from firstoff.content import ontology_folder


def ontology_files(folder: Path) -> tuple[Path, ...]:
    """Core, shapes and vocabularies, in a fixed order."""
    return (folder / "core.ttl", folder / "shapes.ttl", *sorted((folder / "vocabularies").glob("*.ttl")))


def word_files(content: Path | None) -> tuple[Path, ...]:
    """The files of words that an organisation added beside its ``content``, in a fixed order."""
    return () if content is None else tuple(sorted((content / "words").glob("*.ttl")))


def ontology_digest(folder: Path | None = None, content: Path | None = None) -> str:
    """SHA-256, in hexadecimal digits, over names and bytes of the ontology's files and of the words of ``content``."""
    digest = hashlib.sha256()
    for path in (*ontology_files(folder or ontology_folder()), *word_files(content)):
        text = path.read_bytes()
        digest.update(f"{path.name} {len(text)}\n".encode())
        digest.update(text)
    return digest.hexdigest()


def digest_of(content: bytes, ontology: str) -> str:
    """SHA-256, in hexadecimal digits, over a file's bytes and the digest of the ontology."""
    return hashlib.sha256(f"{ontology}\n".encode() + content).hexdigest()
