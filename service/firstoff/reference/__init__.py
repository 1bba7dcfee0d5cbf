"""The ontology as a page that a person can read.

``ontology_page(glossary)`` is one HTML page; it is pure: a glossary in, text out. Every text is escaped.
"""

from firstoff.reference.page import ontology_page, ontology_style

__all__ = ["ontology_page", "ontology_style"]
