"""The ontology, read once for all tests of authoring."""

from __future__ import annotations

import pytest

from firstoff.authoring.ontology import Ontology, load_ontology


@pytest.fixture(scope="session")
def ontology() -> Ontology:
    return load_ontology()
