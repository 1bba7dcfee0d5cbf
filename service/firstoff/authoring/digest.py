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


def ontology_digest(folder: Path | None = None) -> str:
    """SHA-256 over names and bytes of the ontology's files, in hexadecimal digits."""
    digest = hashlib.sha256()
    for path in ontology_files(folder or ontology_folder()):
        content = path.read_bytes()
        digest.update(f"{path.name} {len(content)}\n".encode())
        digest.update(content)
    return digest.hexdigest()


def digest_of(content: bytes, ontology: str) -> str:
    """SHA-256, in hexadecimal digits, over a file's bytes and the digest of the ontology."""
    return hashlib.sha256(f"{ontology}\n".encode() + content).hexdigest()
